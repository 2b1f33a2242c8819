"""The schedule as it is known so far, to be filled in on site and read back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from casewright.intake.read_schedule import (
    BLOCKING,
    COLUMNS,
    FLOOR,
    HAND,
    LENGTHS,
    NO_BLOCKING,
    OUT_OF_SQUARE,
    ROOM,
    SET,
    SIDE_BLOCKING,
)
from casewright.job import Job, Room
from casewright.stages.sets.used_sets import placed_sets
from export.store.measuring import MeasuringSheet
from export.tables.csv_text import csv_text
from parametric.rooms.asked import asked_of
from parametric.rooms.measured import Range
from parametric.stock.lengths import Units, write_length

MEANINGS: Mapping[str, str] = {
    **{column: length.meaning.removesuffix(".") for column, length in LENGTHS.items()},
    OUT_OF_SQUARE: "How far the side wall is out of square, in 1000 from the corner; + where that"
    " is wider than 90 degrees",
    BLOCKING: "Heights of blocking in the head wall",
    SIDE_BLOCKING: "Heights of blocking in the side wall",
}
_RANGES_LIKE = {
    Units.INCH: ", as 6 to 10; 38 to 43, or none",
    Units.MM: ", as 150 to 250; 965 to 1090, or none",
}
_LIKE = {Units.INCH: "1 1/2", Units.MM: ""}


def measuring_csv(rooms: Iterable[Room], units: Units) -> str:
    """Return the schedule with what is known, which `read_schedule` reads as these rooms."""
    return csv_text(COLUMNS, (_row(room, units) for room in rooms))


def _meaning(column: str, units: Units) -> str:
    """Return what a column means, with how ranges are written."""
    like = _RANGES_LIKE[units] if column in {BLOCKING, SIDE_BLOCKING} else ""
    return f"{MEANINGS[column]}{like}"


def measuring_sheets(job: Job) -> Iterator[MeasuringSheet]:
    """Yield the sheet of each room: what its set asks for, and what somebody measured all the same.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
    """
    asked = {key: asked_of(room_set) for key, room_set in placed_sets(job).items()}
    for room in job.rooms:
        cells = dict(zip(COLUMNS, _row(room, job.units), strict=True))
        of_set = asked[room.set_name, room.hand]
        rows = tuple(
            (column, _meaning(column, job.units), cells[column])
            for column in MEANINGS
            if cells[column] or not of_set.isdisjoint({f"{column}_mm", f"{column}_per_1000"})
        )
        yield MeasuringSheet(room=room.number, set_name=room.set_name, hand=room.hand, rows=rows)


def _row(room: Room, units: Units) -> tuple[str, ...]:
    measured = room.measured
    cells = {ROOM: room.number, SET: room.set_name, HAND: str(room.hand), FLOOR: room.floor}
    for column in LENGTHS:
        length_mm = getattr(measured, f"{column}_mm")
        cells[column] = "" if length_mm is None else _length(length_mm, units)
    per_1000 = measured.corner_out_of_square_per_1000
    cells[OUT_OF_SQUARE] = "" if per_1000 is None else f"{per_1000:g}"
    cells[BLOCKING] = _ranges(measured.blocking_mm, units)
    cells[SIDE_BLOCKING] = _ranges(measured.side_blocking_mm, units)
    return tuple(cells[column] for column in COLUMNS)


def _ranges(ranges: tuple[Range, ...] | None, units: Units) -> str:
    if ranges is None:
        return ""
    told = (f"{_length(low, units)} to {_length(high, units)}" for low, high in ranges)
    return "; ".join(told) or NO_BLOCKING


def _length(length_mm: float, units: Units) -> str:
    return write_length(length_mm, units, _LIKE[units])
