"""The estimate as a workbook, its formulas live: what is changed on the sheet of rates, or in a
quantity or price, changes all that rests on it.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from xlsxwriter import Workbook
from xlsxwriter.chart import Chart
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from export.estimate.estimate import HOURS, NEVER_COUNTED, Estimate, Line, Section
from export.estimate.money import as_written, total
from export.estimate.rates import RateName
from export.visible_text import spelled

_MADE = datetime(2000, 1, 1)  # the same job gives the same bytes
_MONEY, _RATE, _SHARE = "#,##0.00", "#,##0.00##", "0.00%"
_RATE_ROW = {name: row for row, name in enumerate(RateName, start=2)}
_RATE_WORDS = {
    RateName.MACHINE_HOUR: "an hour of the router, its operator in",
    RateName.BENCH_HOUR: "an hour of a person at the bench",
    RateName.INSTALL_HOUR: "an hour of a person on site",
    RateName.OVERHEAD_PERCENT: "percent, added to all costs",
    RateName.MARKUP_PERCENT: "percent, added to costs and overhead",
}
SUMMARY, RATES, LINES, SHEETS, SETS = "Summary", "Rates", "Lines", "Sheets", "Sets"
Cell = str | int | Decimal | None


class _Book:
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

    def sheet(self, name: str, widths: Sequence[int], heads: Sequence[str]) -> Worksheet:
        """Add a sheet with its heads, which stay while the rest is scrolled."""
        sheet = self.book.add_worksheet(name)
        for column, width in enumerate(widths):
            sheet.set_column(column, column, width)
        _texts(sheet, 0, heads, self.head)
        if heads:
            sheet.set_row(0, 48)  # three lines
            sheet.freeze_panes(1, 0)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        return sheet


def estimate_xlsx(estimate: Estimate) -> bytes:
    """Return the workbook. Cells hold what the tool reckoned, beside the formulas that give it."""
    book = _Book()
    summary = book.sheet(SUMMARY, (34, 16, 12, 60), ())
    _rates(book, estimate)
    spans = _lines(book, estimate)
    _sheets(book, estimate)
    total_row = _summary(book, summary, estimate, spans)
    _sets(book, estimate, total_row)
    book.book.close()
    return book.stream.getvalue()


def _texts(sheet: Worksheet, row: int, texts: Sequence[str], form: Format) -> None:
    for column, text in enumerate(texts):
        sheet.write_string(row, column, spelled(text), form)


def _put(sheet: Worksheet, row: int, column: int, cell: Cell, form: Format) -> None:
    """Write a text as a text, a number as a number; nothing where there is none."""
    if isinstance(cell, str):
        sheet.write_string(row, column, spelled(cell), form)
    elif cell is not None:
        sheet.write_number(row, column, float(cell), form)


def _formula(
    sheet: Worksheet, row: int, column: int, formula: str, form: Format, value: Decimal
) -> None:
    sheet.write_formula(row, column, formula, form, float(value))


def _rates(book: _Book, estimate: Estimate) -> None:
    heads = ("rate", f"in {estimate.currency}, or percent", "what it is", "")
    sheet = book.sheet(RATES, (22, 24, 44, 16), heads)
    for name, row in _RATE_ROW.items():
        value: float | None = getattr(estimate.rates, name)
        rate = None if value is None else as_written(value)
        _put(sheet, row - 1, 0, name.replace("_", " "), book.plain)
        _put(sheet, row - 1, 1, rate, book.rate)
        _put(sheet, row - 1, 2, _RATE_WORDS[name], book.text)
        _put(sheet, row - 1, 3, "no rate" if rate is None else None, book.text)


def _lines(book: _Book, estimate: Estimate) -> dict[Section, tuple[int, int]]:
    """Write all lines; return first and last row of each section that has any, from 1."""
    heads = ("section", "what", "quantity", "unit", "rate", "amount", "found in", "how")
    sheet = book.sheet(LINES, (24, 52, 11, 18, 12, 14, 30, 52), heads)
    spans: dict[Section, tuple[int, int]] = {}
    row = 2
    for section in Section:
        lines = [line for line in estimate.lines if line.section is section]
        if lines:
            spans[section] = row, row + len(lines) - 1
        for line in lines:
            _line(book, sheet, row, line)
            row += 1
    return spans


def _line(book: _Book, sheet: Worksheet, row: int, line: Line) -> None:
    at = row - 1
    _put(sheet, at, 0, line.section, book.plain)
    _put(sheet, at, 1, line.what, book.plain)
    _put(sheet, at, 2, line.quantity, book.plain)
    _put(sheet, at, 3, line.unit, book.text)
    if line.section in HOURS:
        cell = f"{RATES}!$B${_RATE_ROW[HOURS[line.section]]}"
        _formula(sheet, at, 4, f"={cell}", book.rate, line.rate or Decimal(0))
    else:
        _put(sheet, at, 4, line.rate, book.rate)
    _formula(sheet, at, 5, f"=ROUND(C{row}*E{row},2)", book.money, line.amount)
    _put(sheet, at, 6, line.paper, book.text)
    unpriced = "no price" if line.section not in HOURS else "no rate"
    note = line.note if line.rate is not None else f"{unpriced}; {line.note}".rstrip("; ")
    _put(sheet, at, 7, note, book.text)


def _summary(
    book: _Book, sheet: Worksheet, estimate: Estimate, spans: dict[Section, tuple[int, int]]
) -> int:
    """Write what sections come to, and the price; return the row of the costs, from 1."""
    said = (
        f"Estimate: {estimate.job}",
        f"{estimate.rooms} rooms, all amounts in {estimate.currency}, without tax",
    )
    for row, text in enumerate(said):
        _put(sheet, row, 0, text, book.title if row == 0 else book.plain)
    _texts(sheet, 3, ("costs", "amount", "share", "lines"), book.head)
    first = 5
    costs = first + len(Section)
    for row, section in enumerate(Section, start=first):
        amount = estimate.of(section)
        span = spans.get(section)
        formula = "=0" if span is None else f"=SUM({LINES}!$F${span[0]}:$F${span[1]})"
        _put(sheet, row - 1, 0, section, book.plain)
        _formula(sheet, row - 1, 1, formula, book.money, amount)
        part = amount / estimate.costs if estimate.costs else Decimal(0)
        formula = f"=IF($B${costs}=0,0,B{row}/$B${costs})"
        _formula(sheet, row - 1, 2, formula, book.share, part)
        rows = "none" if span is None else f"sheet {LINES}, rows {span[0]} to {span[1]}"
        _put(sheet, row - 1, 3, rows, book.text)
    over, mark = _RATE_ROW[RateName.OVERHEAD_PERCENT], _RATE_ROW[RateName.MARKUP_PERCENT]
    ends = (
        ("costs", f"=SUM(B{first}:B{costs - 1})", estimate.costs),
        ("overhead", f"=ROUND(B{costs}*{RATES}!$B${over}/100,2)", estimate.overhead),
        (
            "markup",
            f"=ROUND((B{costs}+B{costs + 1})*{RATES}!$B${mark}/100,2)",
            estimate.markup,
        ),
        ("price", f"=SUM(B{costs}:B{costs + 2})", estimate.price),
    )
    for row, (name, formula, value) in enumerate(ends, start=costs):
        _put(sheet, row - 1, 0, name, book.strong)
        _formula(sheet, row - 1, 1, formula, book.strong, value)
    _put(sheet, costs + 4, 0, "Not in these figures", book.title)
    for row, words in enumerate((*estimate.missing, NEVER_COUNTED)):
        _put(sheet, costs + 5 + row, 0, words, book.plain)
    at = costs + 8 + len(estimate.missing)
    sheet.insert_chart(at, 0, _costs_chart(book, estimate, first, costs))
    return costs


def _costs_chart(book: _Book, estimate: Estimate, first: int, costs: int) -> Chart:
    chart = book.book.add_chart({"type": "bar"})
    chart.add_series(
        {
            "name": f"costs, {estimate.currency}",
            "categories": [SUMMARY, first - 1, 0, costs - 2, 0],
            "values": [SUMMARY, first - 1, 1, costs - 2, 1],
        }
    )
    chart.set_title({"name": "What costs are for"})
    chart.set_legend({"none": True})
    chart.set_y_axis({"reverse": True})
    return chart


def _sheets(book: _Book, estimate: Estimate) -> None:
    heads = (
        "stock",
        "sheets",
        "of",
        "least in this mix",
        "bound",
        "sheets m2",
        "parts m2",
        "trim m2",
        "kerf m2",
        "offcuts kept m2",
        "scrap m2",
        "yield",
        "offcuts, worth",
        "could save at most",
        "bound rests on",
    )
    sheet = book.sheet(SHEETS, (40, 8, 8, 10, 8, *[11] * 6, 9, 12, 12, 30), heads)
    for row, use in enumerate(estimate.uses, start=2):
        at, of = row - 1, use.row
        _put(sheet, at, 0, use.name, book.plain)
        counts = (of.sheets, of.material_sheets, of.least_in_mix, of.material_lower_bound)
        for column, number in enumerate(counts, start=1):
            _put(sheet, at, column, number, book.plain)
        areas = (use.sheet_m2, use.parts_m2, use.trim_m2, use.kerf_m2, use.offcuts_m2)
        for column, area in enumerate(areas, start=5):
            _put(sheet, at, column, area, book.plain)
        _formula(sheet, at, 10, f"=F{row}-SUM(G{row}:J{row})", book.plain, use.scrap_m2)
        _formula(sheet, at, 11, f"=G{row}/F{row}", book.share, use.parts_m2 / use.sheet_m2)
        _put(sheet, at, 12, use.offcut_value, book.money)
        _put(sheet, at, 13, use.could_save, book.money)
        _put(sheet, at, 14, of.bound_kind, book.text)
    if estimate.uses:
        last = len(estimate.uses)
        sheet.insert_chart(last + 2, 0, _sheets_chart(book, last))


def _sheets_chart(book: _Book, last: int) -> Chart:
    chart = book.book.add_chart({"type": "bar", "subtype": "percent_stacked"})
    for column in range(6, 11):
        chart.add_series(
            {
                "name": [SHEETS, 0, column],
                "categories": [SHEETS, 1, 0, last, 0],
                "values": [SHEETS, 1, column, last, column],
            }
        )
    chart.set_title({"name": "Where sheets go"})
    chart.set_y_axis({"reverse": True})
    chart.set_size({"width": 900, "height": 120 + 45 * last})
    return chart


def _sets(book: _Book, estimate: Estimate, costs_row: int) -> None:
    """Write what each set and hand costs by its shares of the sections, and a room's price."""
    sections = tuple(Section)
    heads = ("set and hand", "rooms", *(f"share of {s}" for s in sections), *sections)
    heads = (*heads, "costs", "price of a room")
    widths = (30, 8, *[14] * len(sections), *[13] * len(sections), 14, 14)
    sheet = book.sheet(SETS, widths, heads)
    first_share, first_cost = 2, 2 + len(sections)
    costs, price = first_cost + len(sections), f"{SUMMARY}!$B${costs_row + 3}"
    all_costs = f"{SUMMARY}!$B${costs_row}"
    for row, share in enumerate(estimate.sets, start=2):
        at = row - 1
        _put(sheet, at, 0, share.name, book.plain)
        _put(sheet, at, 1, share.rooms, book.plain)
        for place, section in enumerate(sections):
            _put(sheet, at, first_share + place, share.shares[section], book.share)
            of_section = f"{SUMMARY}!$B${5 + place}"
            formula = f"=ROUND({of_section}*{_column(first_share + place)}{row},2)"
            value = estimate.of_set(share, section)
            _formula(sheet, at, first_cost + place, formula, book.money, value)
        ends = f"{_column(first_cost)}{row}:{_column(costs - 1)}{row}"
        _formula(sheet, at, costs, f"=SUM({ends})", book.money, estimate.set_costs(share))
        formula = (
            f"=IF({all_costs}*B{row}=0,0,ROUND({_column(costs)}{row}*{price}/{all_costs}/B{row},2))"
        )
        _formula(sheet, at, costs + 1, formula, book.strong, estimate.room_price(share))
    row = len(estimate.sets) + 2
    _put(sheet, row - 1, 0, "beside the sets, and rounding", book.plain)
    above = f"{_column(costs)}2:{_column(costs)}{row - 1}"
    rest = estimate.costs - total(estimate.set_costs(share) for share in estimate.sets)
    formula = f"={all_costs}-SUM({above})" if estimate.sets else f"={all_costs}"
    _formula(sheet, row - 1, costs, formula, book.money, rest)


def _column(number: int) -> str:
    """Return the letters of a column, counted from 0, of the first 26."""
    return chr(ord("A") + number)
