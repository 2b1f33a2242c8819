"""What stands on the papers for the site, apart from how it is set."""

from __future__ import annotations

from dataclasses import dataclass

from export.svg.elements import Point2
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """A label that points at a place of a picture."""

    label: str
    at: Point2


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPicture:
    """Lines of a step in millimetres of the set, y up: new parts, earlier ones, lengths to mark."""

    new: tuple[tuple[Point2, ...], ...]
    earlier: tuple[tuple[Point2, ...], ...]
    marks: tuple[tuple[Point2, Point2], ...]
    callouts: tuple[Callout, ...]


Row = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSheet:
    """One step. Rows: parts (count, number, names), fasteners (count, article), marks (label, what,
    length).
    """

    title: str
    people: int
    picture: StepPicture
    parts: tuple[Row, ...]
    fasteners: tuple[Row, ...]
    marks: tuple[Row, ...]
    tools: tuple[str, ...]
    checks: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSheets:
    """The installation sheets of one set in one hand; kit rows: packed, of which spare, article."""

    job: str
    set_name: str
    hand: Hand
    steps: tuple[StepSheet, ...]
    kit: tuple[Row, ...]


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
    `rounded` is to what lengths are rounded.
    """

    job: str
    set_name: str
    hand: Hand
    rooms: tuple[str, ...]
    rounded: str
    walls: tuple[WallElevation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPage:
    """The page of one room. `record` is what its square code says. Rows of `marks`: step, what, in
    this room, on the sheets of its set; without `measured` nobody knows whether the set goes in.
    """

    room: str
    set_name: str
    hand: Hand
    refusal: str
    measured: bool
    facts: tuple[Row, ...]
    marks: tuple[Row, ...]
    unknown: tuple[str, ...]
    kit: tuple[Row, ...]
    record: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PickList:
    """What the store packs: for each set and hand its rooms and rows of packed, in all, article."""

    job: str
    sets: tuple[tuple[str, int, tuple[Row, ...]], ...]
