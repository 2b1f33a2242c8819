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
from casewright.job import Room
from export.papers.blocks import Row
from export.store.measuring import MeasuringSheet
from export.tables.csv_text import csv_text
from parametric.rooms.measured import Range
from parametric.stock.lengths import Units, write_length

MEANINGS: Mapping[str, str] = {
    **{column: length.meaning.removesuffix(".") for column, length in LENGTHS.items()},
    OUT_OF_SQUARE: "Side wall, out of 1000 (wider than 90 degrees: +)",
    BLOCKING: "Blocking in the head wall, from where to where above the floor",
    SIDE_BLOCKING: "Side wall, in the same way",
}
_RANGES_LIKE = {
    Units.INCH: ": 6 to 10; 38 to 43, or none",
    Units.MM: ": 150 to 250; 965 to 1090, or none",
}
_LIKE = {Units.INCH: "1 1/2", Units.MM: ""}


def measuring_csv(rooms: Iterable[Room], units: Units) -> str:
    """Return the schedule with what is known, which `read_schedule` reads as these rooms."""
    return csv_text(COLUMNS, (_row(room, units) for room in rooms))


def _meaning(column: str, units: Units) -> str:
    """Return what a column means, with how ranges are written."""
    like = _RANGES_LIKE[units] if column == BLOCKING else ""
    return f"{MEANINGS[column]}{like}"


def measuring_sheets(rooms: Iterable[Room], units: Units) -> Iterator[MeasuringSheet]:
    """Yield the sheet of each room."""
    for room in rooms:
        cells = dict(zip(COLUMNS, _row(room, units), strict=True))
        rows: tuple[Row, ...] = tuple(
            (column, _meaning(column, units), cells[column]) for column in MEANINGS
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
