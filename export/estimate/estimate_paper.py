"""The estimate on paper: the price first, then what it rests on."""

from __future__ import annotations

from collections.abc import Iterator

from export.estimate.compared_paper import choice_blocks, count_blocks
from export.estimate.estimate import HOURS, NEVER_COUNTED, Estimate, Line, Section
from export.estimate.money import as_written, money, shown_price, total
from export.estimate.rates import RateName
from export.papers.blocks import Block, Head, Named, Page, Paragraph, Share, Table, Ticked
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from parametric.stock.paper import Paper

_ROUNDED = (
    "Hours are rounded to a thousandth, then each line to the cent, halves up; everything else is"
    " a sum of lines. shop/estimate.xlsx has the same lines with live formulas."
)
_SHARED = (
    "Boards and machine time go to sets by the area of their parts in each material, bands and bars"
    " by length, hardware by what it would cost piece by piece, hours are their own. A room's price"
    " has its part of overhead and markup. Shares are rounded, so that these rows may differ from"
    " the whole by some cents."
)
_AREAS = (
    "Yield counts parts without notches and openings, which are scrap; kerf is half a gap around"
    " each part. Offcuts are worth what they cost as sheets; that is not taken off. Of: sheets"
    " of the material in all its stock; least: the least number that is possible in this mix of"
    " sizes. What any other nest could save at most stands at the first stock of a material."
)
_KEPT_WHOLE = 12
"""So many lines of a table stay on one page."""


def estimate_source(estimate: Estimate, paper: Paper) -> Source:
    """Return the pages: sums and what is missing, rooms, sheets, then every line."""
    rooms = "1 room" if estimate.rooms == 1 else f"{estimate.rooms} rooms"
    page = Page(
        blocks=(
            Head(
                title="Estimate",
                below=f"{rooms}; amounts in {estimate.currency}, without tax",
            ),
            _sums(estimate),
            Ticked(title="Not in these figures", items=(*estimate.missing, NEVER_COUNTED)),
            *_sets(estimate),
            *count_blocks(estimate),
            *_sheets(estimate),
            *choice_blocks(estimate),
            Named(title="Every line", blocks=(Paragraph(_ROUNDED),), with_next=True),
            *_lines(estimate),
        )
    )
    return document(page_format(paper), estimate.job, (page,))


def _sums(estimate: Estimate) -> Block:
    rates = estimate.rates
    rows = [(each.value, _rate(estimate, each), money(estimate.of(each))) for each in Section]
    rows += [
        ("costs", "", money(estimate.costs)),
        ("overhead", _percent(rates.overhead_percent), money(estimate.overhead)),
        ("markup", _percent(rates.markup_percent), money(estimate.markup)),
        ("price", "", money(estimate.price)),
    ]
    return Table(
        heads=("", "rate", "amount"),
        widths=(Share(), 60.0, 40.0),
        rows=tuple(rows),
        right=(2,),
    )


def _rate(estimate: Estimate, section: Section) -> str:
    if section not in HOURS:
        return ""
    name: RateName = HOURS[section]
    rate: float | None = getattr(estimate.rates, name)
    if rate is None:
        return "no rate"
    hours = total(line.quantity for line in estimate.lines if line.section is section)
    return f"{hours:,f} hours at {shown_price(as_written(rate))}"


def _percent(percent: float | None) -> str:
    return "no rate" if percent is None else f"{percent:g} %"


def _sets(estimate: Estimate) -> Iterator[Block]:
    rows = tuple(
        (
            each.name,
            str(each.rooms),
            money(estimate.set_costs(each)),
            money(estimate.room_price(each)),
        )
        for each in estimate.sets
    )
    table = Table(
        heads=("set and hand", "rooms", "costs of all", "price of a room"),
        widths=(Share(), 18.0, 36.0, 36.0),
        rows=rows,
        right=(1, 2, 3),
    )
    if rows:
        yield Named(title="Rooms", blocks=(table, Paragraph(_SHARED)), whole=True)


def _sheets(estimate: Estimate) -> Iterator[Block]:
    rows = tuple(
        (
            use.name,
            str(use.row.sheets),
            str(use.row.material_sheets),
            str(use.row.least_in_mix),
            *(
                f"{100 * area / use.sheet_m2:.1f} %"
                for area in (use.parts_m2, use.trim_m2, use.kerf_m2, use.offcuts_m2, use.scrap_m2)
            ),
            money(use.offcut_value),
            "" if use.could_save is None else money(use.could_save),
        )
        for use in estimate.uses
    )
    table = Table(
        heads=(
            *("stock", "sheets", "of", "least", "yield", "trim", "kerf", "offcuts", "scrap"),
            *("offcuts worth", "could save"),
        ),
        widths=(Share(), *[None] * 10),
        rows=rows,
        right=tuple(range(1, 11)),
        small=True,
    )
    if rows:
        whole = len(rows) <= _KEPT_WHOLE
        yield Named(title="Where sheets go", blocks=(table, Paragraph(_AREAS)), whole=whole)


def _lines(estimate: Estimate) -> Iterator[Block]:
    for section in Section:
        lines = [line for line in estimate.lines if line.section is section]
        table = Table(
            heads=("what", "quantity", "unit", "rate", "amount", "found in"),
            widths=(Share(), 18.0, 26.0, 17.0, 21.0, 42.0),
            rows=tuple(map(_row, lines)),
            right=(1, 3, 4),
            small=True,
        )
        if lines:
            title = f"{section.capitalize()}: {money(estimate.of(section))}"
            yield Named(title=title, blocks=(table,), whole=len(lines) <= _KEPT_WHOLE)


def _row(line: Line) -> tuple[str, ...]:
    missing = "no rate" if line.section in HOURS else "no price"
    return (
        f"{line.what} ({line.note})" if line.note else line.what,
        f"{line.quantity:f}",
        line.unit,
        missing if line.rate is None else shown_price(line.rate),
        "" if line.rate is None else money(line.amount),
        line.paper,
    )
