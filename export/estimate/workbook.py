"""The estimate as a workbook, its formulas live: what is changed on the sheet of rates, or in a
quantity or price, changes all that rests on it.
"""

from __future__ import annotations

from decimal import Decimal

from export.estimate.book import (
    Book,
    Chart,
    Worksheet,
    column_of,
    formula_in,
    put,
    texts,
)
from export.estimate.choice_sheet import choice_sheet
from export.estimate.count_sheets import count_sheets
from export.estimate.estimate import NEVER_COUNTED, Estimate, Section
from export.estimate.line_rows import (
    LINE_HEADS,
    LINE_WIDTHS,
    RATE_ROW,
    RATES,
    SUMMARY,
    line_row,
)
from export.estimate.money import as_written, total
from export.estimate.rates import RateName

_RATE_WORDS = {
    RateName.MACHINE_HOUR: "an hour of the router, its operator in",
    RateName.BENCH_HOUR: "an hour of a person at the bench",
    RateName.INSTALL_HOUR: "an hour of a person on site",
    RateName.OVERHEAD_PERCENT: "percent, added to all costs",
    RateName.MARKUP_PERCENT: "percent, added to costs and overhead",
}
FIRST_SECTION_ROW = 5  # of the summary
LINES, SHEETS, SETS = "Lines", "Sheets", "Sets"


def estimate_xlsx(estimate: Estimate) -> bytes:
    """Return the workbook. Cells hold what the tool reckoned, beside the formulas that give it."""
    book = Book()
    summary = book.sheet(SUMMARY, (34, 16, 12, 60), ())
    _rates(book, estimate)
    spans = _lines(book, estimate)
    _sheets(book, estimate)
    total_row = _summary(book, summary, estimate, spans)
    _sets(book, estimate, total_row)
    count_sheets(book, estimate, FIRST_SECTION_ROW)
    choice_sheet(book, estimate)
    book.book.close()
    return book.stream.getvalue()


def _rates(book: Book, estimate: Estimate) -> None:
    heads = ("rate", f"in {estimate.currency}, or percent", "what it is", "")
    sheet = book.sheet(RATES, (22, 24, 44, 16), heads)
    for name, row in RATE_ROW.items():
        value: float | None = getattr(estimate.rates, name)
        rate = None if value is None else as_written(value)
        put(sheet, row - 1, 0, name.replace("_", " "), book.plain)
        put(sheet, row - 1, 1, rate, book.rate)
        put(sheet, row - 1, 2, _RATE_WORDS[name], book.text)
        put(sheet, row - 1, 3, "no rate" if rate is None else None, book.text)


def _lines(book: Book, estimate: Estimate) -> dict[Section, tuple[int, int]]:
    """Write all lines; return first and last row of each section that has any, from 1."""
    sheet = book.sheet(LINES, LINE_WIDTHS, LINE_HEADS)
    spans: dict[Section, tuple[int, int]] = {}
    row = 2
    for section in Section:
        lines = [line for line in estimate.lines if line.section is section]
        if lines:
            spans[section] = row, row + len(lines) - 1
        for line in lines:
            line_row(book, sheet, row, line)
            row += 1
    return spans


