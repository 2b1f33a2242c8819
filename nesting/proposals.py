"""Where the candidate fillings of the next sheet come from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Protocol

from nesting.filling import Filling, fill
from nesting.meter import WorkMeter
from nesting.offers import Order, shaken_offers, sorted_offers
from nesting.pool import Pool
from nesting.problem import Problem, Room
from nesting.rectpack_start import Axis, Rule


class Proposals(Protocol):
    """A source of candidate fillings."""

    def fillings(self, room: Room, residual: Mapping[int, int]) -> Iterator[Filling]:
        """Yield fillings of one sheet that use no more than is left to place."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """One fixed way to fill a sheet."""

    rule: Rule
    axis: Axis
    order: Order


class ByRecipe:
    """Always the same recipe: sheet after sheet this is first-fit packing of the whole list."""

    def __init__(self, problem: Problem, recipe: Recipe, pool: Pool, meter: WorkMeter) -> None:
        """Keep the recipe."""
        self._problem = problem
        self._recipe = recipe
        self._pool = pool
        self._meter = meter

    def fillings(self, room: Room, residual: Mapping[int, int]) -> Iterator[Filling]:
        """Yield the one filling that the recipe gives, if any piece fits."""
        offers = sorted_offers(self._problem, residual, self._recipe.order)
        filling = fill(room, offers, self._recipe.rule, self._recipe.axis, self._meter)
        if filling is not None:
            self._pool.offer(filling)
            yield filling


SHAKEN_RULES = (
    Rule.MAX_BOTTOM_LEFT,
    Rule.MAX_SHORT_SIDE,
    Rule.MAX_LONG_SIDE,
    Rule.MAX_AREA,
)
"""Rules for shaken orders. With the other families mixed in, the same work gave more sheets."""


class Shaken:
    """Fillings from shaken orders, and from the pool."""

    def __init__(
        self,
        problem: Problem,
        pool: Pool,
        meter: WorkMeter,
        rng: Random,
        values: Sequence[float],
        tries: int,
    ) -> None:
        """Keep what decides the orders: the pieces' values, and how many to try."""
        self._problem = problem
        self._pool = pool
        self._meter = meter
        self._rng = rng
        self._values = values
        self._tries = tries

    def fillings(self, room: Room, residual: Mapping[int, int]) -> Iterator[Filling]:
        """Yield as many new fillings as are to be tried, then the old ones that still fit."""
        for _ in range(self._tries):
            offers = shaken_offers(self._problem, residual, self._values, self._rng)
            rule, axis = self._rng.choice(SHAKEN_RULES), self._rng.choice(_AXES)
            filling = fill(room, offers, rule, axis, self._meter)
            if filling is not None:
                self._pool.offer(filling)
                yield filling
        yield from self._pool.fitting(room.index, residual)


_AXES = tuple(Axis)
