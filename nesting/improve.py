"""Better answers from a good one: some layouts are taken apart and what they held is rebuilt."""

from collections.abc import Sequence
from math import fsum
from random import Random

from nesting.draft import Draft
from nesting.filling import Filling
from nesting.problem import Problem
from nesting.settings import (
    FULLNESS_PRICE,
    LAYOUT_PRICE,
    LAYOUT_SHARE,
    MOST_REBUILT,
    VALUE_NOISE,
    WHOLE_RUNS_CHANCE,
    WORST_FIRST_CHANCE,
)


class Walk:
    """A draft that moves through drafts no worse than itself."""

    def __init__(self, problem: Problem, draft: Draft) -> None:
        """Start at a draft."""
        self.draft = draft
        self._problem = problem
        self._energy = energy(problem, draft)

    def go_if_no_worse(self, draft: Draft) -> None:
        """Move to the draft unless its energy is higher."""
        found = energy(self._problem, draft)
        if found <= self._energy:
            self.draft, self._energy = draft, found


def taken_apart(problem: Problem, draft: Draft, rng: Random) -> tuple[Draft, dict[int, int]]:
    """Return the draft without some of its layouts, and the pieces that are then to be placed."""
    rest = draft.copy()
    freed = dict(draft.short)
    rest.short = {}
    for filling, runs in _chosen(problem, draft, rng):
        gone = runs if rng.random() < WHOLE_RUNS_CHANCE else rng.randint(1, runs)
        rest.remove(filling, gone)
        for kind, count in filling.counts:
            freed[kind] = freed.get(kind, 0) + count * gone
    return rest, freed


def shaken_values(values: Sequence[float], rng: Random) -> list[float]:
    """Return the values, each moved a little at random."""
    return [value * rng.uniform(1 - VALUE_NOISE, 1 + VALUE_NOISE) for value in values]


def energy(problem: Problem, draft: Draft) -> tuple[int, float]:
    """Return what the improvement brings down: area short, then a smooth stand-in for the rank.

    Beside the cost it counts layouts, and it falls when full sheets get fuller at the expense of
    empty ones, which is how a sheet ends up saved.
    """
    short = sum(problem.kinds[kind].area * count for kind, count in draft.short.items())
    weights = [problem.rooms[filling.room].weight for filling, _ in draft]
    if not weights:
        return short, 0.0
    total = fsum(
        weight * runs * (1 - FULLNESS_PRICE * _fullness(problem, filling) ** 3)
        for weight, (filling, runs) in zip(weights, draft, strict=True)
    )
    return short, total + max(LAYOUT_PRICE, LAYOUT_SHARE * draft.sheets) * fsum(weights)


def _chosen(problem: Problem, draft: Draft, rng: Random) -> list[tuple[Filling, int]]:
    held = list(draft)
    if not held:
        return []
    number = rng.randint(1, min(len(held), MOST_REBUILT))
    if rng.random() >= WORST_FIRST_CHANCE:
        return rng.sample(held, number)
    keys = [_fullness(problem, filling) * rng.uniform(0.8, 1.2) for filling, _ in held]
    emptiest = sorted(range(len(held)), key=keys.__getitem__)[:number]
    return [held[index] for index in emptiest]


def _fullness(problem: Problem, filling: Filling) -> float:
    return filling.area / problem.rooms[filling.room].area