def _summary(
    book: Book, sheet: Worksheet, estimate: Estimate, spans: dict[Section, tuple[int, int]]
) -> int:
    """Write what sections come to, and the price; return the row of the costs, from 1."""
    said = (
        f"Estimate: {estimate.job}",
        f"{estimate.rooms} rooms, all amounts in {estimate.currency}, without tax",
    )
    for row, text in enumerate(said):
        put(sheet, row, 0, text, book.title if row == 0 else book.plain)
    texts(sheet, 3, ("costs", "amount", "share", "lines"), book.head)
    first = FIRST_SECTION_ROW
    costs = first + len(Section)
    for row, section in enumerate(Section, start=first):
        amount = estimate.of(section)
        span = spans.get(section)
        formula = "=0" if span is None else f"=SUM({LINES}!$F${span[0]}:$F${span[1]})"
        put(sheet, row - 1, 0, section, book.plain)
        formula_in(sheet, row - 1, 1, formula, book.money, amount)
        part = amount / estimate.costs if estimate.costs else Decimal(0)
        formula = f"=IF($B${costs}=0,0,B{row}/$B${costs})"
        formula_in(sheet, row - 1, 2, formula, book.share, part)
        rows = "none" if span is None else f"sheet {LINES}, rows {span[0]} to {span[1]}"
        put(sheet, row - 1, 3, rows, book.text)
    over, mark = RATE_ROW[RateName.OVERHEAD_PERCENT], RATE_ROW[RateName.MARKUP_PERCENT]
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
        put(sheet, row - 1, 0, name, book.strong)
        formula_in(sheet, row - 1, 1, formula, book.strong, value)
    put(sheet, costs + 4, 0, "Not in these figures", book.title)
    for row, words in enumerate((*estimate.missing, NEVER_COUNTED)):
        put(sheet, costs + 5 + row, 0, words, book.plain)
    at = costs + 8 + len(estimate.missing)
    sheet.insert_chart(at, 0, _costs_chart(book, estimate, first, costs))
    return costs


def _costs_chart(book: Book, estimate: Estimate, first: int, costs: int) -> Chart:
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


def _sheets(book: Book, estimate: Estimate) -> None:
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
        put(sheet, at, 0, use.name, book.plain)
        counts = (of.sheets, of.material_sheets, of.least_in_mix, of.material_lower_bound)
        for column, number in enumerate(counts, start=1):
            put(sheet, at, column, number, book.plain)
        areas = (use.sheet_m2, use.parts_m2, use.trim_m2, use.kerf_m2, use.offcuts_m2)
        for column, area in enumerate(areas, start=5):
            put(sheet, at, column, area, book.plain)
        formula_in(sheet, at, 10, f"=F{row}-SUM(G{row}:J{row})", book.plain, use.scrap_m2)
        formula_in(sheet, at, 11, f"=G{row}/F{row}", book.share, use.parts_m2 / use.sheet_m2)
        put(sheet, at, 12, use.offcut_value, book.money)
        put(sheet, at, 13, use.could_save, book.money)
        put(sheet, at, 14, of.bound_kind, book.text)
    if estimate.uses:
        last = len(estimate.uses)
        sheet.insert_chart(last + 2, 0, _sheets_chart(book, last))


def _sheets_chart(book: Book, last: int) -> Chart:
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


def _sets(book: Book, estimate: Estimate, costs_row: int) -> None:
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
        put(sheet, at, 0, share.name, book.plain)
        put(sheet, at, 1, share.rooms, book.plain)
        for place, section in enumerate(sections):
            put(sheet, at, first_share + place, share.shares[section], book.share)
            of_section = f"{SUMMARY}!$B${FIRST_SECTION_ROW + place}"
            formula = f"=ROUND({of_section}*{column_of(first_share + place)}{row},2)"
            value = estimate.of_set(share, section)
            formula_in(sheet, at, first_cost + place, formula, book.money, value)
        ends = f"{column_of(first_cost)}{row}:{column_of(costs - 1)}{row}"
        formula_in(sheet, at, costs, f"=SUM({ends})", book.money, estimate.set_costs(share))
        room = f"ROUND({column_of(costs)}{row}*{price}/{all_costs}/B{row},2)"
        formula = f"=IF({all_costs}*B{row}=0,0,{room})"
        formula_in(sheet, at, costs + 1, formula, book.strong, estimate.room_price(share))
    row = len(estimate.sets) + 2
    put(sheet, row - 1, 0, "beside the sets, and rounding", book.plain)
    above = f"{column_of(costs)}2:{column_of(costs)}{row - 1}"
    rest = estimate.costs - total(estimate.set_costs(share) for share in estimate.sets)
    formula = f"={all_costs}-SUM({above})" if estimate.sets else f"={all_costs}"
    formula_in(sheet, row - 1, costs, formula, book.money, rest)
