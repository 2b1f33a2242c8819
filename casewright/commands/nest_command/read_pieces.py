"""The list of pieces: what is to be cut.

Columns `piece`, `length`, `width`, `quantity` and `turn` (yes or no: whether the piece may lie
turned by a quarter, against the sheet's length); `group`, `priority`, `spare` (per cent more),
`material` and `thickness` may be left out. Each is known by a few names, those of our own cut list
among them, and an option tells of others. Further columns are carried along.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import NamedTuple

from casewright.commands.nest_command.cells import Cells, Reading
from casewright.commands.nest_command.item_types import PieceRow
from casewright.commands.nest_command.material_name import MaterialName, read_material
from casewright.intake.csv_table import Columns, CsvFile, Further, Row, read_rows
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from nesting.question.instance import Turn

NEEDED = ("piece", "length", "width", "quantity", "turn")
OPTIONAL = ("group", "priority", "spare", "material", "thickness")
KNOWN_AS = {
    "piece": ("part",),
    "length": ("length_mm", "length_in", "cut_length_mm"),
    "width": ("width_mm", "width_in", "cut_width_mm"),
    "thickness": ("thickness_mm", "thickness_in"),
    "turn": ("grain",),
    "group": ("room",),
}
"""Other names of columns. A unit in the name is that of its bare numbers."""
SIDE = LengthIn(0.1, 100_000, "A side of a piece.")
MOST_COPIES = 1_000_000
MOST_IN_ALL = 10_000_000  # more than a works cuts in years; an answer has a row for each on a sheet
MOST_PRIORITY = 1000
MOST_SPARE_PERCENT = 100
_TURNS = {
    "yes": Turn.QUARTER,
    "no": Turn.FIXED,
    # As a column that tells of the grain says it.
    "none": Turn.QUARTER,
    "lengthwise": Turn.FIXED,
}


class PieceList(NamedTuple):
    """The rows of each material in the order of the list, and what is said of all of them.

    `further` are the names of the columns that are carried along, `skipped` the lines of rows that
    ask for no piece at all.
    """

    materials: Mapping[MaterialName, tuple[PieceRow, ...]]
    further: tuple[str, ...]
    skipped: tuple[int, ...]


def read_pieces(
    path: Path,
    reading: Reading,
    called: Mapping[str, str] | None = None,
    spare_percent: Fraction = Fraction(0),
) -> PieceList:
    """Return the pieces, after telling the faults of the file to `reading`.

    `called` are the names that the file gives to columns; `spare_percent` counts in rows that have
    no percentage of their own.
    """
    file = CsvFile(path, reading.faults)
    columns = Columns(
        needed=NEEDED,
        optional=OPTIONAL,
        texts=("piece", "group", "material"),
        called=called or {},
        known_as=KNOWN_AS,
        further=Further.KEPT,
    )
    rows = read_rows(file, columns)
    materials: dict[MaterialName, list[PieceRow]] = {}
    first_spelt: dict[str, str] = {}
    skipped = lines_of_nothing(rows, file)
    of_nothing = frozenset(skipped)
    wanted = (row for row in rows if row.line not in of_nothing)
    for material, piece in _pieces(file, wanted, reading, spare_percent):
        spelt = first_spelt.setdefault(material.material.casefold(), material.material)
        materials.setdefault(material._replace(material=spelt), []).append(piece)
    return PieceList(
        {material: tuple(listed) for material, listed in materials.items()},
        tuple(rows[0].further) if rows else (),
        skipped,
    )


@dataclass(slots=True)
class CountedPieces:
    """How many pieces a list asks for up to a row."""

    in_all: int = 0

    def spare_of(self, cells: Cells, quantity: int, percent: Fraction) -> int | None:
        """Return how many more of a row are cut; None after telling that the list is too long."""
        more = ceil(quantity * percent / 100)
        self.in_all += quantity + more
        if self.in_all <= MOST_IN_ALL:
            return more
        found = f"{self.in_all} pieces up to this row"
        cells.fault("quantity", found, f"at most {MOST_IN_ALL} in a list")
        return None


def lines_of_nothing(rows: Sequence[Row], file: CsvFile) -> tuple[int, ...]:
    """Return the lines of the rows that ask for no piece, after telling a fault if all do."""
    lines = tuple(row.line for row in rows if row.cells["quantity"] in {"0", "0.0"})
    if rows and len(lines) == len(rows):
        file.fault(lines[0], "quantity", "0 in every row", "something to cut")
    return lines


def _pieces(
    file: CsvFile, rows: Iterable[Row], reading: Reading, spare_percent: Fraction
) -> Iterator[tuple[MaterialName, PieceRow]]:
    sizes: dict[tuple[str, str, MaterialName], PieceRow] = {}
    counted = CountedPieces()
    for row in rows:
        if file.given_up:
            return
        cells = Cells(row, file)
        name = cells.some_name("piece")
        length = cells.length_mm("length", SIDE, reading.units)
        width = cells.length_mm("width", SIDE, reading.units)
        quantity = cells.whole("quantity", 0, MOST_COPIES)
        turn = cells.word("turn", tuple(_TURNS))
        group = cells.text("group")
        priority = cells.whole("priority", 0, MOST_PRIORITY, blank="0")
        spare = cells.percent("spare", MOST_SPARE_PERCENT, blank=spare_percent)
        material = read_material(cells, reading)
        if (
            name is None
            or length is None
            or width is None
            or quantity is None
            or turn is None
            or group is None
            or priority is None
            or spare is None
            or material is None
        ):
            continue
        more = counted.spare_of(cells, quantity, spare)
        if more is None:
            return
        piece = PieceRow(
            line=row.line,
            name=name,
            length=reading.grid.piece(length),
            width=reading.grid.piece(width),
            turn=_TURNS[turn],
            asked=quantity,
            spare=more,
            group=group,
            priority=priority,
            further=tuple(row.further.values()),
        )
        first = sizes.setdefault((name, group, material), piece)
        if (first.length, first.width, first.turn) != (piece.length, piece.width, piece.turn):
            found = f"{shown(name)} a second time, and cut otherwise (first in line {first.line})"
            allowed = "one size for each name, or rooms in the column group"
            cells.fault("piece", found, allowed)
            continue
        yield material, piece
