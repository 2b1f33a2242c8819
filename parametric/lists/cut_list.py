"""The cut list: parts merged over all sets and rooms by identity, with stable numbers."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from enum import StrEnum

from parametric.geometry.hand import Hand
from parametric.geometry.space import Point
from parametric.shapes.panel import Edge, Face, FlatPanel
from parametric.stock.materials import EdgeBand, SheetMaterial
from parametric.stock.origin import Origin


class PartHand(StrEnum):
    """The hand a part belongs to; symmetric parts serve either."""

    EITHER = "either"
    RIGHT = "right"
    LEFT = "left"


def part_hand(hands: Collection[Hand], own_mirror_image: Callable[[], bool]) -> PartHand:
    """Return the hand of a part that is used in the given hands of sets: either, if in both or if
    the part is its own mirror image.
    """
    if len(hands) == len(Hand) or own_mirror_image():
        return PartHand.EITHER
    (hand,) = hands
    return PartHand(hand.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeBanding:
    """A band on one edge of a part."""

    edge: Edge
    band: EdgeBand


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One cut-list line: a panel in its cut size, lying as it is machined first (face UP).

    `front` is the face of the lying panel that is the board's front: the good face of a material
    that has only one.
    """

    number: str
    description: str
    units: tuple[str, ...]
    hand: PartHand
    material: SheetMaterial
    panel: FlatPanel
    finished_length_mm: float
    finished_width_mm: float
    banding: tuple[EdgeBanding, ...]
    front: Face
    show_faces: tuple[Face, ...]
    quantity: int
    mass_kg: float

    @property
    def two_sided(self) -> bool:
        """Whether both faces carry blind features, so that a second operation is needed."""
        return len(self.panel.faces_worked()) == 2


@dataclass(frozen=True, slots=True, kw_only=True)
class BarHole:
    """A hole in linear stock: its distance from the left end and across the drilled face."""

    face: str
    from_end_mm: float
    across_mm: float
    diameter_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPart:
    """One line of the linear cut list: a cleat or a steel angle, with its drill positions.

    `material_name` is what people call its material, `material` its key; `stock_length_mm` is the
    length that it is bought in, `stock_origin` where a job's
    files say so; `kerf_mm` is what the blade for it takes, None for that of the saw. `section_mm`
    are thickness and width of a cleat, leg and thickness of an angle.
    """

    number: str
    description: str
    units: tuple[str, ...]
    hand: PartHand
    material: str
    material_name: str
    profile: str
    length_mm: float
    stock_length_mm: float
    holes: tuple[BarHole, ...]
    quantity: int
    mass_kg: float
    kerf_mm: float | None = None
    section_mm: tuple[float, float] = (0.0, 0.0)
    stock_origin: Origin | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUse:
    """Where one part stands in one set: its panel frame placed in the room by a proper motion.

    `origin` is where the panel frame's origin (face DOWN, lower-left corner) lies; `x_axis` and
    `z_axis` are unit vectors of the panel's length and of its face UP.
    """

    set_name: str
    hand: Hand
    board: str
    number: str
    origin: Point
    x_axis: Point
    z_axis: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """All parts of a job, in the order of their numbers, and where each is used."""

    parts: tuple[Part, ...]
    bars: tuple[BarPart, ...]
    uses: tuple[PartUse, ...]
