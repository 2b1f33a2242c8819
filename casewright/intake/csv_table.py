"""A CSV file, or the first sheet of a workbook, as rows of named cells.

Each row keeps its line, so that faults can be located.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from casewright.errors import Fault
from casewright.intake.document import MOST_FAULTS, Blame, Place, placed_fault, shown
from casewright.intake.nearest import one_of
from casewright.intake.text_file import FileSize, read_bytes, read_text
from casewright.intake.workbook import NoWorkbook, workbook_rows
from export.tables.csv_cell import read_cell

# A row for each of 100,000 rooms or pieces, with 160 bytes each, is more than any job has.
SIZE = FileSize(kind="a CSV file", most_bytes=16_000_000)
MOST_ROWS = 100_000
MOST_CELLS = 100  # in a row; no file has more than 20 columns
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_GROUPED = re.compile(r"([1-9][0-9]{0,2})[.,]([0-9]{3})(?![0-9.,])")
COMMA, SEMICOLON = ",", ";"
WORKBOOK = ".xlsx"


class Row(NamedTuple):
    """A row by the names of its columns, and the line it starts in. Columns left out are blank.

    `further` has the cells of columns that nobody asked for, `named` the names in the file of those
    that have other ones there.
    """

    line: int
    cells: Mapping[str, str]
    further: Mapping[str, str] = MappingProxyType({})
    named: Mapping[str, str] = MappingProxyType({})


class Further(Enum):
    """What becomes of columns that nobody asked for."""

    REFUSED = "refused"
    KEPT = "kept"


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns that a file must have, and those that it may have; `texts` hold no numbers.

    `called` has the names that a person gives to some of them instead, `known_as` more names that
    they may have, of which the first that a file has counts. Further columns are kept as texts, or
    refused.
    """

    needed: Sequence[str]
    optional: Sequence[str] = ()
    texts: Collection[str] = ()
    called: Mapping[str, str] = field(default_factory=dict)
    known_as: Mapping[str, Sequence[str]] = field(default_factory=dict)
    further: Further = Further.REFUSED

    @property
    def names(self) -> tuple[str, ...]:
        """Return all of them."""
        return (*self.needed, *self.optional)


class CsvFile:
    """A file and where its faults go, up to `MOST_FAULTS` of them."""

    def __init__(self, path: Path, faults: list[Fault]) -> None:
        """Start without a fault of this file; `faults` may hold those of others."""
        self.path = path
        self.faults = faults
        self._told = 0

    def fault(self, line: int, column: str, found: str, allowed: str) -> None:
        """Add a fault; `column` is blank where no column is to blame."""
        self._told += 1
        if self._told <= MOST_FAULTS:
            self._add(line, column, found, allowed)
        elif self._told == MOST_FAULTS + 1:
            self._add(line, "", f"more than {MOST_FAULTS} faults", "a file without any")

    @property
    def given_up(self) -> bool:
        """Return whether there are more faults than are told, so that no more need be found."""
        return self._told > MOST_FAULTS

    def _add(self, line: int, column: str, found: str, allowed: str) -> None:
        key_path = (column,) if column else ()
        self.faults.append(
            placed_fault(self.path, Place(line, None), key_path, found=found, allowed=allowed)
        )


