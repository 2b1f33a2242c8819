"""What else the job could be, on paper: other numbers of rooms, other ways to take the stock."""

from __future__ import annotations

from collections.abc import Iterator

from export.estimate.estimate import HOURS, Estimate, RoomCount, Section
from export.estimate.money import money, total
from export.estimate.stock_choice import StockChoice
from export.papers.blocks import Block, Named, Paragraph, Row, Share, Table

_SAID = (
    "All rooms alike in price, and their sets and hands mixed as in this job, as near as whole"
    " rooms get. What is bought is bought whole at each count: sheets, bars, rolls, packs. Sheets"
    " are a nest of its own, put together from this job's layouts and a short search, so that so"
    " many do for certain. At least: no nest brings a room below. The router's time is reckoned"
    " from this job's cut files: by the sheet, by the part and by the area of parts. Nothing is"
    " added for setting up the job itself. The workbook has every line, on its sheet Other counts."
)
_CHOICES = (
    "Each size alone is a nest of its own, from this job's layouts or a short search; all sizes"
    " mixed is what is cut. No nest of a line costs less than its least. Only sheets are counted:"
    " other numbers of sheets take other hours of the router, which are not in this table."
)


def count_blocks(estimate: Estimate) -> Iterator[Block]:
    """Yield the price of a room at each count of rooms, where there are several."""
    if len(estimate.counts) < 2:
        return
    table = Table(
        heads=(
            "rooms",
            "sheets",
            "boards",
            "other goods",
            "machine, labor",
            "price",
            "a room",
            "at least",
        ),
        widths=(Share(), 15.0, *[None] * 6),
        rows=tuple(map(_count_row, estimate.counts)),
        right=tuple(range(8)),
        small=True,
    )
    mixes = (f"{_rooms(count)}: {count.mix_words}." for count in estimate.counts)
    beyond = (
        f"With {_rooms(count)} more than is on hand: {'; '.join(count.beyond)}. The estimate"
        " takes it that more can be bought at the same price."
        for count in estimate.counts
        if count.beyond
    )
    said = [Paragraph(text) for text in (_SAID, *beyond)]
    if len(estimate.sets) > 1:
        said.append(Paragraph(" ".join(mixes)))
    yield Named(title="Price of a room with more rooms, or fewer", blocks=(table, *said))


def _rooms(count: RoomCount) -> str:
    return "1 room" if count.rooms == 1 else f"{count.rooms} rooms"


def _count_row(count: RoomCount) -> Row:
    goods = (s for s in Section if s is not Section.BOARDS and s not in HOURS)
    return (
        f"{count.rooms}, this job" if count.own else str(count.rooms),
        str(count.sheets),
        money(count.of(Section.BOARDS)),
        money(total(count.of(section) for section in goods)),
        money(total(count.of(section) for section in HOURS)),
        money(count.price),
        money(count.room_price),
        money(count.least_room_price),
    )


def choice_blocks(estimate: Estimate) -> Iterator[Block]:
    """Yield what each size of a material costs alone and mixed, where there are several."""
    if not estimate.choices:
        return
    table = Table(
        heads=("material and sizes", "sheets", "yield", "cost of sheets", "at least"),
        widths=(Share(), 16.0, 17.0, 28.0, 28.0),
        rows=tuple(map(_choice_row, estimate.choices)),
        right=(1, 2, 3, 4),
        small=True,
    )
    reasons = tuple(f"{each.name}: {each.why_not}." for each in estimate.choices if each.why_not)
    said = tuple(Paragraph(text) for text in (*reasons, _CHOICES))
    yield Named(title="Each size of sheet alone, and mixed", blocks=(table, *said))


def _choice_row(choice: StockChoice) -> Row:
    name = f"{choice.name}, this job" if choice.own else choice.name
    if choice.why_not:
        return name, "", "", "no price", ""
    return (
        name,
        str(choice.sheets),
        f"{100 * choice.share_used:.1f} %",
        money(choice.cost),
        money(choice.least_cost),
    )
