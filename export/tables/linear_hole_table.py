"""The holes of linear stock, one line for each: what a person at a drill press reads."""

from __future__ import annotations

from export.tables.csv_text import csv_text, fixed
from parametric.lists.bar_catalogue import FLAT_LEG, NARROW_FACE, WIDE_FACE
from parametric.lists.cut_list import BarHole, BarPart, CutList
from parametric.stock.lengths import Units, show_length

COLUMNS = (
    "part",
    "description",
    "quantity",
    "face",
    "from_left_end_mm",
    "across_mm",
    "across_from",
    "diameter_mm",
    "from_left_end",
    "across",
)

_ACROSS_FROM = {
    WIDE_FACE: "narrow face nearer to you",
    NARROW_FACE: "wide face that lies down",
    FLAT_LEG: "heel",
}

# Without it, nobody knows which end is the left one.
_HOW_THE_BAR_LIES = {
    WIDE_FACE: "bar flat on a wide face",
    NARROW_FACE: "bar flat on a wide face",
    FLAT_LEG: "flat leg on top, upright leg away from you",
}


def linear_holes_csv(cut_list: CutList, units: Units) -> str:
    """Return the holes of all cleats and angles as CSV: bar by bar, face by face, left to right.

    All holes go right through. `quantity` is the number of bars, each with this hole.
    `across_from` also says how the bar lies. The last two columns are in the job's units.

    Raises:
        KeyError: a hole is in a face that is not known.
    """
    return csv_text(
        COLUMNS, (_row(bar, hole, units) for bar in cut_list.bars for hole in bar.holes)
    )


def across_from(face: str) -> str:
    """Return what distances across the face are measured from.

    Raises:
        KeyError: the face is not known.
    """
    return _ACROSS_FROM[face]


def how_it_lies(face: str) -> str:
    """Return how a bar lies while a face is drilled.

    Raises:
        KeyError: the face is not known.
    """
    return _HOW_THE_BAR_LIES[face]


def _row(bar: BarPart, hole: BarHole, units: Units) -> tuple[object, ...]:
    return (
        bar.number,
        bar.description,
        bar.quantity,
        hole.face,
        fixed(hole.from_end_mm),
        fixed(hole.across_mm),
        f"{across_from(hole.face)} ({how_it_lies(hole.face)})",
        fixed(hole.diameter_mm),
        show_length(hole.from_end_mm, units),
        show_length(hole.across_mm, units),
    )
