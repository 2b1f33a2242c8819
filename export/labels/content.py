"""What stands on a label, apart from how it is set and what it is printed on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from parametric.geometry.outline import Bounds, Vertex
from parametric.shapes.panel import Edge, Face


class LabelKind(StrEnum):
    """What a label is stuck on."""

    SHEET = "sheet"
    PART = "part"
    OFFCUT = "offcut"
    BUNDLE = "bundle"
    BOX = "box"


Path = tuple[Vertex, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPicture:
    """A part as its DXF has it, millimetres. `banded` edges are drawn thick and numbered; `top` is
    the edge that ends up above, or the face that does.
    """

    outlines: tuple[Path, ...]
    openings: tuple[Path, ...] = ()
    grain: bool = False
    banded: tuple[Edge, ...] = ()
    top: Edge | Face | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPicture:
    """A sheet of this length and width with what is cut from it, or of it, millimetres."""

    length_mm: float
    width_mm: float
    boxes: tuple[Bounds, ...]


LabelPicture = PartPicture | SheetPicture


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label; what does not apply is empty. `number` is what it is called by, `unit` what it is
    for in its `room`, and `piece` what the shop joins it to. Panels that other programs drew have
    no room, and their own name for a unit.

    `layout` names the layout as its file is named, `run` is the sheet among the `runs` cut like it,
    and `order` the place in the order of cutting. `notes` say more in a few words, `record` is
    what the square code says.
    """

    kind: LabelKind
    number: str
    name: str
    record: str
    quantity: int = 1
    unit: str = ""
    room: str = ""
    piece: str = ""
    size: str = ""
    material: str = ""
    layout: str = ""
    run: str = ""
    runs: str = ""
    order: str = ""
    grain: str = ""
    bands: str = ""
    second_operation: str = ""
    notes: str = ""
    picture: LabelPicture | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelBook:
    """All labels of a job: those of each material by the name of its file, in the order of work,
    those of what is cut from bars, and those of the rooms' boxes.
    """

    materials: tuple[tuple[str, tuple[Label, ...]], ...] = ()
    bars: tuple[Label, ...] = ()
    boxes: tuple[Label, ...] = ()

    @property
    def labels(self) -> tuple[Label, ...]:
        """All of them."""
        of_sheets = (label for _, labels in self.materials for label in labels)
        return (*of_sheets, *self.bars, *self.boxes)
