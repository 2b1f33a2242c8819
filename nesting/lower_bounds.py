"""Numbers that no answer can go below. Each is valid, none rests on a search.

The gap is dealt with exactly: growing every piece and every trimmed sheet by one gap to the right
and upwards turns "keep the gap" into "do not overlap", so areas and sides simply add up.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import inf

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import BoundKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """The least number of sheets, and what that rests on."""

    sheets: int
    kind: BoundKind


def sheets_bound(instance: Instance) -> Bound | None:
    """Return the best bound on the number of sheets; None when the stock has too little area.

    It holds when every piece fits some stock.
    """
    if not instance.pieces:
        return Bound(sheets=0, kind=BoundKind.NOTHING)
    by_area = area_bound(instance)
    if by_area is None:
        return None
    by_large_pieces = large_piece_bound(instance)
    if by_large_pieces > by_area:
        return Bound(sheets=by_large_pieces, kind=BoundKind.LARGE_PIECES)
    return Bound(sheets=by_area, kind=BoundKind.AREA)


def area_bound(instance: Instance) -> int | None:
    """Return how many sheets the pieces' area needs; None when the stock on hand has too little.

    The largest sheets are taken first, as many of each as are on hand: no other mix of as many
    sheets holds more area.
    """
    missing = _grown_piece_area(instance)
    sheets = 0
    for area, stock in _stocks_by(instance, lambda area, _: -area):
        needed = max(0, -(-missing // area))
        taken = needed if stock.on_hand is None else min(needed, stock.on_hand)
        sheets += taken
        missing -= taken * area
    return sheets if missing <= 0 else None


def price_bound(instance: Instance) -> float | None:
    """Return a price that the pieces' area costs at least; None when the stock has too little area.

    Sheets may be bought in fractions, the cheapest area first: the exact optimum of that
    relaxation.
    """
    missing: float = _grown_piece_area(instance)
    price = 0.0
    for area, stock in _stocks_by(instance, lambda area, stock: stock.price / area):
        limit = inf if stock.on_hand is None else stock.on_hand
        taken = min(missing / area, limit)
        price += taken * stock.price
        if taken < limit:
            return price
        missing -= taken * area
    return price if missing <= 0 else None


def large_piece_bound(instance: Instance) -> int:
    """Return how many pieces are so large that no two of them share a sheet of any stock."""
    rooms = [grown_room(stock, instance.rules) for stock in instance.stocks if stock.on_hand != 0]
    gap = instance.rules.gap
    return sum(
        piece.quantity
        for piece in instance.pieces
        if all(_over_half(sides, room) for sides in grown_sides(piece, gap) for room in rooms)
    )


def grown_sides(piece: Piece, gap: int) -> Iterator[tuple[int, int]]:
    """Yield the piece's size along x and y, grown by the gap, in each turn it may take (ticks)."""
    yield piece.length + gap, piece.width + gap
    if piece.turn is Turn.QUARTER:
        yield piece.width + gap, piece.length + gap


def grown_room(stock: Stock, rules: SheetRules) -> tuple[int, int]:
    """Return the trimmed sheet's size along x and y, grown by the gap (ticks)."""
    lost = rules.gap - 2 * rules.trim
    return stock.length + lost, stock.width + lost


def _over_half(sides: tuple[int, int], room: tuple[int, int]) -> bool:
    """Return whether the piece, if it lies in this room at all, leaves none for one of its like."""
    fits = sides[0] <= room[0] and sides[1] <= room[1]
    return not fits or (2 * sides[0] > room[0] and 2 * sides[1] > room[1])


def _grown_piece_area(instance: Instance) -> int:
    gap = instance.rules.gap
    return sum((p.length + gap) * (p.width + gap) * p.quantity for p in instance.pieces)


def _stocks_by(instance: Instance, key: Callable[[int, Stock], float]) -> list[tuple[int, Stock]]:
    """Return the grown area of each stock's room with the stock, by rising key."""
    rooms = [(grown_room(stock, instance.rules), stock) for stock in instance.stocks]
    areas = [(length * width, stock) for (length, width), stock in rooms]
    return sorted(areas, key=lambda entry: key(*entry))
