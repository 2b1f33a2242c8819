"""The least number of sheets by trying everything: whole-number places, tiny questions only."""

from collections.abc import Iterator
from functools import cache

from nesting.instance import Instance, Turn

Rectangle = tuple[int, int, bool]
Taken = list[tuple[int, int, int, int]]


def least_sheets(instance: Instance) -> int:
    """Return the true optimum for one unlimited stock, by dynamic programming over subsets."""
    (stock,) = instance.stocks
    gap, trim = instance.rules.gap, instance.rules.trim
    room = stock.length - 2 * trim, stock.width - 2 * trim
    parts = [
        (piece.length, piece.width, piece.turn is Turn.QUARTER)
        for piece in instance.pieces
        for _ in range(piece.quantity)
    ]

    @cache
    def fits_one(chosen: int) -> bool:
        return _fits([part for n, part in enumerate(parts) if chosen >> n & 1], [], room, gap)

    @cache
    def least(chosen: int) -> int:
        if not chosen:
            return 0
        sheets = [sub for sub in _subsets_with_lowest(chosen) if fits_one(sub)]
        return 1 + min(least(chosen & ~sub) for sub in sheets)

    return least((1 << len(parts)) - 1)


def _subsets_with_lowest(chosen: int) -> Iterator[int]:
    lowest = chosen & -chosen
    rest = chosen & ~lowest
    sub = rest
    while True:
        yield sub | lowest
        if not sub:
            return
        sub = (sub - 1) & rest


def _fits(parts: list[Rectangle], taken: Taken, room: tuple[int, int], gap: int) -> bool:
    if not parts:
        return True
    length, width, turnable = parts[0]
    sides = {(length, width), (width, length)} if turnable else {(length, width)}
    for along, across in sides:
        for x in range(room[0] - along + 1):
            for y in range(room[1] - across + 1):
                box = (x, y, x + along, y + across)
                free = all(_clear(box, other, gap) for other in taken)
                if free and _fits(parts[1:], [*taken, box], room, gap):
                    return True
    return False


def _clear(one: tuple[int, int, int, int], other: tuple[int, int, int, int], gap: int) -> bool:
    along = one[0] >= other[2] + gap or other[0] >= one[2] + gap
    across = one[1] >= other[3] + gap or other[1] >= one[3] + gap
    return along or across
