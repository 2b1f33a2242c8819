"""The list of offcuts at hand: what a build leaves in `shop/offcuts.csv`, or a list like it.

Columns `material` (a key of the libraries), `length`, which is along the grain, `width` and
`quantity`; `label`, what is written on the offcut, and `thickness` may be left out. The other
columns of that table, and of what `nest` leaves as stock, may stand there and say nothing here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from casewright.commands.nest_command.cells import Cells, Reading
from casewright.errors import Fault, InputErrors
from casewright.intake.csv_table import Columns, CsvFile, read_rows
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from casewright.stages.nested.offcut_stage import Offcut
from nesting.question.ticks import Grid
from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import SheetMaterial

COLUMNS = Columns(
    needed=("material", "length", "width", "quantity"),
    optional=(
        *("label", "thickness"),
        *("face_up", "stock", "sheet", "offcut", "x_mm", "y_mm", "area_m2", "price", "kind"),
    ),
    texts=("material", "label", "face_up", "stock", "sheet", "offcut", "kind"),
    known_as={
        "label": ("rack_label", "stock"),
        "length": ("length_mm", "length_in"),
        "width": ("width_mm", "width_in"),
        "thickness": ("thickness_mm", "thickness_in"),
    },
)
SIDE = LengthIn(1, 100_000, "A side of an offcut.")
THICKNESS = LengthIn(0.1, 1000, "A thickness.")
MOST_OFFCUTS = 100_000
_SAME_THICKNESS_MM = 0.001
"""Tables have three decimals."""


def read_offcuts(
    paths: Iterable[Path], materials: Iterable[SheetMaterial], units: Units
) -> tuple[Offcut, ...]:
    """Return the offcuts of all lists in their order; bare numbers count in `units`. Those of other
    materials than these are kept, under their names: a rack holds more than one job needs.

    Raises:
        InputErrors: a list cannot be used; all faults.
    """
    faults: list[Fault] = []
    reading = Reading(units, Grid(), faults)
    known = {material.key: material for material in materials}
    lines: dict[str, tuple[Path, int]] = {}
    found = [each for path in paths for each in _offcuts(path, known, lines, reading)]
    if faults:
        raise InputErrors(tuple(faults))
    return tuple(each for each in found if each.quantity)


def _offcuts(
    path: Path,
    known: Mapping[str, SheetMaterial],
    lines: dict[str, tuple[Path, int]],
    reading: Reading,
) -> Iterator[Offcut]:
    file = CsvFile(path, reading.faults)
    for row in read_rows(file, COLUMNS):
        if file.given_up:
            return
        cells = Cells(row, file)
        told = len(reading.faults)
        material = cells.some_name("material")
        label = _label(cells, lines)
        length = cells.length_mm("length", SIDE, reading.units)
        width = cells.length_mm("width", SIDE, reading.units)
        quantity = cells.whole("quantity", 0, MOST_OFFCUTS)
        if material is None or label is None or length is None or width is None:
            continue
        if material in known:
            _refuse_other(cells, known[material], label, reading.units)
        if quantity is None or len(reading.faults) > told:
            continue
        yield Offcut(
            material=material,
            label=label,
            length_mm=float(length),
            width_mm=float(width),
            quantity=quantity,
        )


def _label(cells: Cells, lines: dict[str, tuple[Path, int]]) -> str | None:
    """Return what is written on the offcut; where nothing is, the line that lists it."""
    if cells.row.cells["label"]:
        return cells.name("label", lines)
    label = f"{cells.file.path.stem} line {cells.row.line}"
    return label if lines.setdefault(label, (cells.file.path, cells.row.line)) else None


def _refuse_other(cells: Cells, material: SheetMaterial, label: str, units: Units) -> None:
    """Tell the faults of an offcut that is not what the material of its name is."""
    if label in {sheet.key for sheet in material.stock}:
        allowed = f"a label that no full sheet of {material.key} is called by"
        cells.fault("label", shown(label), allowed)
    if cells.row.cells["thickness"]:
        thickness = cells.length_mm("thickness", THICKNESS, units)
        if thickness is not None and (
            abs(float(thickness) - material.thickness_mm) > _SAME_THICKNESS_MM
        ):
            cells.fault(
                "thickness",
                show_length(float(thickness), units),
                f"{show_length(material.thickness_mm, units)}, the thickness of {material.key}",
            )
