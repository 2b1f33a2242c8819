"""The question of the command: its files read into pieces, stock and rules that go together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from casewright.errors import Fault, InputErrors
from casewright.intake.document import Place, placed_fault
from casewright.nest_command.cells import Reading
from casewright.nest_command.options import NestOptions
from casewright.nest_command.read_pieces import read_pieces
from casewright.nest_command.read_stock import Prices, StockRow, read_stock, with_defects
from nesting.instance import Instance
from nesting.sheet_rules import Trim
from nesting.ticks import Grid, to_mm
from parametric.lengths import Units, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Files:
    """The files that ask the question."""

    pieces: Path
    stock: Path
    defects: Path | None

    @property
    def all(self) -> tuple[Path, ...]:
        """Return those that there are."""
        return tuple(file for file in (self.pieces, self.stock, self.defects) if file is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """The nest that is asked for, the time allowed (None: no clock decides), and in which line each
    piece and each stock stands. `rounded_mm` is the most by which a length was rounded to ticks.
    """

    instance: Instance
    files: Files
    prices: Prices
    seconds: float | None
    piece_lines: Mapping[str, int]
    stock_lines: Mapping[str, int]
    rounded_mm: float


def read_question(files: Files, options: NestOptions) -> Question:
    """Return the question that the files and options ask.

    Raises:
        InputErrors: a file says what it may not, or a sheet is lost in its trim; all faults.
    """
    faults: list[Fault] = []
    units = options.units
    reading = Reading(units, Grid(options.rounded_mm), faults)
    pieces = read_pieces(files.pieces, reading)
    stock = read_stock(files.stock, reading)
    rows = stock.rows
    if files.defects is not None:
        rows = with_defects(files.defects, stock, reading)
    faults += _trimmed_away(rows, options.rules.trim, files.stock, units)
    if faults:
        raise InputErrors(tuple(faults))
    return Question(
        instance=Instance(
            pieces=tuple(row.piece for row in pieces),
            stocks=tuple(row.stock for row in rows),
            rules=options.rules,
        ),
        files=files,
        prices=stock.prices,
        seconds=options.seconds,
        piece_lines={row.piece.id: row.line for row in pieces},
        stock_lines={row.stock.id: row.line for row in rows},
        rounded_mm=reading.grid.rounded_mm,
    )


def _trimmed_away(
    rows: tuple[StockRow, ...], trim: Trim, path: Path, units: Units
) -> Iterator[Fault]:
    for line, stock in rows:
        sides = (("length", stock.length, trim.along), ("width", stock.width, trim.across))
        for column, side, lost in sides:
            if lost >= side:
                yield placed_fault(
                    path,
                    Place(line, None),
                    (column,),
                    found=f"{show_length(to_mm(side), units)}, of which --trim takes "
                    f"{show_length(to_mm(lost), units)}",
                    allowed="more than the trim",
                )
