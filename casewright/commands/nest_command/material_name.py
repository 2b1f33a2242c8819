"""What pieces and stock of one list have in common when they go together: material, thickness."""

from __future__ import annotations

from typing import NamedTuple

from casewright.commands.nest_command.cells import Cells, Reading
from casewright.intake.entry import LengthIn
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_length

THICKNESS = LengthIn(0.1, 500, "A thickness.")


class MaterialName(NamedTuple):
    """A material and its thickness in ticks; blank and 0 where a list does not tell them apart."""

    material: str = ""
    thickness: int = 0

    def serves(self, piece: MaterialName) -> bool:
        """Return whether stock of this material is for such pieces; blanks decide nothing."""
        alike = self.material.casefold() == piece.material.casefold()
        named = alike or not self.material or not piece.material
        thick = self.thickness == piece.thickness or not self.thickness or not piece.thickness
        return named and thick

    def shown(self, units: Units) -> str:
        """Return it as a person reads it; blank where there is nothing to tell."""
        thickness = show_length(to_mm(self.thickness), units) if self.thickness else ""
        return " ".join(word for word in (self.material, thickness) if word)


def read_material(cells: Cells, reading: Reading) -> MaterialName | None:
    """Return what the cells say; None after telling a fault."""
    material = cells.text("material")
    if material is None:
        return None
    if not cells.row.cells["thickness"]:
        return MaterialName(material)
    thickness = cells.length_mm("thickness", THICKNESS, reading.units)
    return None if thickness is None else MaterialName(material, reading.grid.piece(thickness))
