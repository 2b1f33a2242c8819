"""Independent check of an answer against its question.

Geometry is shapely's alone and nothing here is shared with the packers, so that a mistake there
cannot hide itself here. Coordinates are whole ticks, half ticks after growing: exact in floats.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from fractions import Fraction

from nesting.answer.layout_check import violations_of_layouts
from nesting.answer.solution import Solution
from nesting.question.instance import Instance, Stock, StockKind
from nesting.question.violation import Violation, ViolationKind


def violations(instance: Instance, solution: Solution) -> tuple[Violation, ...]:
    """Return every rule of the question that the answer breaks; empty when it is right."""
    return tuple(_all_violations(instance, solution))


def _all_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    names = [f"layout {number + 1}" for number in range(len(solution.layouts))]
    yield from violations_of_layouts(instance, solution.layouts, names)
    yield from _count_violations(instance, solution)
    yield from _on_hand_violations(instance, solution)
    yield from _bound_violations(solution)
    yield from _price_violations(instance, solution)


def _count_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    placed: defaultdict[str, int] = defaultdict(int)
    for layout in solution.layouts:
        for placement in layout.placements:
            placed[placement.piece] += layout.runs
    for piece in instance.pieces:
        if placed[piece.id] != piece.quantity:
            yield Violation(
                kind=ViolationKind.COUNT,
                where=f"piece {piece.id}",
                found=str(placed[piece.id]),
                required=str(piece.quantity),
            )


def _on_hand_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    used: Counter[str] = Counter()
    for layout in solution.layouts:
        used[layout.stock] += layout.runs
    for stock in instance.stocks:
        if stock.on_hand is not None and used[stock.id] > stock.on_hand:
            yield Violation(
                kind=ViolationKind.ON_HAND,
                where=f"stock {stock.id}",
                found=str(used[stock.id]),
                required=f"at most {stock.on_hand}",
            )


def _bound_violations(solution: Solution) -> Iterator[Violation]:
    sheets = sum(layout.runs for layout in solution.layouts)
    if solution.lower_bound > sheets:
        yield Violation(
            kind=ViolationKind.BOUND,
            where="lower bound",
            found=str(solution.lower_bound),
            required=f"at most {sheets}",
        )


def _price_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    prices = {stock.id: _to_pay(stock) for stock in instance.stocks}
    if any(layout.stock not in prices for layout in solution.layouts):
        return  # the unknown stock is told already, and has no price
    price = float(sum(prices[layout.stock] * layout.runs for layout in solution.layouts))
    if solution.price != price:
        yield Violation(
            kind=ViolationKind.PRICE,
            where="price",
            found=str(solution.price),
            required=str(price),
        )
    if not solution.price_bound <= price:
        yield Violation(
            kind=ViolationKind.PRICE_BOUND,
            where="price bound",
            found=str(solution.price_bound),
            required=f"at most {price}",
        )


def _to_pay(stock: Stock) -> Fraction:
    """Return the price in decimals as it was given: what is summed is money, not floats."""
    return Fraction(0) if stock.kind is StockKind.REMNANT else Fraction(str(stock.price))
