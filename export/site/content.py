"""What stands on the papers for the site, apart from how it is set."""

from __future__ import annotations

from dataclasses import dataclass

from export.papers.blocks import Row
from export.svg.elements import Point2
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units

Line2 = tuple[Point2, Point2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """A label that points at a place of a picture."""

    label: str
    at: Point2


@dataclass(frozen=True, slots=True, kw_only=True)
class DrivenScrew:
    """A screw at its hole `at`, with its article's letter; `way` is the way that it is driven, as
    long as a unit length looks in the picture. `thread` leads from the hole to where the screw ends
    up, if parts are drawn apart. One that is not `seen` has its face turned away or behind others.
    """

    label: str
    at: Point2
    way: Point2
    seen: bool
    thread: Line2 | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPicture:
    """Lines of a step in millimetres of the set, y up: new parts, earlier ones, lengths to mark;
    walls and floor with their names; beads of adhesive; the ways of parts as arrows, and threads
    from where parts and screws are drawn to their places. `frame` is what has to be seen; lines
    go on beyond it as far as there is room.
    """

    new: tuple[Line2, ...]
    earlier: tuple[Line2, ...]
    marks: tuple[Line2, ...]
    callouts: tuple[Callout, ...]
    room: tuple[Line2, ...] = ()
    names: tuple[tuple[str, Point2], ...] = ()
    beads: tuple[Line2, ...] = ()
    ways: tuple[Line2, ...] = ()
    threads: tuple[Line2, ...] = ()
    screws: tuple[DrivenScrew, ...] = ()
    caption: str = ""
    frame: Bounds | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSheet:
    """One step, with a picture for each view of it. Rows: parts (count, number, names), fasteners
    (letter, count, article), marks (label, what, length).
    """

    title: str
    people: int
    pictures: tuple[StepPicture, ...]
    work: tuple[str, ...]
    parts: tuple[Row, ...]
    fasteners: tuple[Row, ...]
    marks: tuple[Row, ...]
    tools: tuple[str, ...]
    checks: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSheets:
    """The installation sheets of one set in one hand; kit rows: letter, packed, of which spare,
    article. `before` is what is done before the first step, `effort` screws and hours in words,
    `stands` what each unit covers of the floor.
    """

    job: str
    set_name: str
    hand: Hand
    effort: str
    before: tuple[str, ...]
    steps: tuple[StepSheet, ...]
    kit: tuple[Row, ...]
    stands: tuple[Bounds, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockingZone:
    """Where a wall needs something that screws hold in, in the elevation's millimetres (y up)."""

    label: str
    area: Bounds
    screws: tuple[Point2, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WallElevation:
    """One wall seen from the room: x along it with the corner at 0, y up from the finished floor.

    `wanted` says what it must have, `cautions` what to mind about it. `across` and `heights` are
    the zones' edges as running dimensions, from corner and floor. Rows: label, from the corner,
    above the floor, the size of the block or, in a wall without, where each screw is, from the
    corner and above the floor, screws, load on one.
    """

    title: str
    wanted: tuple[str, ...]
    cautions: tuple[str, ...]
    wants_blocking: bool
    zones: tuple[BlockingZone, ...]
    across: tuple[tuple[float, str], ...]
    heights: tuple[tuple[float, str], ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockingPlan:
    """What the walls need before the set comes, for one set in one hand and the rooms that have it.
    `rounded` is to what lengths are rounded, `units` are those of the job, `stands` is as in
    `SetSheets`.
    """

    job: str
    set_name: str
    hand: Hand
    rooms: tuple[str, ...]
    rounded: str
    units: Units
    walls: tuple[WallElevation, ...]
    stands: tuple[Bounds, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPage:
    """The page of one room. `record` is what its square code says, `effort` screws and hours. Rows
    of `marks`: step, what, in this room, on the sheets of its set; without `measured` nobody knows
    whether the set goes in; `without_wood` has a wall screw that meets none.
    `stands` is as in `SetSheets`.
    """

    room: str
    set_name: str
    hand: Hand
    effort: str
    refusal: str
    measured: bool
    without_wood: bool
    facts: tuple[Row, ...]
    marks: tuple[Row, ...]
    unknown: tuple[str, ...]
    kit: tuple[Row, ...]
    record: str
    stands: tuple[Bounds, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PickList:
    """What the store packs: for each set and hand its rooms and rows of packed, in all, article."""

    job: str
    sets: tuple[tuple[str, int, tuple[Row, ...]], ...]
