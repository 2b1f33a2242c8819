"""What the drawings of a set show, apart from how they are drawn. Views are in millimetres of the
set as it is seen, y up; what is measured from is their origin.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from export.papers.blocks import Row
from export.site.content import Callout, Line2
from export.svg.elements import Point2
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds


class Filled(Enum):
    """How the cut face of a part is hatched: boards and bars that touch differ."""

    RISING = "rising"
    FALLING = "falling"
    STEEL = "steel"


@dataclass(frozen=True, slots=True)
class CutFace:
    """The face that a section makes of a part: boxes that touch, seen square."""

    boxes: tuple[Bounds, ...]
    filled: Filled


@dataclass(frozen=True, slots=True)
class Plane:
    """Where a section is cut: its letter, the line of the cut, and the unit vector it is looked
    along.
    """

    letter: str
    line: Line2
    looking: Point2


@dataclass(frozen=True, slots=True, kw_only=True)
class SetView:
    """A view with sizes. `along` and `across` are the places that are told from the origin: level
    and upright; `box` is what is measured over all, the origin in it but in a section. `hidden`
    lines are drawn as such where `lines` do not cover them. A view that is not `from_corner` is
    broken off at its box, and has no sizes over all.
    """

    title: str
    lines: tuple[Line2, ...]
    hidden: tuple[Line2, ...] = ()
    box: Bounds
    along: tuple[Point2, ...]
    across: tuple[Point2, ...]
    walls: tuple[tuple[str, Line2], ...] = ()
    faces: tuple[CutFace, ...] = ()
    planes: tuple[Plane, ...] = ()
    from_corner: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedView:
    """A view without sizes, its parts numbered; `threads` lead from parts to their places."""

    title: str
    lines: tuple[Line2, ...]
    numbers: tuple[Callout, ...]
    threads: tuple[Line2, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitApart:
    """A unit taken apart, with the list of its parts: count, number, name, material, size."""

    name: str
    view: NumberedView
    parts: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionsOfTie:
    """The sections at a steel angle: along it, and across it where it runs through boards; `sizes`
    are those that must hold for it to go in.
    """

    name: str
    along: SetView
    across: tuple[SetView, ...]
    sizes: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetDrawings:
    """All drawings of a set in one hand."""

    job: str
    set_name: str
    hand: Hand
    rooms: tuple[str, ...]
    plan: SetView
    elevations: tuple[SetView, ...]
    whole: NumberedView
    ties: tuple[SectionsOfTie, ...]
    units: tuple[UnitApart, ...]
