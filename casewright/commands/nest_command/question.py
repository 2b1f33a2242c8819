"""The questions of the command: its files read into pieces, stock and rules that go together.

There is one for each material of the list, or a single one where it tells of none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from casewright.commands.nest_command.cells import Reading
from casewright.commands.nest_command.item_types import ItemType, PieceRow, item_types
from casewright.commands.nest_command.material_name import MaterialName
from casewright.commands.nest_command.options import NestOptions
from casewright.commands.nest_command.read_pieces import read_pieces
from casewright.commands.nest_command.read_stock import Prices, StockRow, read_stock, with_defects
from casewright.errors import Fault, InputErrors
from casewright.intake.document import Place, placed_fault
from nesting.question.instance import Instance
from nesting.question.sheet_rules import Trim
from nesting.question.ticks import Grid, to_mm
from parametric.stock.lengths import Units, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Files:
    """The files that ask the question.

    `columns` are the names that the list of pieces gives to columns which are called otherwise
    here; `spare_percent` is cut more of each row that has no percentage of its own.
    """

    pieces: Path
    stock: tuple[Path, ...]
    defects: Path | None
    columns: Mapping[str, str] = field(default_factory=dict)
    spare_percent: Fraction = Fraction(0)

    @property
    def all(self) -> tuple[Path, ...]:
        """Return those that there are."""
        return (self.pieces, *self.stock, *(() if self.defects is None else (self.defects,)))


class FileLine(NamedTuple):
    """A line of a file."""

    file: Path
    line: int

    def __str__(self) -> str:
        """Return it as errors begin."""
        return f"{self.file.as_posix()}:{self.line}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """The nest that is asked for, the time allowed (None: no clock decides), and where each piece
    and each stock stands. `rounded_mm` is the most by which a length was rounded to ticks.

    The pieces are item types; `further` names the columns that are carried along.
    """

    material: MaterialName
    instance: Instance
    types: tuple[ItemType, ...]
    further: tuple[str, ...]
    files: Files
    prices: Prices
    seconds: float | None
    piece_places: Mapping[str, FileLine]
    stock_places: Mapping[str, FileLine]
    rounded_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionList:
    """The questions of a list, the names of its further columns, which are carried along, and the
    lines of the rows that ask for no piece.
    """

    questions: tuple[Question, ...]
    further: tuple[str, ...]
    skipped: tuple[int, ...]


def read_questions(files: Files, options: NestOptions) -> QuestionList:
    """Return the questions that the files and options ask, by material as the list has them.

    Raises:
        InputErrors: a file says what it may not, or a sheet is lost in its trim; all faults.
    """
    faults: list[Fault] = []
    reading = Reading(options.units, Grid(options.rounded_mm), faults)
    listed = read_pieces(files.pieces, reading, files.columns, files.spare_percent)
    stock = read_stock(files.stock, reading)
    rows = stock.rows
    if files.defects is not None:
        rows = with_defects(files.defects, stock, reading)
    faults += _trimmed_away(rows, options.rules.trim, options.units)
    shared = _shared(listed.materials, rows, files.pieces, options.units, faults)
    if faults:
        raise InputErrors(tuple(faults))
    questions = []
    for material, pieces in listed.materials.items():
        types, its_stock = item_types(pieces), shared[material]
        questions.append(
            Question(
                material=material,
                instance=Instance(
                    pieces=tuple(kind.piece for kind in types),
                    stocks=tuple(row.stock for row in its_stock),
                    rules=options.rules,
                ),
                types=types,
                further=listed.further,
                files=files,
                prices=stock.prices,
                seconds=options.seconds,
                piece_places={
                    kind.piece.id: FileLine(files.pieces, kind.rows[0].line) for kind in types
                },
                stock_places={row.stock.id: FileLine(row.file, row.line) for row in its_stock},
                rounded_mm=reading.grid.rounded_mm,
            )
        )
    return QuestionList(questions=tuple(questions), further=listed.further, skipped=listed.skipped)


def _shared(
    materials: Mapping[MaterialName, Sequence[PieceRow]],
    rows: Sequence[StockRow],
    list_of_pieces: Path,
    units: Units,
    faults: list[Fault],
) -> dict[MaterialName, tuple[StockRow, ...]]:
    """Return the stock of each material, after adding a fault for each that has none.

    Where there are several materials, all stock must say of which one it is.
    """
    for row in rows:
        if len(materials) > 1 and not row.material.material and not row.material.thickness:
            faults.append(
                placed_fault(
                    row.file,
                    Place(row.line, None),
                    ("material",),
                    found="nothing, where the pieces are of several materials",
                    allowed="its material and thickness, as the pieces have them",
                )
            )
    found = {}
    for material, pieces in materials.items():
        found[material] = tuple(row for row in rows if row.material.serves(material))
        if not found[material] and rows:
            known = dict.fromkeys(row.material.shown(units) for row in rows)
            faults.append(
                placed_fault(
                    list_of_pieces,
                    Place(pieces[0].line, None),
                    ("material",),
                    found=f"{material.shown(units) or 'nothing'}, of which there is no stock",
                    allowed=f"a material of the stock: {', '.join(filter(None, known))}",
                )
            )
    return found


def _trimmed_away(rows: tuple[StockRow, ...], trim: Trim, units: Units) -> Iterator[Fault]:
    for path, line, stock, _ in rows:
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
