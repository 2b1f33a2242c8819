"""Sheets filled as well as can be, one after the other, and groups of them filled again.

Where sheets are many and hold many different pieces, filling each from the pieces that are left
with as much area as possible beats any fixed order; the worst sheets then take turns with others.
"""

from collections.abc import Callable, Mapping

import numpy as np

from nesting.arrays import Arrays
from nesting.budget import Budget
from nesting.draft import Draft, rank
from nesting.filling import Filling
from nesting.patterns.pricing import Pricer
from nesting.problem import Problem, Room

LARGE_FIRST = 1.1
"""Power of a piece's area that it is worth: large pieces find no place later."""

HEAD, SPREAD = 60, 100
"""Pieces that one sheet chooses from: the largest, and others from all over the list."""

MOVES = 40
GROUP = 6
"""Sheets that are filled again together."""


def best_filled(
    problem: Problem,
    arrays: Arrays,
    start: Draft,
    goal: float,
    budget: Budget,
    seed: int,
    told: Callable[[Draft], None],
) -> Draft:
    """Return the start or a better draft of the same pieces, for a single unlimited stock.

    `goal` is a price that nothing can beat; each better draft is `told`.
    """
    filler = _Filler(problem, arrays, budget, seed)
    rng = np.random.default_rng(seed)
    demand = _pieces([filling for filling, runs in start for _ in range(runs)])
    best = _draft(filler.fill(demand)) if not budget.over else None
    if best is None or rank(problem, start) <= rank(problem, best):
        best = start
    told(best)
    sheets = [filling for filling, runs in best for _ in range(runs)]
    while not budget.over and rank(problem, best).price > goal:
        areas = [_area(problem, filling) for filling in sheets]
        emptiest = int(np.argmin(areas))
        others = [n for n in range(len(sheets)) if n != emptiest]
        chosen = [emptiest, *rng.permutation(others)[: GROUP - 1].tolist()]
        again = filler.fill(_pieces([sheets[n] for n in chosen]))
        if again is None:
            break
        last = min(_area(problem, filling) for filling in again)
        if (len(again), last) < (len(chosen), areas[emptiest]):
            kept = [filling for n, filling in enumerate(sheets) if n not in set(chosen)]
            fewer = len(again) < len(chosen)
            sheets = kept + again
            best = _draft(sheets) or best
            if fewer:
                told(best)
    return best


def suits(problem: Problem) -> bool:
    """Return whether there is one stock, without limit."""
    return len(problem.rooms) == 1 and problem.rooms[0].on_hand is None


class _Filler:
    def __init__(self, problem: Problem, arrays: Arrays, budget: Budget, seed: int) -> None:
        self._problem = problem
        self._budget = budget
        self._pricer = Pricer(problem, arrays, budget, seed)
        self._room: Room = problem.rooms[0]
        area = self._room.area
        self._values = [(kind.area / area) ** LARGE_FIRST for kind in problem.kinds]

    def fill(self, demand: Mapping[int, int]) -> list[Filling] | None:
        """Return sheets with all the pieces; None when the budget ended first."""
        kinds = self._problem.kinds
        left = dict(sorted(demand.items(), key=lambda item: (-kinds[item[0]].area, item[0])))
        sheets: list[Filling] = []
        while left:
            if self._budget.over:
                return None
            filling = self._best(left)
            for _ in range(min(left[kind] // count for kind, count in filling.counts)):
                sheets.append(filling)
                for kind, count in filling.counts:
                    left[kind] -= count
            left = {kind: count for kind, count in left.items() if count}
        return sheets

    def _best(self, left: Mapping[int, int]) -> Filling:
        kinds = list(left)
        others = kinds[HEAD:]
        most = [0] * len(self._problem.kinds)
        for kind in [*kinds[:HEAD], *others[:: max(1, len(others) // SPREAD)]]:
            most[kind] = left[kind]
        return self._pricer.fillings(self._room, self._values, most, MOVES)[0]


def _pieces(sheets: list[Filling]) -> dict[int, int]:
    demand: dict[int, int] = {}
    for filling in sheets:
        for kind, count in filling.counts:
            demand[kind] = demand.get(kind, 0) + count
    return demand


def _draft(sheets: list[Filling] | None) -> Draft | None:
    if sheets is None:
        return None
    draft = Draft()
    for filling in sheets:
        draft.add(filling, 1)
    return draft


def _area(problem: Problem, filling: Filling) -> int:
    return sum(problem.kinds[kind].area * count for kind, count in filling.counts)
