"""The sheet that tells what each size of a material costs alone, beside all of them mixed."""

from __future__ import annotations

from export.estimate.book import Book, Chart, Worksheet, formula_in, put
from export.estimate.estimate import Estimate
from export.estimate.stock_choice import StockChoice

STOCK = "Stock"
_HEADS = (
    *("stock", "sheets", "sheets m2", "parts m2", "yield", "cost of sheets"),
    *("no nest costs less", "why there is no price"),
)
_WIDTHS = (52, 9, 12, 12, 10, 15, 15, 50)
_COST = 5


def choice_sheet(book: Book, estimate: Estimate) -> None:
    """Add the sheet; none where no material has several sizes in stock."""
    if not estimate.choices:
        return
    sheet = book.sheet(STOCK, _WIDTHS, _HEADS)
    for row, choice in enumerate(estimate.choices, start=2):
        _row(book, sheet, row, choice)
    last = len(estimate.choices)
    sheet.insert_chart(last + 2, 0, _chart(book, estimate, last))


def _row(book: Book, sheet: Worksheet, row: int, choice: StockChoice) -> None:
    at = row - 1
    put(sheet, at, 0, choice.name, book.title if choice.own else book.plain)
    if choice.why_not:
        put(sheet, at, 7, choice.why_not, book.text)
        return
    put(sheet, at, 1, choice.sheets, book.plain)
    put(sheet, at, 2, choice.sheet_m2, book.plain)
    put(sheet, at, 3, choice.parts_m2, book.plain)
    formula_in(sheet, at, 4, f"=IF(C{row}=0,0,D{row}/C{row})", book.share, choice.share_used)
    put(sheet, at, _COST, choice.cost, book.strong if choice.own else book.money)
    put(sheet, at, _COST + 1, choice.least_cost, book.money)


def _chart(book: Book, estimate: Estimate, last: int) -> Chart:
    chart = book.book.add_chart({"type": "bar"})
    for column, fill in ((_COST, "#404040"), (_COST + 1, "#C0C0C0")):
        chart.add_series(
            {
                "name": [STOCK, 0, column],
                "categories": [STOCK, 1, 0, last, 0],
                "values": [STOCK, 1, column, last, column],
                "fill": {"color": fill},
                "border": {"color": "black"},
            }
        )
    chart.set_title({"name": f"What the sheets cost, {estimate.currency}"})
    chart.set_x_axis({"min": 0})
    chart.set_y_axis({"reverse": True})
    chart.set_legend({"position": "bottom"})
    chart.set_size({"width": 900, "height": 160 + 55 * last})
    return chart
