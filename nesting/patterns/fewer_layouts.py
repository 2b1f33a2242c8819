"""Fewer layouts for little more: each next layout runs as often as the demand left allows.

Of the layouts that could come next, those that run most often are weighed by what the rest would
then cost at least in the linear program; the one that runs most often and wastes little is taken.
"""

from collections.abc import Iterator, Mapping
from math import floor
from operator import itemgetter

from nesting.kernels.sheets import Arrays
from nesting.patterns.generation import Generation, Relaxation, weights
from nesting.patterns.pricing import Pricer
from nesting.patterns.rounding import completed, less_stock
from nesting.question.problem import Problem
from nesting.search.budget import Budget
from nesting.search.draft import Draft, joined
from nesting.search.pattern import Counts, Pattern

CLIMBS, STEPS, STARTS = 12, 30, 4
"""Climbs for layouts that may run often, their steps, and how many start from those in use."""

HALVINGS = 8
"""Numbers of runs that they may have, each half of the one before."""

WEIGHED = 10
"""Candidates weighed in full at each step."""

LAST_SHEETS = 5
"""When the demand left needs about so many sheets, it is nested sheet by sheet."""

ROUNDINGS = 1e-9
"""Share of a run that counts as no waste."""

LEAST_VALUE = 0.9
"""Least value of a candidate, in sheets."""

LAST_OFFERS = 600_000
"""Work for the last sheets of one draft."""


class FewLayouts:
    """Drafts of one demand from one linear program."""

    def __init__(
        self,
        problem: Problem,
        arrays: Arrays,
        demand: Mapping[int, int],
        generation: Generation,
        pricer: Pricer,
        seed: int,
    ) -> None:
        """Keep what all drafts start from."""
        self._problem = problem
        self._arrays = arrays
        self._demand = demand
        self._generation = generation
        self._pricer = pricer
        self._seed = seed
        self._weights = weights(problem)

    def draft(self, waste: float, budget: Budget) -> Draft | None:
        """Return a draft whose layouts may each waste the share `waste` of their runs.

        None when the budget ended first, or the stock ran out.
        """
        draft, left = Draft(), dict(self._demand)
        while left:
            if budget.over:
                return None
            rest = less_stock(self._problem, draft)
            now = self._solved(rest, left, budget)
            if now.cost <= LAST_SHEETS * max(self._weights):
                work = budget.within(LAST_OFFERS)
                goal = floor(now.cost / float(rest.unit) * (1.0 + ROUNDINGS))
                last = completed(rest, self._arrays, left, Draft(), goal, work, self._seed)
                return None if last.short else joined(draft, last)
            chosen = self._chosen(rest, left, now, waste, budget)
            if chosen is None:
                return None
            draft.add(*chosen)
            left = _less(left, *chosen)
        return draft

    def _chosen(
        self, rest: Problem, left: Mapping[int, int], now: Relaxation, waste: float, budget: Budget
    ) -> tuple[Pattern, int] | None:
        """Return the candidate that runs most often within the waste, or else wastes least."""

        def key(lost: float, runs: int) -> tuple[int, int, float]:
            return (0, -runs, lost) if lost <= waste + ROUNDINGS else (1, 0, lost)

        candidates = [
            (key(self._least_lost(pattern, now), runs), pattern, runs)
            for pattern, runs in self._candidates(rest, left, now, budget)
        ]
        candidates.sort(key=itemgetter(0))
        best: tuple[Pattern, int] | None = None
        best_key = (2, 0, 0.0)
        for hoped, pattern, runs in candidates:
            if hoped >= best_key:
                break
            weight = self._weights[pattern.room]
            after = less_stock(rest, Draft({(0, ()): (pattern, runs)}))
            cost = self._solved(after, _less(left, pattern, runs), budget).cost
            found = key((weight * runs + cost - now.cost) / (weight * runs), runs)
            if found < best_key:
                best, best_key = (pattern, runs), found
        return best

    def _least_lost(self, pattern: Pattern, now: Relaxation) -> float:
        """Return the waste of a run that the duals tell of; the program over the rest tells all."""
        reduced_cost = now.prices[pattern.room] - pattern.value(now.dual_values)
        return reduced_cost / self._weights[pattern.room]

    def _candidates(
        self, rest: Problem, left: Mapping[int, int], now: Relaxation, budget: Budget
    ) -> list[tuple[Pattern, int]]:
        """Return layouts of good value with the most runs that they allow."""
        for pattern in self._generated(rest, left, now, budget):
            self._generation.add(pattern)
            now.patterns.setdefault((pattern.room, pattern.counts), pattern)
        found: list[tuple[int, float, tuple[int, Counts]]] = []
        for key, pattern in now.patterns.items():
            limits = [left.get(item_type, 0) // count for item_type, count in pattern.counts]
            on_hand = rest.rooms[pattern.room].on_hand
            runs = min([*limits, *([] if on_hand is None else [on_hand])])
            value = pattern.value(now.dual_values) / now.prices[pattern.room]
            if runs >= 1 and value >= LEAST_VALUE:
                found.append((-runs, -value, key))
        found.sort()
        by_value = sorted(found, key=lambda entry: entry[1])[: WEIGHED // 2]
        chosen = {key for _, _, key in [*found[:WEIGHED], *by_value]}
        return [(now.patterns[key], -runs) for runs, _, key in found if key in chosen]

    def _generated(
        self, rest: Problem, left: Mapping[int, int], now: Relaxation, budget: Budget
    ) -> Iterator[Pattern]:
        """Yield patterns that may run often: for some numbers of runs, the most valuable ones."""
        values = [max(value, 1e-9) for value in now.dual_values]
        in_use = [now.patterns[key] for key in now.runs]
        most_runs = max(left.values())
        for halvings in range(min(HALVINGS, most_runs.bit_length())):
            runs = most_runs >> halvings
            most = [left.get(item_type, 0) // runs for item_type in range(len(rest.item_types))]
            for room in rest.rooms:
                if room.on_hand is None or room.on_hand >= runs:
                    starts = [f for f in in_use if f.room == room.index][:STARTS]
                    work = CLIMBS, STEPS, budget
                    yield from self._pricer.patterns(room, values, most, *work, starts)[:3]

    def _solved(self, rest: Problem, left: Mapping[int, int], budget: Budget) -> Relaxation:
        on_hand = {room.index: room.on_hand for room in rest.rooms}
        return self._generation.solved_for(left, on_hand, budget)


def _less(left: Mapping[int, int], pattern: Pattern, runs: int) -> dict[int, int]:
    counts = dict(pattern.counts)
    after = {
        item_type: count - counts.get(item_type, 0) * runs for item_type, count in left.items()
    }
    return {item_type: count for item_type, count in after.items() if count}
