"""What the summary page shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from export.tables.yield_table import YieldRow
from nesting.linear.bar_nest import BarNest
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import ToldFinding
from parametric.geometry.hand import Hand
from parametric.lists.cut_list import CutList
from parametric.lists.left_out import LeftOut
from parametric.stock.lengths import Units

SetKey = tuple[str, Hand]
"""Name and hand of a set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomCount:
    """How many rooms get one set in one hand."""

    set_name: str
    hand: Hand
    rooms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture as SVG text, with its caption."""

    caption: str
    svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPictures:
    """The pictures of one set in one hand; the plan of the hand is added by the page."""

    set_name: str
    hand: Hand
    pictures: tuple[Picture, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetMap:
    """The map of one layout as SVG text, and where its DXF stands in the output folder."""

    material: str
    file: str
    svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomLine:
    """A room of the schedule and the set that it gets; `floor` is blank where nobody named one."""

    number: str
    floor: str
    set_name: str
    hand: Hand


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedPart:
    """A part of a set that can be turned: `number` on the cut list, blank for what is bought, and
    `name` in the set. `points` are x, y, z of each corner in whole millimetres of the room frame,
    `triangles` three indices of corners each, counter-clockwise as seen from outside.
    """

    number: str
    name: str
    points: tuple[int, ...]
    triangles: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedSet:
    """A set in one hand as the page lets people turn it."""

    set_name: str
    hand: Hand
    parts: tuple[TurnedPart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SummaryContent:
    """One job, from schedule to sheets. `currency` is shown beside prices as it is given; `papers`
    are paths of the papers from where the page lies. Nothing of `left_out` is on any sheet.
    `sets_of` tells which sets have a part or bar, by its number.
    """

    job: str
    units: Units
    currency: str
    rooms: tuple[RoomCount, ...]
    findings: tuple[ToldFinding, ...]
    sets: tuple[SetPictures, ...]
    sheet_maps: tuple[SheetMap, ...]
    yield_rows: tuple[YieldRow, ...]
    cut_list: CutList
    bar_nests: tuple[BarNest, ...] = ()
    papers: tuple[str, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    not_checked: tuple[NotChecked, ...] = ()
    schedule: tuple[RoomLine, ...] = ()
    sets_of: Mapping[str, tuple[SetKey, ...]] = field(default_factory=dict)
    turned: tuple[TurnedSet, ...] = ()
