"""What every bound here rests on: a dual value for each piece, and the most that a sheet can hold.

Whatever the dual values are, all pieces together need as many sheets as it takes to hold their
value (weak duality of the linear program over layouts; Farley 1990 states it for column
generation). All numbers are exact, so that a bound never depends on rounding.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd

from nesting.question.problem import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """A dual value for each item type, and per room what no sheet of it can hold more of."""

    dual_values: tuple[int, ...]
    most: tuple[int, ...]

    def total(self, demand: Sequence[int]) -> int:
        """Return the value of all pieces asked for."""
        return sum(value * count for value, count in zip(self.dual_values, demand, strict=True))


def fewest_sheets(total: int, most: Sequence[int], rooms: Sequence[Room]) -> int | None:
    """Return how many sheets hold that value; None when all sheets on hand hold less."""
    sheets = least_cost(total, most, [Fraction(1)] * len(rooms), rooms)
    return None if sheets is None else ceil(sheets)


def least_price(total: int, most: Sequence[int], rooms: Sequence[Room]) -> int | None:
    """Return what sheets that hold that value cost at least; None when all on hand hold less.

    Whole sheets cost a multiple of whatever all their costs are multiples of: of rooms that cannot
    be used there may be other prices.
    """
    costs = [room.cost for room in rooms]
    cost = least_cost(total, most, whole_costs(rooms), rooms)
    common = gcd(*costs) or 1
    return None if cost is None else ceil(cost / common) * common


def whole_costs(rooms: Sequence[Room]) -> list[Fraction]:
    """Return what a sheet of each room costs."""
    return [Fraction(room.cost) for room in rooms]


def least_cost(
    total: int, most: Sequence[int], costs: Sequence[Fraction], rooms: Sequence[Room]
) -> Fraction | None:
    """Return the least cost of fractions of sheets, the cheapest value first; None as above."""
    highest = [room.on_hand for room in rooms]
    sheets = cheapest(total, most, by_cost(most, costs), highest)
    return None if sheets is None else cost_of(sheets, costs)


def cost_of(sheets: Sequence[Fraction], costs: Sequence[Fraction]) -> Fraction:
    """Return what so many sheets of each room cost."""
    return sum((n * cost for n, cost in zip(sheets, costs, strict=True) if n), Fraction(0))


def by_cost(most: Sequence[int], costs: Sequence[Fraction]) -> list[int]:
    """Return the rooms whose sheets hold any value, the cheapest value first."""
    rates = [
        (cost / held, at) for at, (cost, held) in enumerate(zip(costs, most, strict=True)) if held
    ]
    return [at for _, at in sorted(rates)]


def cheapest(
    total: int, most: Sequence[int], order: Iterable[int], highest: Sequence[int | None]
) -> list[Fraction] | None:
    """Return the fractions of sheets of each room that hold a value at the least cost.

    `order` is that of `by_cost`. None when the highest numbers of sheets hold less.
    """
    taken, missing = [Fraction(0)] * len(most), total
    for at in order:
        if missing <= 0:
            break
        limit = highest[at]
        if limit is None or limit * most[at] >= missing:
            taken[at], missing = Fraction(missing, most[at]), 0
        else:
            taken[at], missing = Fraction(limit), missing - limit * most[at]
    return None if missing > 0 else taken
