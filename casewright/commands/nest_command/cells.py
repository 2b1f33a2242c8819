"""Single cells of the command's files, read or blamed."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from casewright.errors import Fault
from casewright.intake.csv_table import CsvFile, Row
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from casewright.intake.nearest import one_of
from nesting.question.ticks import Grid
from parametric.stock.lengths import LengthError, Units

LONGEST_NAME = 40
_NAME_MARKS = "%\\^"  # drawings would read them as codes for other characters

_WHOLE = re.compile(r"[0-9]{1,9}")
_ENDINGS = {"mm": Units.MM, "in": Units.INCH}
_PRICE = re.compile(r"[0-9]{1,9}(\.[0-9]{1,6})?|\.[0-9]{1,6}")


class Reading(NamedTuple):
    """How files are read: what bare numbers count, the ticks that lengths become, and the faults
    that are found on the way.
    """

    units: Units
    grid: Grid
    faults: list[Fault]


class Cells(NamedTuple):
    """The cells of one row, and where their faults go; every reader returns None for a fault."""

    row: Row
    file: CsvFile

    def fault(self, column: str, found: str, allowed: str) -> None:
        """Add a fault of one of the cells."""
        self.file.fault(self.row.line, self.row.named.get(column, column), found, allowed)

    def name(self, column: str, lines: dict[str, tuple[Path, int]]) -> str | None:
        """Return a name that no earlier row has; `lines` keeps where each stands."""
        text = self.some_name(column)
        if text is None:
            return None
        here = self.file.path, self.row.line
        first = lines.setdefault(text, here)
        if first != here:
            where = "" if first[0] == here[0] else f"{first[0].name}, "
            found = f"{shown(text)} a second time (first in {where}line {first[1]})"
            self.fault(column, found, f"each {column} once")
            return None
        return text

    def some_name(self, column: str) -> str | None:
        """Return a name that other rows may have too."""
        text = self.row.cells[column]
        if _is_name(text):
            return text
        self.fault(column, shown(text) if text else "nothing", _name_allowed())
        return None

    def text(self, column: str) -> str | None:
        """Return a name, or nothing for a blank cell; several rows may have it."""
        text = self.row.cells[column]
        if text and not _is_name(text):
            self.fault(column, shown(text), f"{_name_allowed()}, or blank")
            return None
        return text

    def length_mm(self, column: str, allowed: LengthIn, units: Units) -> Fraction | None:
        """Return a length in millimetres as it is typed; bare numbers count in `units`, or in those
        that the name of the column ends in.
        """
        ending = self.row.named.get(column, column).casefold().rpartition("_")[2]
        try:
            return allowed.read_exact(self.row.cells[column], _ENDINGS.get(ending, units))
        except LengthError as problem:
            self.fault(column, problem.found, problem.allowed)
            return None

    def whole(self, column: str, least: int, most: int, *, blank: str = "") -> int | None:
        """Return a whole number; a blank cell, where `blank` says what it means, counts as 0."""
        text = self.row.cells[column]
        if not text and blank:
            return 0
        if not _WHOLE.fullmatch(text) or not least <= int(text) <= most:
            or_blank = f", or blank for {blank}" if blank else ""
            found = shown(text) if text else "nothing"
            self.fault(column, found, f"a whole number from {least} to {most}{or_blank}")
            return None
        return int(text)

    def percent(self, column: str, most: int, *, blank: Fraction) -> Fraction | None:
        """Return per cent, with or without the sign; a blank cell counts as `blank`."""
        text = self.row.cells[column].removesuffix("%").strip()
        if not text:
            return blank
        if not _PRICE.fullmatch(text) or Fraction(text) > most:
            self.fault(column, shown(self.row.cells[column]), f"per cent, from 0 to {most}")
            return None
        return Fraction(text)

    def price(self, column: str) -> float | None:
        """Return a price; the cell must not be blank."""
        text = self.row.cells[column]
        if not _PRICE.fullmatch(text):
            self.fault(column, shown(text), "a number such as 49.90, without a currency")
            return None
        return float(text)

    def word(self, column: str, words: tuple[str, ...], *, blank: str = "") -> str | None:
        """Return one of the words, in small letters; a blank cell counts as `blank`, if given."""
        text = self.row.cells[column].casefold() or blank
        if text in words:
            return text
        found = shown(self.row.cells[column]) if self.row.cells[column] else "nothing"
        self.fault(column, found, one_of(words, text, what="words"))
        return None


def _is_name(text: str) -> bool:
    plain = text.isprintable() and not any(mark in text for mark in _NAME_MARKS)
    return plain and 0 < len(text) <= LONGEST_NAME


def _name_allowed() -> str:
    marks = " ".join(_NAME_MARKS)
    return f"a name of at most {LONGEST_NAME} characters on one line, without {marks}"
