"""The order in which pieces are offered to a sheet: large first in one sense, or shaken."""

from collections.abc import Callable, Mapping, Sequence
from enum import Enum
from math import sqrt
from random import Random

from nesting.filling import Chunk
from nesting.problem import Kind, Problem


def sorted_offers(problem: Problem, residual: Mapping[int, int], order: "Order") -> list[Chunk]:
    """Return all that is left to place, largest first in the sense of the order."""
    keyed = sorted((-order.size(problem.kinds[kind]), kind) for kind in residual)
    return [Chunk(problem.kinds[kind], residual[kind]) for _, kind in keyed]


def shaken_offers(
    problem: Problem, residual: Mapping[int, int], values: Sequence[float], rng: Random
) -> list[Chunk]:
    """Return all that is left to place, by value or by size, shaken; some copies wait for the end.

    Only operations that are exact in IEEE arithmetic decide, so that every machine agrees.
    """
    shake = rng.choice(_SHAKES)
    size = _random_size(values, rng)
    hold_back = rng.random() < _HOLD_BACK_CHANCE
    first: list[tuple[float, int, int]] = []
    last: list[tuple[float, int, int]] = []
    for index, copies in residual.items():
        weight = -size(problem.kinds[index]) * rng.uniform(1 - shake, 1 + shake)
        now = rng.randint(1, min(copies, _MOST_AT_ONCE)) if hold_back else copies
        first.append((weight, index, now))
        if now < copies:
            last.append((weight, index, copies - now))
    ordered = sorted(first) + sorted(last)
    return [Chunk(problem.kinds[index], copies) for _, index, copies in ordered]


class Order(Enum):
    """In which sense a piece is large."""

    AREA = "area"
    PERIMETER = "perimeter"
    LONG_SIDE = "long side"
    SHORT_SIDE = "short side"
    LENGTH = "length"
    WIDTH = "width"

    def size(self, kind: Kind) -> int:
        """Return the size of a piece in this sense (ticks or square ticks)."""
        return _SIZES[self](kind)


_SIZES: dict[Order, Callable[[Kind], int]] = {
    Order.AREA: lambda kind: kind.area,
    Order.PERIMETER: lambda kind: kind.length + kind.width,
    Order.LONG_SIDE: lambda kind: max(kind.length, kind.width),
    Order.SHORT_SIDE: lambda kind: min(kind.length, kind.width),
    Order.LENGTH: lambda kind: kind.length,
    Order.WIDTH: lambda kind: kind.width,
}

_ORDERS = tuple(Order)
_SHAKES = (0.0, 0.15, 0.5, 0.9)
_BY_VALUE_CHANCE = 0.5
_HOLD_BACK_CHANCE = 0.5
_MOST_AT_ONCE = 8


def _random_size(values: Sequence[float], rng: Random) -> Callable[[Kind], float]:
    """Return one way to tell large from small: a value, a value per area or root area, a size."""
    if rng.random() >= _BY_VALUE_CHANCE:
        return rng.choice(_ORDERS).size
    measure = rng.randrange(3)
    if measure == 0:
        return lambda kind: values[kind.index]
    if measure == 1:
        return lambda kind: values[kind.index] / kind.area
    return lambda kind: values[kind.index] / sqrt(kind.area)