def read_rows(file: CsvFile, columns: Columns, blame: Blame | None = None) -> tuple[Row, ...]:
    """Return the rows in the order of the file, after adding its faults; faulty rows are left out.

    The header names the columns in any order. In a CSV file cells are separated by commas or, where
    the header has any, by semicolons; then numbers may have a decimal comma, which is turned into a
    point, and one that may have a mark of thousands is a fault. Blank lines do not count. `blame`
    makes the fault of a file that cannot be opened, see `read_text`.
    """
    in_workbook = file.path.suffix.casefold() == WORKBOOK
    table = _workbook(file, blame) if in_workbook else _csv(file, blame)
    if table is None:
        return ()
    lines, commas = table
    wanted = f"the columns {', '.join(columns.needed)} and a row for each {columns.needed[0]}"
    if not lines:
        file.fault(1, "", "no header", wanted)
        return ()
    start, names = lines[0]
    named = _named([name.strip() for name in names], columns)
    header = [_asked(name.strip(), named, columns) for name in names]
    if not _is_header(header, start, columns, file):
        return ()
    if len(lines) == 1:
        file.fault(start, "", f"no {columns.needed[0]}s", f"a row for each {columns.needed[0]}")
    plain = {*columns.texts, *(name for name in header if name not in columns.names)}
    names_and_texts = [(name, name in plain or not commas) for name in header]
    return tuple(_rows(lines[1:], names_and_texts, columns, named, file))


def _named(names: Sequence[str], columns: Columns) -> dict[str, str]:
    """Return the names in the file of the columns that are called otherwise there."""
    there = {name.casefold(): name for name in reversed(names)}
    found = {}
    for asked in columns.names:
        called = columns.called.get(asked)
        known = (asked, *columns.known_as.get(asked, ())) if called is None else (called,)
        first = next((name for name in known if name.casefold() in there), None)
        if first is not None and first != asked:
            found[asked] = there[first.casefold()]
    return found


def _asked(name: str, named: Mapping[str, str], columns: Columns) -> str:
    """Return what a column of the file is asked for as; its own name where nobody asks for it."""
    for asked, its_name in named.items():
        if name == its_name:
            return asked
    small = name.casefold()
    return small if small in columns.names and small not in named else name


def number_in(text: str) -> float | None:
    """Return the number that a cell holds, None if it is none; what only Python reads is none."""
    return float(text) if _NUMBER.fullmatch(text) else None


class _Table(NamedTuple):
    """The rows that are not blank, and whether numbers may have decimal commas."""

    lines: list[tuple[int, list[str]]]
    commas: bool


def _csv(file: CsvFile, blame: Blame | None) -> _Table | None:
    text = read_text(file.path, file.faults, SIZE, blame)
    if text is None:
        return None
    first = next((line for line in io.StringIO(text, newline="") if line.strip()), "")
    mark = SEMICOLON if SEMICOLON in first else COMMA
    lines = _lines(text, mark, file)
    return None if lines is None else _Table(lines, mark == SEMICOLON)


def _workbook(file: CsvFile, blame: Blame | None) -> _Table | None:
    """Return the first sheet, its empty rows and the empty cells at the ends of rows left out."""
    content = read_bytes(file.path, file.faults, SIZE, blame)
    if content is None:
        return None
    lines: list[tuple[int, list[str]]] = []
    width = 0
    try:
        for number, cells in workbook_rows(content):
            filled = max((at for at, cell in enumerate(cells, 1) if cell.strip()), default=0)
            if not filled:
                continue
            width = width or filled
            if width > MOST_CELLS:
                file.fault(number, "", f"{width} cells in a row", f"at most {MOST_CELLS}")
                return None
            if len(lines) > MOST_ROWS:
                file.fault(number, "", f"more than {MOST_ROWS} rows", f"at most {MOST_ROWS} rows")
                return None
            kept = cells[: max(width, filled)]
            lines.append((number, kept + [""] * (width - len(kept))))
    except NoWorkbook as problem:
        file.fault(1, "", str(problem), f"a workbook ({WORKBOOK}) with a table in its first sheet")
        return None
    return _Table(lines, commas=False)


