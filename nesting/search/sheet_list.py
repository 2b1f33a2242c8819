"""A list of single sheets that a compiled search fills, and the pieces that wait for a place."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.kernels.fewer_sheets import MOST_RUINED, fewer_sheets
from nesting.kernels.fill_sheet import UPWARDS
from nesting.kernels.random_numbers import random_state
from nesting.kernels.sequence import Annealed, Steps, anneal
from nesting.kernels.sheets import Arrays, SheetsState, not_refilled
from nesting.question.problem import Problem
from nesting.search.arrays import FREE_NEST, pattern_from, rows_from
from nesting.search.budget import Budget
from nesting.search.pattern import Pattern

Whole = NDArray[np.int64]

FEW_SHEETS = 6
"""Most sheets that are annealed as one sequence."""

FIRST_STEPS, MOST_STEPS = 20_000, 320_000
"""Steps of the first annealing and the most of any; each is twice as long as the one before."""

FIRST_RUN, LONGER = 3_000_000, 1.3
"""Work of the first run of ruining and repattern, and how many times as long each next one is. It
either ends soon or takes very long: a new run from the start is the better bet."""

RUIN_OFFERS = 1_000_000
"""Work for ruining and repattern between two annealings."""


class SheetList:
    """Sheets of given rooms; `search` moves pieces about until none waits or the budget ends."""

    def __init__(
        self,
        problem: Problem,
        arrays: Arrays,
        sheets: Sequence[tuple[int, Pattern | None]],
        waiting: Sequence[int],
    ) -> None:
        """Take the room of each sheet, what lies on it now, and the item types that wait."""
        self._arrays = arrays
        self._rooms = np.array([room for room, _ in sheets], dtype=np.int64)
        pieces = [spot.item_type for _, pattern in sheets if pattern for spot in pattern.spots]
        pieces += waiting
        most = _most_on_a_sheet(problem, self._rooms, pieces)
        self._now = _held(sheets, waiting, most, len(pieces))
        self._start = self._now.copy()
        self._best = self._now.copy()
        self._weights = np.ones(len(problem.item_types))
        self._ruined = np.zeros(MOST_RUINED, np.int64)
        self._some = not_refilled(MOST_RUINED, most, len(pieces))
        few = len(sheets) if len(sheets) <= FEW_SHEETS else 0
        self._all = self._some.of(few)
        self._pieces = np.array(sorted(pieces), dtype=np.int64)

    def search(self, budget: Budget, rng: NDArray[np.uint64]) -> bool:
        """Search until nothing waits (True) or the budget is over (False).

        Few sheets are also annealed as one sequence, turn and turn about; more are begun anew after
        ever longer runs.
        """
        steps, run = FIRST_STEPS, FIRST_RUN
        while self._best.n_waiting[0] > 0 and not budget.over:
            if len(self._rooms) <= FEW_SHEETS:
                self._anneal(steps, budget, rng)
                self._ruin(budget.within(RUIN_OFFERS), rng)
                steps = min(2 * steps, MOST_STEPS)
            else:
                self._ruin(budget.within(run), rng)
                run = int(run * LONGER)
                self._now = self._start.copy()
                self._weights[:] = 1.0
        return bool(self._best.n_waiting[0] == 0)

    def _ruin(self, budget: Budget, rng: NDArray[np.uint64]) -> None:
        while self._best.n_waiting[0] > 0 and not budget.over:
            budget.spend(
                fewer_sheets(
                    self._arrays,
                    self._rooms,
                    budget.chunk,
                    rng,
                    self._weights,
                    self._now,
                    self._best,
                    self._ruined,
                    self._some,
                )
            )

    def _anneal(self, steps: int, budget: Budget, rng: NDArray[np.uint64]) -> None:
        """Anneal one sequence of all pieces, sorted by area at first, more or less shaken."""
        best, arrays = self._best, self._arrays
        areas = arrays.item_types[self._pieces, 0] * arrays.item_types[self._pieces, 1]
        shaken = np.random.default_rng(int(rng[0])).uniform(0.8, 1.2, len(areas))
        now = Annealed(
            pieces=self._pieces[np.argsort(-areas * shaken, kind="stable")],
            rules=np.full(len(self._rooms), UPWARDS if arrays.stages == FREE_NEST else 0),
            waits=np.array([-1.0]),
        )
        rng[0] = random_state(int(rng[0]))[0]
        step = 0
        while step < steps and best.n_waiting[0] > 0 and not budget.over:
            step, spent = anneal(
                arrays,
                self._rooms,
                now,
                Steps(step, steps, steps),
                budget.chunk,
                rng,
                best,
                self._all,
            )
            budget.spend(spent)

    def patterns(self) -> list[Pattern]:
        """Return what lies on the sheets in the best state met, empty sheets left out."""
        best = self._best
        return [
            pattern_from(int(room), best.placed[sheet, :count])
            for sheet, (room, count) in enumerate(zip(self._rooms, best.counts, strict=True))
            if count
        ]

    def waiting(self) -> list[int]:
        """Return the item types that wait in the best state met, one entry for each piece."""
        found: list[int] = self._best.waiting[: self._best.n_waiting[0]].tolist()
        return found


def _held(
    sheets: Sequence[tuple[int, Pattern | None]], waiting: Sequence[int], most: int, pieces: int
) -> SheetsState:
    rows = np.zeros((len(sheets), most, 4), np.int64)
    counts = np.zeros(len(sheets), np.int64)
    for sheet, (_, pattern) in enumerate(sheets):
        if pattern is not None:
            counts[sheet] = len(pattern.spots)
            rows[sheet, : counts[sheet]] = rows_from(pattern)
    queue = np.zeros(pieces, np.int64)
    queue[: len(waiting)] = waiting
    return SheetsState(rows, counts, queue, np.array([len(waiting)], dtype=np.int64))


def _most_on_a_sheet(problem: Problem, rooms: Whole, pieces: Sequence[int]) -> int:
    """Return how many of the pieces one sheet holds at most, by the areas of the smallest."""
    area = max(problem.rooms[room].area for room in set(rooms.tolist()))
    smallest = np.cumsum(sorted(problem.item_types[item_type].area for item_type in pieces))
    return max(1, int(np.searchsorted(smallest, area, side="right")))
