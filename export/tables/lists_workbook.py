"""All lists as one workbook: a sheet for each table, numbers as numbers, texts as texts."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from export.tables.csv_text import csv_rows
from export.visible_text import spelled

_MADE = datetime(2000, 1, 1)  # the same job gives the same bytes
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_UNITS = ("_mm", "_kg", "_m2", "_m3", "_ml", "minutes")
_COUNTS = frozenset(
    (
        "quantity",
        "count",
        "rooms",
        "make",
        "needed",
        "spare",
        "packed",
        "runs",
        "sheets",
        "layouts",
        "buy",
        "pack",
        "on_hand",
        "price",
        "cost",
        "yield",
        "parts_in_piece",
        "joints",
        "price_per_sheet",
        "offcut",
        "sheet",
    )
)
"""Columns of numbers; those of names may hold digits too, and stay texts."""
_WIDEST, _MARGIN = 60, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class ListSheet:
    """A table as `csv_text` made it, and the name of its sheet."""

    name: str
    table: str


def lists_xlsx(sheets: Iterable[ListSheet]) -> bytes:
    """Return the workbook, the same bytes for the same tables."""
    stream = io.BytesIO()
    book = Workbook(stream, {"in_memory": True})
    book.set_properties({"created": _MADE})
    head = book.add_format({"bold": True, "bottom": 1})
    for each in sheets:
        rows = list(csv_rows(each.table))
        columns = list(rows[0]) if rows else each.table.splitlines()[0].split(",")
        sheet = book.add_worksheet(each.name)
        for at, column in enumerate(columns):
            sheet.write_string(0, at, column.replace("_", " "), head)
            texts = [row[column] for row in rows]
            longest = max(map(len, [column, *texts]))
            sheet.set_column(at, at, min(_WIDEST, longest + _MARGIN))
            _fill(sheet, at, texts, numbers=column in _COUNTS or column.endswith(_UNITS))
        sheet.freeze_panes(1, 1)
        sheet.autofilter(0, 0, max(1, len(rows)), max(0, len(columns) - 1))
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
    book.close()
    return stream.getvalue()


def _fill(sheet: Worksheet, column: int, texts: Sequence[str], *, numbers: bool) -> None:
    for row, text in enumerate(texts, start=1):
        if numbers and _NUMBER.fullmatch(text):
            sheet.write_number(row, column, Decimal(text))
        elif text:
            sheet.write_string(row, column, spelled(text))
