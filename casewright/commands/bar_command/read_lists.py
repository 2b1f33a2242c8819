"""The lists of the command: what is to be cut from bars, and the bars.

Pieces have the columns `piece`, `length` and `quantity`; `group`, `spare` (per cent more) and
`material` may be left out. Bars have `bar`, `length`, `quantity` (blank: as many as are needed) and
`price` for one; `kind` (bar or remnant), `material` and `kerf` (of the blade for it) may be left
out. Prices stand in every row of a bar or in none: then bars count by their length, 1 for each
metre. Further columns of pieces are carried along.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from casewright.commands.nest_command.cells import Cells, Reading
from casewright.commands.nest_command.item_types import PieceRow
from casewright.commands.nest_command.read_pieces import (
    MOST_COPIES,
    MOST_SPARE_PERCENT,
    CountedPieces,
    lines_of_nothing,
)
from casewright.intake.csv_table import Columns, CsvFile, Further, Row, read_rows
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from nesting.linear.instance import Bar, BarKind
from nesting.question.instance import Turn

NEEDED = ("piece", "length", "quantity")
OPTIONAL = ("group", "spare", "material")
PIECE = LengthIn(0.1, 100_000, "Length of a piece.")
BAR = LengthIn(1, 100_000, "Length of a bar.")
KERF = LengthIn(0, 100, "Width of the cut.")
MOST_BARS = 1_000_000
ACROSS = 1
"""Width of a piece of a bar, in ticks: its length alone tells it from others."""

BAR_COLUMNS = Columns(
    needed=("bar", "length", "quantity", "price"),
    optional=("kind", "material", "kerf"),
    texts=("bar", "material"),
    known_as={"length": ("length_mm", "length_in"), "kerf": ("kerf_mm", "kerf_in")},
)


class BarRow(NamedTuple):
    """A bar, the file and line it stands in, of which material it is, and the kerf of its own."""

    file: Path
    line: int
    bar: Bar
    material: str
    kerf: int | None


class BarPieces(NamedTuple):
    """The rows of each material, the further columns, and the lines that ask for nothing."""

    materials: Mapping[str, tuple[PieceRow, ...]]
    further: tuple[str, ...]
    skipped: tuple[int, ...]


def read_bar_pieces(
    path: Path, reading: Reading, called: Mapping[str, str], spare_percent: Fraction
) -> BarPieces:
    """Return the pieces, after telling the faults of the file to `reading`."""
    file = CsvFile(path, reading.faults)
    columns = Columns(
        needed=NEEDED,
        optional=OPTIONAL,
        texts=("piece", "group", "material"),
        called=called,
        known_as={
            "piece": ("part", "number"),
            "length": ("length_mm", "length_in"),
            "group": ("room",),
        },
        further=Further.KEPT,
    )
    rows = read_rows(file, columns)
    skipped = lines_of_nothing(rows, file)
    of_nothing = frozenset(skipped)
    wanted = (row for row in rows if row.line not in of_nothing)
    materials: dict[str, list[PieceRow]] = {}
    spelt: dict[str, str] = {}
    for material, piece in _pieces(file, wanted, reading, spare_percent):
        first = spelt.setdefault(material.casefold(), material)
        materials.setdefault(first, []).append(piece)
    return BarPieces(
        {material: tuple(listed) for material, listed in materials.items()},
        tuple(rows[0].further) if rows else (),
        skipped,
    )


def read_bars(paths: Iterable[Path], reading: Reading) -> tuple[BarRow, ...]:
    """Return the bars of all files in their order, after telling their faults to `reading`."""
    files = [CsvFile(path, reading.faults) for path in paths]
    listed = [(file, read_rows(file, BAR_COLUMNS)) for file in files]
    given = any(row.cells["price"] for _, rows in listed for row in rows)
    lines: dict[str, tuple[Path, int]] = {}
    return tuple(bar for file, rows in listed for bar in _bars(rows, file, given, lines, reading))


def _pieces(
    file: CsvFile, rows: Iterable[Row], reading: Reading, spare_percent: Fraction
) -> Iterator[tuple[str, PieceRow]]:
    counted = CountedPieces()
    lengths: dict[tuple[str, str, str], PieceRow] = {}
    for row in rows:
        if file.given_up:
            return
        cells = Cells(row, file)
        name, group = cells.some_name("piece"), cells.text("group")
        length = cells.length_mm("length", PIECE, reading.units)
        quantity = cells.whole("quantity", 0, MOST_COPIES)
        spare = cells.percent("spare", MOST_SPARE_PERCENT, blank=spare_percent)
        material = cells.text("material")
        if name is None or group is None or length is None or quantity is None:
            continue
        if spare is None or material is None:
            continue
        more = counted.spare_of(cells, quantity, spare)
        if more is None:
            return
        piece = PieceRow(
            line=row.line,
            name=name,
            length=reading.grid.piece(length),
            width=ACROSS,
            turn=Turn.FIXED,
            asked=quantity,
            spare=more,
            group=group,
            further=tuple(row.further.values()),
        )
        first = lengths.setdefault((name, group, material), piece)
        if first.length != piece.length:
            found = f"{shown(name)} a second time, and longer or shorter (line {first.line})"
            cells.fault("piece", found, "one length for each name, or rooms in the column group")
            continue
        yield material, piece


def _bars(
    rows: Iterable[Row],
    file: CsvFile,
    given: bool,
    lines: dict[str, tuple[Path, int]],
    reading: Reading,
) -> Iterator[BarRow]:
    for row in rows:
        if file.given_up:
            return
        cells = Cells(row, file)
        name = cells.name("bar", lines)
        length = cells.length_mm("length", BAR, reading.units)
        kind = cells.word("kind", tuple(BarKind), blank=BarKind.BAR)
        material = cells.text("material")
        kerf = cells.length_mm("kerf", KERF, reading.units) if row.cells["kerf"] else None
        blank = "" if kind == BarKind.REMNANT else "as many as are needed"
        quantity = cells.whole("quantity", 0, MOST_BARS, blank=blank)
        if name is None or length is None or kind is None or material is None or quantity is None:
            continue
        bought = kind == BarKind.BAR
        if given and bought and not row.cells["price"]:
            cells.fault("price", "nothing", "a price in every row of a bar, or in none")
            continue
        price = cells.price("price") if row.cells["price"] else 0.0
        if price is None:
            continue
        bar = Bar(
            id=name,
            length=reading.grid.sheet(length),
            price=price if given or not bought else float(length / 1000),
            on_hand=quantity if row.cells["quantity"] else None,
            kind=BarKind(kind),
        )
        yield BarRow(
            file.path, row.line, bar, material, None if kerf is None else reading.grid.gap(kerf)
        )