def _lines(text: str, mark: str, file: CsvFile) -> list[tuple[int, list[str]]] | None:
    """Return the rows that are not blank, or None after adding the fault that hides the rest."""
    found = []
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, delimiter=mark)
    start = 1
    try:
        for cells in reader:
            if len(cells) > MOST_CELLS:
                file.fault(start, "", f"{len(cells)} cells in a row", f"at most {MOST_CELLS}")
                return None
            if any(cell.strip() for cell in cells):
                found.append((start, cells))
            if len(found) > MOST_ROWS + 1:
                file.fault(start, "", f"more than {MOST_ROWS} rows", f"at most {MOST_ROWS} rows")
                return None
            start = reader.line_num + 1
    except csv.Error as problem:
        file.fault(start, "", *_told(problem, mark))
        return None
    return found


def _told(problem: csv.Error, mark: str) -> tuple[str, str]:
    """Return what was found and what is allowed, where the rows cannot be told apart."""
    allowed = f"cells separated by '{mark}', quotes in pairs"
    if "field larger" in str(problem):
        longest = csv.field_size_limit()
        return f"a cell of more than {longest} characters", allowed
    return str(problem), allowed


def _is_header(header: list[str], line: int, columns: Columns, file: CsvFile) -> bool:
    if len(header) == 1 and "\t" in header[0]:
        file.fault(line, "", "cells separated by tabs", "cells separated by commas or semicolons")
        return False
    before = len(file.faults)
    for name in columns.needed:
        if name not in header:
            needed = ", ".join(columns.called.get(name, name) for name in columns.needed)
            missing = columns.called.get(name, name)
            file.fault(line, missing, "no such column", f"columns {needed} in any order")
    for index, name in enumerate(header):
        if not name and columns.further is Further.KEPT:
            continue
        if name not in columns.names and columns.further is Further.REFUSED:
            allowed = one_of(columns.names, name, what="columns")
            file.fault(line, "", f"the column {shown(name)}", allowed)
        elif name in header[:index]:
            file.fault(line, name, "the column a second time", "each column once")
    return len(file.faults) == before


def _rows(
    lines: Iterable[tuple[int, list[str]]],
    header: list[tuple[str, bool]],
    columns: Columns,
    named: Mapping[str, str],
    file: CsvFile,
) -> Iterator[Row]:
    """Yield the rows that have a cell for every column; the header says which are kept as texts."""
    present = {name for name, _ in header}
    left_out = {name: "" for name in columns.names if name not in present}
    for line, cells in lines:
        if file.given_up:
            return
        if len(cells) != len(header):
            file.fault(line, "", f"{len(cells)} cells", f"{len(header)}, as in the header")
            continue
        read = {name: _read(cell) for (name, _), cell in zip(header, cells, strict=True)}
        unclear = {name: _two_readings(read[name]) for name, as_text in header if not as_text}
        for name, told in unclear.items():
            if told is not None:
                file.fault(line, name, *told)
        if any(unclear.values()):
            continue
        texts = {
            name: _composed(read[name]) if as_text else _pointed(read[name])
            for name, as_text in header
        }
        asked = {name: text for name, text in texts.items() if name in columns.names}
        others = {name: text for name, text in texts.items() if name and name not in columns.names}
        yield Row(line, left_out | asked, others, named)


def _read(cell: str) -> str:
    """Return the text of a cell, also where it was written as our own tables write it."""
    return read_cell(cell.strip()).strip()


def _composed(text: str) -> str:
    """Return the text with each letter and its accents as one: some systems write them apart, and
    a name would not be the same in two files.
    """
    return unicodedata.normalize("NFC", text)


def _two_readings(text: str) -> tuple[str, str] | None:
    """Return what was found and what is allowed, where a mark may part thousands or decimals."""
    number = _GROUPED.match(text)
    if number is None:
        return None
    whole, part = number.groups()
    found = f"{shown(text)}, which may be {whole}.{part} or {whole}{part}"
    return found, f"{whole}{part} without a mark, or {whole}.{part}0"


def _pointed(text: str) -> str:
    """Return a number with a decimal comma with a point; any other text as it is."""
    whole, comma, part = text.partition(",")
    return f"{whole}.{part}" if comma and whole.isdecimal() and part[:1].isdecimal() else text
