"""A workbook in memory, and the only way that the estimate writes one: formats, cells, charts."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from xlsxwriter import Workbook
from xlsxwriter.chart import Chart
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from export.visible_text import spelled

__all__ = ["Book", "Chart", "Format", "Worksheet", "column_of", "formula_in", "put", "texts"]

_MADE = datetime(2000, 1, 1)  # the same job gives the same bytes
_MONEY, _RATE, _SHARE = "#,##0.00", "#,##0.00##", "0.00%"
Cell = str | int | Decimal | None


class Book:
    """A workbook in memory, with its formats."""

    def __init__(self) -> None:
        self.stream = io.BytesIO()
        self.book = Workbook(self.stream, {"in_memory": True})
        self.book.set_properties({"created": _MADE})
        self.head = self.book.add_format(
            {"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"}
        )
        self.money = self.book.add_format({"num_format": _MONEY})
        self.rate = self.book.add_format({"num_format": _RATE})
        self.strong = self.book.add_format({"bold": True, "num_format": _MONEY})
        self.share = self.book.add_format({"num_format": _SHARE})
        self.title = self.book.add_format({"bold": True})
        self.plain = self.book.add_format()
        self.text = self.book.add_format({"indent": 1})  # away from the number before it
        self.wrapped = self.book.add_format({"indent": 1, "text_wrap": True})

    def sheet(self, name: str, widths: Sequence[int], heads: Sequence[str]) -> Worksheet:
        """Add a sheet with its heads, which stay while the rest is scrolled."""
        sheet = self.book.add_worksheet(name)
        for column, width in enumerate(widths):
            sheet.set_column(column, column, width)
        texts(sheet, 0, heads, self.head)
        if heads:
            sheet.set_row(0, 48)  # three lines
            sheet.freeze_panes(1, 0)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        return sheet


def texts(sheet: Worksheet, row: int, words: Sequence[str], form: Format) -> None:
    """Write texts side by side."""
    for column, text in enumerate(words):
        sheet.write_string(row, column, spelled(text), form)


def put(sheet: Worksheet, row: int, column: int, cell: Cell, form: Format) -> None:
    """Write a text as a text, a number as a number; nothing where there is none."""
    if isinstance(cell, str):
        sheet.write_string(row, column, spelled(cell), form)
    elif cell is not None:
        sheet.write_number(row, column, float(cell), form)


def formula_in(
    sheet: Worksheet, row: int, column: int, formula: str, form: Format, value: Decimal
) -> None:
    """Write a formula beside the value that it gives."""
    sheet.write_formula(row, column, formula, form, float(value))


def column_of(number: int) -> str:
    """Return the letters of a column, counted from 0, of the first 26."""
    return chr(ord("A") + number)
