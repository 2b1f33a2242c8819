"""What every bound here rests on: a worth for each piece, and the most that one sheet can hold.

Whatever the worths are, all pieces together need as many sheets as it takes to hold their worth
(weak duality of the linear program over layouts; Farley 1990 states it for column generation).
All numbers are exact, so that a bound never depends on rounding.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from math import ceil, gcd, inf, lcm, nextafter

from nesting.problem import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """A worth per piece of each kind, and per room what no sheet of it can hold more of."""

    worths: tuple[int, ...]
    most: tuple[int, ...]

    def total(self, demand: Sequence[int]) -> int:
        """Return the worth of all pieces asked for."""
        return sum(worth * count for worth, count in zip(self.worths, demand, strict=True))


def fewest_sheets(total: int, most: Sequence[int], rooms: Sequence[Room]) -> int | None:
    """Return how many sheets hold that worth; None when all sheets on hand hold less."""
    sheets = least_cost(total, most, [Fraction(1)] * len(rooms), rooms)
    return None if sheets is None else ceil(sheets)


def least_price(total: int, most: Sequence[int], rooms: Sequence[Room]) -> Fraction | None:
    """Return what sheets that hold that worth cost at least; None when all on hand hold less.

    Whole sheets cost a multiple of whatever all their prices are multiples of.
    """
    # As they are written: what 49.99 is in binary shares hardly a divisor with anything.
    prices = [Fraction(str(room.price)) for room in rooms]
    cost = least_cost(total, most, prices, rooms)
    common = reduce(_common_divisor, prices)
    return cost if cost is None or not common else ceil(cost / common) * common


def _common_divisor(one: Fraction, other: Fraction) -> Fraction:
    """Return the largest number of which both are whole multiples; 0 for two zeros."""
    shared = lcm(one.denominator, other.denominator)
    return Fraction(gcd(int(one * shared), int(other * shared)), shared)


def least_cost(
    total: int, most: Sequence[int], costs: Sequence[Fraction], rooms: Sequence[Room]
) -> Fraction | None:
    """Return the least cost of fractions of sheets, the cheapest worth first; None as above."""
    cost, missing = Fraction(0), Fraction(total)
    offers = [
        (each / held, held, room)
        for each, held, room in zip(costs, most, rooms, strict=True)
        if held > 0
    ]
    for ratio, held, room in sorted(offers, key=lambda offer: offer[0]):
        taken = missing if room.on_hand is None else min(missing, Fraction(held * room.on_hand))
        cost += taken * ratio
        missing -= taken
        if not missing:
            break
    return None if missing else cost


def rounded_down(price: Fraction) -> float:
    """Return the largest float that is not above it."""
    near = float(price)
    return nextafter(near, -inf) if Fraction(near) > price else near
