"""Lines of costs as rows of a sheet, their rates and amounts live."""

from __future__ import annotations

from decimal import Decimal

from export.estimate.book import Book, Worksheet, formula_in, put
from export.estimate.estimate import HOURS, Line
from export.estimate.rates import RateName

SUMMARY, RATES = "Summary", "Rates"
"""The sheets that the others refer to."""
RATE_ROW = {name: row for row, name in enumerate(RateName, start=2)}
"""Rows of the rates on their sheet, from 1; they stand in column B."""
LINE_HEADS = ("section", "what", "quantity", "unit", "rate", "amount", "found in", "how")
LINE_WIDTHS = (24, 52, 11, 18, 12, 14, 30, 52)


def line_row(book: Book, sheet: Worksheet, row: int, line: Line) -> None:
    """Write a line into a row, from 1: its amount is in column F."""
    at = row - 1
    put(sheet, at, 0, line.section, book.plain)
    put(sheet, at, 1, line.what, book.plain)
    put(sheet, at, 2, line.quantity, book.plain)
    put(sheet, at, 3, line.unit, book.text)
    if line.section in HOURS:
        cell = f"{RATES}!$B${RATE_ROW[HOURS[line.section]]}"
        formula_in(sheet, at, 4, f"={cell}", book.rate, line.rate or Decimal(0))
    else:
        put(sheet, at, 4, line.rate, book.rate)
    formula_in(sheet, at, 5, f"=ROUND(C{row}*E{row},2)", book.money, line.amount)
    put(sheet, at, 6, line.paper, book.text)
    unpriced = "no price" if line.section not in HOURS else "no rate"
    note = line.note if line.rate is not None else f"{unpriced}; {line.note}".rstrip("; ")
    put(sheet, at, 7, note, book.text)
