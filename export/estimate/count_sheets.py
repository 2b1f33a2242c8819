"""The sheets that tell the price of a room at several counts of rooms, and every line behind it."""

from __future__ import annotations

from export.estimate.book import Book, Chart, Worksheet, column_of, formula_in, put
from export.estimate.estimate import Estimate, RoomCount, Section
from export.estimate.line_rows import (
    LINE_HEADS,
    LINE_WIDTHS,
    RATE_ROW,
    RATES,
    SUMMARY,
    line_row,
)
from export.estimate.rates import RateName

COUNTS, COUNT_LINES = "Counts", "Other counts"
_FIRST_SECTION = 2
_COSTS = _FIRST_SECTION + len(Section)
_ROOM_PRICE = _COSTS + 4
_HEADS = (
    *("rooms", "sheets", *Section, "costs", "overhead", "markup", "price"),
    *("price of a room", "no nest brings a room below", "another nest could save at most"),
    *("rooms of each set and hand", "more than on hand"),
)
_WIDTHS = (8, 8, *[13] * len(Section), 14, 12, 12, 14, 13, 15, 15, 44, 30)

Spans = dict[tuple[int, Section], tuple[int, int]]
"""First and last row of the lines of a count and section, from 1."""


def count_sheets(book: Book, estimate: Estimate, first_of_summary: int) -> None:
    """Add both sheets, the prices before their lines; `first_of_summary` is the row (from 1) of the
    first section there. The job's own count has its figures from there, the others from their
    lines.
    """
    if not estimate.counts:
        return
    prices = book.sheet(COUNTS, _WIDTHS, _HEADS)
    spans = _lines(book, estimate)
    for row, count in enumerate(estimate.counts, start=2):
        _price(book, prices, row, count, spans, first_of_summary)
    if len(estimate.counts) > 1:
        last = len(estimate.counts)
        prices.insert_chart(last + 2, 0, _chart(book, estimate, last))


def _lines(book: Book, estimate: Estimate) -> Spans:
    heads = (*LINE_HEADS[:6], "as in", "how", "rooms")
    sheet = book.sheet(COUNT_LINES, (*LINE_WIDTHS, 8), heads)
    spans: Spans = {}
    row = 2
    for count in estimate.counts:
        for section in Section:
            lines = [] if count.own else [line for line in count.lines if line.section is section]
            if lines:
                spans[count.rooms, section] = row, row + len(lines) - 1
            for line in lines:
                line_row(book, sheet, row, line)
                put(sheet, row - 1, 8, count.rooms, book.plain)
                row += 1
    return spans


def _price(
    book: Book, sheet: Worksheet, row: int, count: RoomCount, spans: Spans, first: int
) -> None:
    at = row - 1
    put(sheet, at, 0, count.rooms, book.plain)
    put(sheet, at, 1, count.sheets, book.plain)
    for place, section in enumerate(Section):
        span = spans.get((count.rooms, section))
        formula = "=0" if span is None else f"=SUM('{COUNT_LINES}'!$F${span[0]}:$F${span[1]})"
        if count.own:
            formula = f"={SUMMARY}!$B${first + place}"
        formula_in(sheet, at, _FIRST_SECTION + place, formula, book.money, count.of(section))
    costs, over, mark, price, _, _, saves = (
        f"{column_of(_COSTS + place)}{row}" for place in range(7)
    )
    percents = (RateName.OVERHEAD_PERCENT, RateName.MARKUP_PERCENT)
    overhead, markup = (f"{RATES}!$B${RATE_ROW[name]}" for name in percents)
    ends = f"{column_of(_FIRST_SECTION)}{row}:{column_of(_COSTS - 1)}{row}"
    formulas = (
        (f"=SUM({ends})", count.costs),
        (f"=ROUND({costs}*{overhead}/100,2)", count.overhead),
        (f"=ROUND(({costs}+{over})*{markup}/100,2)", count.markup),
        (f"=SUM({costs}:{mark})", count.price),
        (f"=ROUND({price}/A{row},2)", count.room_price),
        (
            f"=IF({costs}=0,0,ROUND({price}*({costs}-{saves})/{costs}/A{row},2))",
            count.least_room_price,
        ),
    )
    for place, (formula, value) in enumerate(formulas):
        form = book.strong if _COSTS + place == _ROOM_PRICE else book.money
        formula_in(sheet, at, _COSTS + place, formula, form, value)
    put(sheet, at, _COSTS + 6, count.could_save, book.money)
    said = (count.mix_words, "; ".join(count.beyond))
    for column, text in enumerate(said, start=_COSTS + 7):
        put(sheet, at, column, text, book.wrapped)
    columns = zip(said, _WIDTHS[-2:], strict=True)
    lines = max(1, *(-(-len(text) // (width - 4)) for text, width in columns))
    sheet.set_row(at, 15 * lines)  # programs do not all make room by themselves


def _chart(book: Book, estimate: Estimate, last: int) -> Chart:
    """Return the price of a room over the count of rooms, which grow tenfold at each line."""
    chart = book.book.add_chart({"type": "scatter", "subtype": "straight_with_markers"})
    for column in (_ROOM_PRICE, _ROOM_PRICE + 1):
        chart.add_series(
            {
                "name": [COUNTS, 0, column],
                "categories": [COUNTS, 1, 0, last, 0],
                "values": [COUNTS, 1, column, last, column],
                **_drawn(column == _ROOM_PRICE),
            }
        )
    chart.set_title({"name": f"Price of a room, {estimate.currency}"})
    chart.set_x_axis({"name": "rooms", "log_base": 10, "min": 1, "major_gridlines": {"visible": 1}})
    chart.set_y_axis({"min": 0})
    chart.set_legend({"position": "bottom"})
    chart.set_size({"width": 900, "height": 460})
    return chart


def _drawn(whole: bool) -> dict[str, object]:
    """Return how a line is drawn, so that black and white tells them apart."""
    return {
        "line": {"color": "black", "width": 1.5, "dash_type": "solid" if whole else "dash"},
        "marker": {
            "type": "circle" if whole else "diamond",
            "size": 7,
            "border": {"color": "black"},
            "fill": {"color": "black" if whole else "white"},
        },
    }
