"""The true optimum by trying everything: whole-number places and cuts, tiny questions only."""

from collections.abc import Iterator
from functools import cache
from math import inf

from nesting.question.instance import Instance, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules

Rectangle = tuple[int, int, bool]
Box = tuple[int, int, int, int]
"""Left, bottom, right, top."""


def least_sheets(instance: Instance) -> int:
    """Return the fewest sheets of any answer.

    Raises:
        OverflowError: the sheets on hand do not hold all pieces.
    """
    return int(least_cost(instance, {stock.id: 1.0 for stock in instance.stocks}))


def least_cost(instance: Instance, costs: dict[str, float]) -> float:
    """Return the least sum of costs of sheets that hold everything; infinite when none do.

    Sheets on hand are kept to. By dynamic programming over subsets of the pieces.
    """
    parts, stocks = parts_of(instance), instance.stocks

    @cache
    def fits(chosen: int, stock: Stock) -> bool:
        own = [part for n, part in enumerate(parts) if chosen >> n & 1]
        return fit_one_sheet(own, stock, instance.rules)

    @cache
    def least(chosen: int, used: tuple[int, ...]) -> float:
        if not chosen:
            return 0.0
        found = inf
        for place, stock in enumerate(stocks):
            if stock.on_hand is not None and used[place] >= stock.on_hand:
                continue
            more = (*used[:place], used[place] + 1, *used[place + 1 :])
            for sub in _subsets_with_lowest(chosen):
                if fits(sub, stock):
                    found = min(found, costs[stock.id] + least(chosen & ~sub, more))
        return found

    return least((1 << len(parts)) - 1, (0,) * len(stocks))


def parts_of(instance: Instance) -> list[Rectangle]:
    """Return length, width and whether it may turn of every single piece."""
    return [
        (piece.length, piece.width, piece.turn is Turn.QUARTER)
        for piece in instance.pieces
        for _ in range(piece.quantity)
    ]


def fit_one_sheet(parts: list[Rectangle], stock: Stock, rules: SheetRules) -> bool:
    """Return whether these pieces can be cut from one sheet together."""
    if sum(length * width for length, width, _ in parts) > stock.length * stock.width:
        return False
    largest_first = sorted(parts, key=lambda part: -part[0] * part[1])
    places = [list(_places(part, stock, rules)) for part in largest_first]
    if rules.saw is None:
        return _fits(places, [], rules.gap)
    return _comes_off_the_saw(places, stock, rules.gap, rules.saw)


def _subsets_with_lowest(chosen: int) -> Iterator[int]:
    lowest = chosen & -chosen
    rest = chosen & ~lowest
    sub = rest
    while True:
        yield sub | lowest
        if not sub:
            return
        sub = (sub - 1) & rest


def _places(part: Rectangle, stock: Stock, rules: SheetRules) -> Iterator[Box]:
    """Yield every place of a part alone on the sheet: inside the trim, off defects and rim."""
    length, width, turnable = part
    trim, rim = rules.trim, rules.rim
    off = rim.distance if rim is not None and max(length, width) <= rim.longest_side else 0
    spoiled = [(d.x, d.y, d.x + d.length, d.y + d.width) for d in stock.defects]
    for along, across in {(length, width), (width, length) if turnable else (length, width)}:
        for x in range(trim.left + off, stock.length - trim.right - off - along + 1):
            for y in range(trim.bottom + off, stock.width - trim.top - off - across + 1):
                box = (x, y, x + along, y + across)
                if all(_clear(box, hole, rules.gap) for hole in spoiled):
                    yield box


def _fits(places: list[list[Box]], taken: list[Box], gap: int) -> bool:
    if len(taken) == len(places):
        return True
    return any(
        all(_clear(box, other, gap) for other in taken) and _fits(places, [*taken, box], gap)
        for box in places[len(taken)]
    )


def _clear(one: Box, other: Box, gap: int) -> bool:
    along = one[0] >= other[2] + gap or other[0] >= one[2] + gap
    across = one[1] >= other[3] + gap or other[1] >= one[3] + gap
    return along or across


def _comes_off_the_saw(places: list[list[Box]], stock: Stock, kerf: int, saw: EdgeToEdge) -> bool:
    """Return whether some sequence of cuts from edge to edge frees all parts.

    A cut takes `kerf` out of the board. Cuts in the direction of the one before belong to the same
    stage; those that only take waste off a single part are free.
    """
    stages = len(places) if saw.stages is None else saw.stages
    areas = [_area(boxes[0]) if boxes else 0 for boxes in places]

    @cache
    def freed(board: Box, chosen: int, direction: int, left: int) -> bool:
        if not chosen & (chosen - 1):
            return any(_inside(box, board) for box in places[chosen.bit_length() - 1])
        area = sum(area for n, area in enumerate(areas) if chosen >> n & 1)
        if left == 0 or area > _area(board):
            return False
        return freed(board, chosen, 1 - direction, left - 1) or any(
            freed(low, sub, direction, left) and freed(high, chosen & ~sub, direction, left)
            for low, high in _cut(board, direction, kerf)
            for sub in _proper_subsets(chosen)
        )

    whole = (0, 0, stock.length, stock.width)
    everything = (1 << len(places)) - 1
    return any(freed(whole, everything, direction, stages) for direction in (0, 1))


def _cut(board: Box, direction: int, kerf: int) -> Iterator[tuple[Box, Box]]:
    left, bottom, right, top = board
    for place in range(board[direction] + 1, board[direction + 2] - kerf):
        if direction == 0:
            yield (left, bottom, place, top), (place + kerf, bottom, right, top)
        else:
            yield (left, bottom, right, place), (left, place + kerf, right, top)


def _proper_subsets(chosen: int) -> Iterator[int]:
    sub = (chosen - 1) & chosen
    while sub:
        yield sub
        sub = (sub - 1) & chosen


def _area(box: Box) -> int:
    return (box[2] - box[0]) * (box[3] - box[1])


def _inside(box: Box, board: Box) -> bool:
    low = board[0] <= box[0] and board[1] <= box[1]
    return low and box[2] <= board[2] and box[3] <= board[3]
