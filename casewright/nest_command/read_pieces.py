"""The file of pieces: what is to be cut.

Columns `piece`, `length`, `width`, `quantity` and `turn` (yes or no: whether the piece may lie
turned by a quarter, against the sheet's length); `group` and `priority` may be left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from casewright.intake.csv_table import Columns, CsvFile, read_rows
from casewright.intake.entry import LengthIn
from casewright.nest_command.cells import Cells, Reading
from nesting.instance import Piece, Turn

COLUMNS = Columns(
    needed=("piece", "length", "width", "quantity", "turn"),
    optional=("group", "priority"),
    texts=("piece", "group"),
)
SIDE = LengthIn(0.1, 100_000, "A side of a piece.")
MOST_COPIES = 1_000_000
MOST_IN_ALL = 10_000_000  # more than a works cuts in years; an answer has a row for each on a sheet
MOST_PRIORITY = 1000
_TURNS = {"yes": Turn.QUARTER, "no": Turn.FIXED}


class PieceRow(NamedTuple):
    """A piece, and the line it stands in."""

    line: int
    piece: Piece


def read_pieces(path: Path, reading: Reading) -> tuple[PieceRow, ...]:
    """Return the pieces in the order of the file, after telling its faults to `reading`."""
    return tuple(_pieces(CsvFile(path, reading.faults), reading))


def _pieces(file: CsvFile, reading: Reading) -> Iterator[PieceRow]:
    lines: dict[str, int] = {}
    in_all = 0
    for row in read_rows(file, COLUMNS):
        if file.given_up:
            return
        cells = Cells(row, file)
        name = cells.name("piece", lines)
        length = cells.length_mm("length", SIDE, reading.units)
        width = cells.length_mm("width", SIDE, reading.units)
        quantity = cells.whole("quantity", 1, MOST_COPIES)
        turn = cells.word("turn", tuple(_TURNS))
        group = cells.text("group")
        priority = cells.whole("priority", 0, MOST_PRIORITY, blank="0")
        if (
            name is None
            or length is None
            or width is None
            or quantity is None
            or turn is None
            or group is None
            or priority is None
        ):
            continue
        in_all += quantity
        if in_all > MOST_IN_ALL:
            found = f"{in_all} pieces up to this row"
            cells.fault("quantity", found, f"at most {MOST_IN_ALL} in a list")
            return
        piece = Piece(
            id=name,
            length=reading.grid.piece(length),
            width=reading.grid.piece(width),
            quantity=quantity,
            turn=_TURNS[turn],
            group=group,
            priority=priority,
        )
        yield PieceRow(row.line, piece)
