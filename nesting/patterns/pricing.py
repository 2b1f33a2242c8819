"""Valuable fillings of one sheet: what column generation asks for, again and again."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.arrays import Arrays, filling_from
from nesting.budget import CHUNK, Budget
from nesting.filling import Filling
from nesting.first_answers import most_on
from nesting.kernels.random_numbers import random_state
from nesting.kernels.sheet_work import sheet_work
from nesting.kernels.valuable_sheet import valuable_sheets
from nesting.problem import Problem, Room

CLIMBS = 12
"""Climbs of one call, from starts of their own."""


class Pricer:
    """Finds fillings of high value. It is a heuristic: what it finds proves no bound."""

    def __init__(self, problem: Problem, arrays: Arrays, budget: Budget, seed: int) -> None:
        """Keep the problem, and a stream of random numbers of its own."""
        self._problem = problem
        self._arrays = arrays
        self._budget = budget
        self._rng = random_state(seed)
        self._most = np.array(
            [[most_on(room, kind) for kind in problem.kinds] for room in problem.rooms],
            dtype=np.int64,
        )

    def fillings(
        self, room: Room, values: Sequence[float], most: Sequence[int], moves: int
    ) -> list[Filling]:
        """Return different fillings by falling value, with at most `most` of each kind.

        Pieces without value are left out.
        """
        arrays = self._arrays
        worth = np.asarray(values, dtype=np.float64)
        copies = np.minimum(self._most[room.index], np.asarray(most, dtype=np.int64))
        kept = np.flatnonzero((copies > 0) & (worth > 0))
        if not kept.size:
            return []
        copies, worth = copies[kept], worth[kept]
        longest = int(copies.sum())
        work = sheet_work(longest)
        best = np.zeros((CLIMBS, longest, 4), np.int64)
        n_best = np.zeros(CLIMBS, np.int64)
        value = np.zeros(CLIMBS)
        moves = max(1, min(moves, CHUNK // longest))
        climbs = max(1, CHUNK // (moves * longest))
        for first in range(0, CLIMBS, climbs):
            if self._budget.cancelled():
                break
            spent = valuable_sheets(
                room.length,
                room.width,
                arrays.free_in(room.index),
                np.ascontiguousarray(arrays.kinds[kept]),
                arrays.stages,
                worth,
                copies,
                moves,
                self._rng,
                work.scratch,
                work.order,
                work.taken,
                np.zeros(kept.size, np.int64),
                np.zeros(2 * kept.size),
                np.zeros(2 * kept.size),
                np.zeros(2 * kept.size, np.int64),
                np.empty((longest, 4), np.int64),
                best[first : first + climbs],
                n_best[first : first + climbs],
                value[first : first + climbs],
            )
            self._budget.spend(int(spent))
        found: dict[object, Filling] = {}
        for climb in np.argsort(-value, kind="stable").tolist():
            rows: NDArray[np.int64] = best[climb, : n_best[climb]].copy()
            if not len(rows):
                continue
            rows[:, 0] = kept[rows[:, 0]]
            filling = filling_from(room.index, rows)
            found.setdefault(filling.counts, filling)
        return list(found.values())
