"""What is said of stock that does not suffice: how much there is, and what to buy at least."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.wording import counted
from export.tables.csv_text import shown_size
from nesting.bounds.stock_need import Shortfall, StockNeed
from nesting.question.errors import NotEnoughStock, OversizedPiece
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units
from parametric.stock.materials import SheetMaterial

MOST_NAMED = 8
"""Parts that one line names; of more it says how many."""


def what_to_buy(material: SheetMaterial, shortfall: Shortfall, units: Units) -> str:
    """Return how many sheets of which stock are missing at least, whatever way that can be met."""
    alone = [(need, need.alone) for need in shortfall.stocks if need.alone is not None]
    if alone:
        ways = [_more(count, need, material, units) for need, count in alone]
        if len(ways) == 1:
            return f"buy at least {ways[0]}"
        each = ", or at least ".join(ways)
        return f"buy at least {each}; of several together at least {shortfall.more}"
    apart = [need for need in shortfall.stocks if need.anyway]
    if shortfall.more is None or not apart:
        return "list stock that can be bought, or lift the limit of what is on hand"
    ways = [_more(need.anyway, need, material, units) for need in apart]
    return f"buy at least {' and at least '.join(ways)}, at least {shortfall.more} in all"


def what_was_not_placed(
    material: SheetMaterial, error: NotEnoughStock, used: int, units: Units
) -> tuple[str, str]:
    """Return which parts a nest found no place for, and what surely does; `used` sheets were taken
    by parts that lie the other way up.
    """
    short = named(f"{each.quantity} x {each.piece}" for each in error.short)
    beside = f", {counted(used, 'sheet')} taken by parts that lie the other way up" if used else ""
    ways = [
        f"{stock.more_needed} more of {_sheet(stock.stock, material, units)}"
        for stock in error.stocks
        if stock.more_needed
    ]
    advice = f"{', or '.join(ways)} would surely do" if ways else "add stock that holds them"
    return f"no nest was found that places all parts; left over: {short}{beside}", advice


def too_big_text(piece: OversizedPiece, units: Units) -> str:
    """Return which part fits no sheet in which turns, and what each sheet has room for."""
    rooms = "; ".join(
        f"{each.stock} has room for {_size(each.room_length, each.room_width, units)},"
        f" {each.obstacle}"
        for each in piece.stocks
    )
    size, turns = _size(piece.length, piece.width, units), " nor ".join(piece.turns)
    return f"{piece.piece} of {size} fits no sheet ({turns}): {rooms}"


def _size(length: int, width: int, units: Units) -> str:
    """Return sides in ticks as people read them."""
    return shown_size(to_mm(length), to_mm(width), units)


def named(texts: Iterable[str]) -> str:
    """Return the texts one after the other, and how many more there are than a line can name."""
    listed = list(texts)
    more = len(listed) - MOST_NAMED
    return "; ".join(listed[:MOST_NAMED]) + (f"; and {more} more" if more > 0 else "")


def _more(count: int, need: StockNeed, material: SheetMaterial, units: Units) -> str:
    return f"{count} more of {_sheet(need.stock, material, units)}"


def _sheet(key: str, material: SheetMaterial, units: Units) -> str:
    sheet = next(each for each in material.stock if each.key == key)
    return f"{key} ({shown_size(sheet.length_mm, sheet.width_mm, units)})"
