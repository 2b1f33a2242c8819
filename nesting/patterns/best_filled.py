"""Many sheets with many different pieces: each filled as well as can be from what is left.

That beats any fixed order of the pieces, and the more the longer each sheet is searched; filling a
group of sheets again has too few pieces to choose from. So a short round shows what a round costs,
and the next ones take what is left of the budget.
"""

from collections.abc import Callable
from contextlib import suppress

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.stopping import Stopped, asking
from nesting.kernels.full_sheet import full_sheet
from nesting.kernels.random_numbers import random_state
from nesting.kernels.sheet import unfilled
from nesting.kernels.sheets import Arrays
from nesting.question.problem import Problem
from nesting.search.arrays import pattern_from
from nesting.search.budget import Budget
from nesting.search.compiling import get_ready
from nesting.search.draft import Draft, rank
from nesting.search.first_answers import most_on

LARGE_FIRST = 1.05
"""Power of a piece's area that it is worth: large pieces find no place later."""

HEAD, SPREAD = 200, 400
"""Item types that a sheet chooses from: the largest, and at most so many from all over the rest."""

FIRST_STEPS = 10
"""Steps for each sheet in the first round."""

CLIMB = 80
"""Most steps from one start."""

MORE = 1.5
"""A round is worth it when it searches each sheet so many times as long as the one before."""

MOST_MORE = 1_000
"""Most times as long: a coarse clock may have seen the round before take no time at all."""

SPARED = 0.05
"""Part of what is left that a round does not plan to use: no two cost quite the same."""

Whole = NDArray[np.int64]


def best_filled(
    problem: Problem,
    arrays: Arrays,
    start: Draft,
    goal: int,
    budget: Budget,
    seed: int,
    told: Callable[[Draft], None],
) -> Draft:
    """Return the start or a better draft of the same pieces, for a single unlimited stock.

    `goal` is a price that nothing can beat; each better draft is `told`.
    """
    with suppress(Stopped):
        get_ready(("full_sheet",), asking(budget.cancelled))
    filler = _Filler(problem, arrays, budget, seed)
    best, steps = start, FIRST_STEPS
    while not budget.over and rank(problem, best).price > goal:
        before = budget.done
        draft = filler.draft(steps)
        if draft is None:
            break
        if rank(problem, draft) < rank(problem, best):
            best = draft
            told(best)
        cost, left = budget.done - before, (1.0 - SPARED) * (1.0 - budget.done)
        if left < MORE * cost:
            break
        steps = int(steps * min(MOST_MORE, left / max(cost, 1e-9)))
    return best


def suits(problem: Problem) -> bool:
    """Return whether there is one stock, without limit."""
    return len(problem.rooms) == 1 and problem.rooms[0].on_hand is None


class _Filler:
    def __init__(self, problem: Problem, arrays: Arrays, budget: Budget, seed: int) -> None:
        self._arrays = arrays
        self._budget = budget
        self._rng = random_state(seed)
        (self._room,) = problem.rooms
        areas = np.array([item_type.area for item_type in problem.item_types], dtype=np.int64)
        self._values = (areas / self._room.area) ** LARGE_FIRST
        self._most = np.array(
            [most_on(self._room, item_type) for item_type in problem.item_types], np.int64
        )
        self._demand = np.array(problem.demand, dtype=np.int64)
        self._by_area = np.argsort(-areas, kind="stable")

    def draft(self, steps: int) -> Draft | None:
        """Return sheets with all the pieces, each the best of so many; None: out of budget."""
        left, item_types = self._demand.copy(), self._by_area
        draft = Draft()
        while item_types.size:
            rows = self._sheet(item_types, left, steps)
            if rows is None:
                return None
            pattern = pattern_from(self._room.index, rows)
            runs = min(int(left[item_type]) // count for item_type, count in pattern.counts)
            draft.add(pattern, runs)
            for item_type, count in pattern.counts:
                left[item_type] -= count * runs
            item_types = item_types[left[item_types] > 0]
        return draft

    def _sheet(self, item_types: Whole, left: Whole, steps: int) -> Whole | None:
        """Return the placements of the best sheet of several climbs, with `steps` in all."""
        others = item_types[HEAD:]
        offered = np.concatenate([item_types[:HEAD], others[:: max(1, -(-len(others) // SPREAD))]])
        pieces = np.repeat(offered, np.minimum(left, self._most)[offered])
        n, arrays = len(pieces), self._arrays
        filled, keys, climbed = unfilled(n), np.zeros(n), np.empty((n, 4), np.int64)
        best, most = None, -1.0
        for first in range(0, steps, CLIMB):
            if self._budget.over:
                return None
            climb = min(CLIMB, steps - first)
            placed, value = full_sheet(
                arrays.sheet(self._room.index),
                arrays.item_types,
                arrays.stages,
                self._values,
                climb,
                self._rng,
                pieces,
                keys,
                filled,
                climbed,
            )
            self._budget.spend(climb * n)
            if value > most:
                best, most = climbed[:placed].copy(), value
        return best
