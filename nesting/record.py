"""The best draft so far, which is never lost, and who is told about it."""

from dataclasses import dataclass

from nesting.draft import Draft, Rank, rank
from nesting.meter import WorkMeter
from nesting.problem import Problem
from nesting.progress import ProgressListener
from nesting.settings import PROVEN_SHARE


@dataclass(frozen=True, slots=True)
class Goal:
    """What no answer can beat: the sheets and the price that are needed at least."""

    sheets: int
    price: float

    def reached(self, found: Rank) -> bool:
        """Return whether no better answer exists, but for the number of layouts."""
        # The price bound is a sum of floats; a rounding step above it is still the bound.
        cheap = found.cost <= self.price * (1 + 1e-12)
        return found.short_area == 0 and cheap and found.sheets <= self.sheets


class Record:
    """Keeps the best draft by rank; cuts the remaining work once it is proven."""

    def __init__(
        self, problem: Problem, goal: Goal, meter: WorkMeter, progress: ProgressListener
    ) -> None:
        """Start with nothing placed."""
        self.best = Draft(short=dict(enumerate(problem.demand)))
        self._rank = rank(problem, self.best)
        self._problem = problem
        self._goal = goal
        self._meter = meter
        self._total = meter.limit
        self._progress = progress
        self._proven = False

    def offer(self, draft: Draft) -> bool:
        """Keep the draft if it is better than all before, and return whether it was."""
        self._progress.step(min(self._meter.spent, self._total), self._total)
        found = rank(self._problem, draft)
        if not found < self._rank:
            return False
        self.best, self._rank = draft, found
        if not found.short_area:
            self._progress.best_found(found.sheets, self._goal.sheets)
        if self._goal.reached(found):
            self._finish_soon(found)
        return True

    def _finish_soon(self, found: Rank) -> None:
        if found.layouts == 1:
            self._meter.limit = self._meter.spent
        elif not self._proven:
            rest = int(self._total * PROVEN_SHARE)
            self._meter.limit = min(self._meter.limit, self._meter.spent + rest)
        self._proven = True
