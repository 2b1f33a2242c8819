"""The room schedule: a CSV file with a row for each room.

Columns `room`, `set` and `hand` are needed; every measured value has a column that may be left
out, and a cell that may be left blank.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from casewright.errors import Fault
from casewright.intake.csv_table import Columns, CsvFile, Row, number_in, read_rows
from casewright.intake.document import Blame, shown
from casewright.intake.entry import LengthIn
from casewright.intake.nearest import one_of
from casewright.job import Room
from parametric.geometry.hand import Hand
from parametric.rooms.measured import Measured, Range
from parametric.stock.lengths import LengthError, Units

ROOM, SET, HAND, FLOOR = "room", "set", "hand", "floor"
NEEDED = (ROOM, SET, HAND)
OUT_OF_SQUARE = "corner_out_of_square"
MOST_OUT_OF_SQUARE = 50.0  # thousandths; 3 degrees, more than any wall that was meant to be square
LENGTHS: Mapping[str, LengthIn] = {
    "opening_at_floor": LengthIn(300, 20_000, "Along the head wall, clear, at the floor."),
    "opening_at_seat": LengthIn(300, 20_000, "Along the head wall, clear, at the seat."),
    "opening_at_panel": LengthIn(300, 20_000, "Along the head wall, clear, at the panel."),
    "side_opening": LengthIn(300, 20_000, "Along the side wall, clear, from the corner."),
    "floor_width": LengthIn(300, 20_000, "Clear floor along the head wall."),
    "floor_depth": LengthIn(300, 20_000, "Clear floor out from the head wall."),
    "floor_high": LengthIn(-200, 200, "Highest point of the floor, above the level."),
    "floor_low": LengthIn(-200, 200, "Lowest point of the floor, above the level."),
    "wall_base_height": LengthIn(0, 400, "Height of the wall base."),
    "wall_base_thickness": LengthIn(0, 80, "Thickness of the wall base."),
    "first_stud": LengthIn(0, 2000, "From the corner to the centre of a stud."),
    "stud_spacing": LengthIn(150, 1300, "From the centre of a stud to the next."),
    "wall_lining": LengthIn(0, 150, "Thickness of the lining of the walls."),
}
BLOCKING, SIDE_BLOCKING = "blocking", "side_blocking"
NO_BLOCKING = "none"
_BLOCKING_AT = LengthIn(0, 4000, "Height of an edge of blocking.")
_BLOCKING_FORM = "heights from the floor such as 10 to 14; 36 to 40, from low to high, or none"
COLUMNS = (*NEEDED, FLOOR, *LENGTHS, OUT_OF_SQUARE, BLOCKING, SIDE_BLOCKING)
_LONGEST_ROOM = 20
_SHORT = f"at most {_LONGEST_ROOM} characters, since labels and lists show it large"
_READ = Columns(
    needed=NEEDED,
    optional=(FLOOR, *LENGTHS, OUT_OF_SQUARE, BLOCKING, SIDE_BLOCKING),
    texts=(*NEEDED, FLOOR, BLOCKING, SIDE_BLOCKING),
)


def read_schedule(
    path: Path,
    units: Units | None,
    set_names: Collection[str],
    faults: list[Fault],
    blame: Blame,
) -> tuple[Room, ...]:
    """Return the rooms in the order of the file, after adding its faults; faulty rows are left out.

    Bare numbers count in `units`; without units lengths are checked for their form only. `blame`
    makes the fault of a file that cannot be opened, see `read_text`.
    """
    file = CsvFile(path, faults)
    rows = read_rows(file, _READ, blame)
    return tuple(_rooms(rows, units, set_names, file))


def _rooms(
    rows: Iterable[Row],
    units: Units | None,
    set_names: Collection[str],
    sheet: CsvFile,
) -> Iterator[Room]:
    lines: dict[str, int] = {}
    rows = list(rows)
    _unknown_sets([(row.line, row.cells[SET]) for row in rows], set_names, sheet)
    for line, cells, *_ in rows:
        if sheet.given_up:
            return
        number = _number(cells[ROOM], line, lines, sheet)
        hand = _hand(cells[HAND], line, sheet)
        measured = _measured(cells, units, line, sheet)
        floor = _floor(cells.get(FLOOR, ""), line, sheet)
        if number is not None and cells[SET] in set_names and hand is not None:
            yield Room(
                number=number, set_name=cells[SET], hand=hand, measured=measured, floor=floor
            )


def _unknown_sets(named: list[tuple[int, str]], set_names: Collection[str], sheet: CsvFile) -> None:
    """Tell each unknown set once, in the first line that names it."""
    lines: dict[str, list[int]] = {}
    for line, name in named:
        if name not in set_names:
            lines.setdefault(name, []).append(line)
    for name, where in lines.items():
        rows = f", in {len(where)} rows" if len(where) > 1 else ""
        allowed = one_of(set_names, name, what="sets")
        sheet.fault(where[0], SET, f"{shown(name)}{rows}", allowed)


def _number(text: str, line: int, lines: dict[str, int], sheet: CsvFile) -> str | None:
    if not text or len(text) > _LONGEST_ROOM or not text.isprintable():
        sheet.fault(line, ROOM, shown(text), f"a number or name, {_SHORT}")
        return None
    first = lines.setdefault(text, line)
    if first != line:
        sheet.fault(
            line, ROOM, f"{shown(text)} a second time (first in line {first})", "each room once"
        )
        return None
    return text


def _floor(text: str, line: int, sheet: CsvFile) -> str:
    if len(text) > _LONGEST_ROOM or not text.isprintable():
        sheet.fault(line, FLOOR, shown(text), f"a name, {_SHORT}")
        return ""
    return text


def _hand(text: str, line: int, sheet: CsvFile) -> Hand | None:
    hands = {str(hand): hand for hand in Hand}
    if text not in hands:
        sheet.fault(line, HAND, shown(text), one_of(hands, text, what="hands"))
    return hands.get(text)


def _measured(cells: Mapping[str, str], units: Units | None, line: int, sheet: CsvFile) -> Measured:
    lengths_mm: dict[str, Any] = {}
    for column, allowed in LENGTHS.items():
        if text := cells.get(column, ""):
            try:
                lengths_mm[f"{column}_mm"] = allowed.read(text, units)
            except LengthError as problem:
                sheet.fault(line, column, problem.found, problem.allowed)
    high, low = lengths_mm.get("floor_high_mm"), lengths_mm.get("floor_low_mm")
    if high is not None and low is not None and low > high:
        found = f"{shown(cells['floor_low'])} above floor_high ({cells['floor_high']})"
        sheet.fault(line, "floor_low", found, "at most floor_high")
    per_1000 = _out_of_square(cells.get(OUT_OF_SQUARE, ""), line, sheet)
    return Measured(
        corner_out_of_square_per_1000=per_1000,
        blocking_mm=_blocking(cells.get(BLOCKING, ""), BLOCKING, units, line, sheet),
        side_blocking_mm=_blocking(cells.get(SIDE_BLOCKING, ""), SIDE_BLOCKING, units, line, sheet),
        **lengths_mm,
    )


def _blocking(
    text: str, column: str, units: Units | None, line: int, sheet: CsvFile
) -> tuple[Range, ...] | None:
    """Return the heights between which there is blocking; None where the cell is blank."""
    if not text:
        return None
    ranges: list[Range] = []
    for each in () if text == NO_BLOCKING else text.split(";"):
        try:
            edges = [_BLOCKING_AT.read(edge.strip(), units) for edge in each.split(" to ")]
        except LengthError as problem:
            sheet.fault(line, column, problem.found, problem.allowed)
            return None
        low, high = edges[0], edges[-1]
        if len(edges) > 2 or low >= high:
            sheet.fault(line, column, shown(each.strip()), _BLOCKING_FORM)
            return None
        ranges.append((low, high))
    return tuple(ranges)


def _out_of_square(text: str, line: int, sheet: CsvFile) -> float | None:
    if not text:
        return None
    per_1000 = number_in(text)
    if per_1000 is None or abs(per_1000) > MOST_OUT_OF_SQUARE:
        most = f"{MOST_OUT_OF_SQUARE:g}"
        allowed = f"a number from -{most} to {most}, in thousandths of the length of the side wall"
        sheet.fault(line, OUT_OF_SQUARE, shown(text), allowed)
        return None
    return per_1000
