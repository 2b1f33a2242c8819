"""Column generation (Gilmore and Gomory, 1961): which layouts, in which fractions, cost least.

The layouts are found by a heuristic, so the optimum of the linear program is no bound on anything;
its dual values, of one more piece of each item type, are what the rest lives on.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import cycle
from math import fsum

from nesting.patterns.pricing import Pricer
from nesting.programs.linear_programs import MasterProblem
from nesting.programs.programs import Column, LinearStatus, Row, at_least, at_most
from nesting.question.problem import Problem, Room
from nesting.search.budget import Budget
from nesting.search.draft import Draft
from nesting.search.pattern import Counts, Pattern

FIRST_STEPS, LONGER, MOST_STEPS = 160, 4, 10_240
"""Steps of a climb: so many times as many whenever nothing better is found, up to the most."""

PATIENCE = 6
"""Rounds of the longest climbs in which nothing better is found before it ends."""

CLIMBS, LONG_CLIMBS = 12, 6
"""Climbs of one call, from starts of their own: at first, and when they are longer."""

BY_AREA = (0.0, 0.3)
"""Share of a piece's dual value that goes by its area, in turn.

The dual values alone leave many pieces at nothing, and the program stands still at them.
"""

SAWN = 12
"""Most patterns of through cuts that are taken at once."""

SAWN_STARTS, STARTS = 3, 6
"""Most climbs that start from patterns of through cuts, and from those and layouts in use."""

IMPROVES = 1e-6
"""Share by which a pattern must be worth more than its sheet to count."""

NEARLY = 0.99
"""What a pattern must be worth to be kept, as a share of its sheet: the dual values will change."""

FREE_SHEET = 1e-4
"""What a free sheet counts, as a share of the cheapest priced one: nearly nothing."""

FEWER = 1e-6
"""What a sheet counts beside its price, as a share of the dearest one."""

ROW_OFFERS = 16
"""What a look at the linear program counts for each pair of its rows, in pieces offered."""

SHORT_FACTOR = 20.0
"""What one missing piece costs, in the dearest sheets: only where the stock runs short."""


@dataclass(slots=True)
class Relaxation:
    """Patterns by content, the best fractions of them, and the dual value of each item type."""

    patterns: dict[tuple[int, Counts], Pattern]
    runs: dict[tuple[int, Counts], float]
    dual_values: list[float]
    prices: list[float]
    """What a sheet of each room must be worth: its weight, and more where few are on hand."""
    cost: float


def weights(problem: Problem) -> list[float]:
    """Return what a sheet of each room counts: its price, or nearly nothing when it is free."""
    priced = [room.price for room in problem.rooms if room.price > 0]
    free = FREE_SHEET * min(priced) if priced else 1.0
    most = max(room.area for room in problem.rooms)
    weight = [room.price or free * room.area / most for room in problem.rooms]
    # Of equal prices the one on fewer sheets.
    return [own + FEWER * max(weight) for own in weight] if len(weight) > 1 else weight


class Generation:
    """The linear program over layouts, and its growth."""

    def __init__(
        self, problem: Problem, demand: Mapping[int, int], pricer: Pricer, draft: Draft
    ) -> None:
        """Start with the layouts of a draft; where it is short, missing pieces are very dear."""
        self._problem = problem
        self._pricer = pricer
        self._item_types = sorted(demand)
        self._demand = demand
        self._row = {item_type: row for row, item_type in enumerate(self._item_types)}
        self._weights = weights(problem)
        rows: list[Row] = [at_least(demand[item_type]) for item_type in self._item_types]
        self._limit_row: dict[int, int] = {}
        for room in problem.rooms:
            if room.on_hand is not None:
                self._limit_row[room.index] = len(rows)
                rows.append(at_most(room.on_hand))
        dear = SHORT_FACTOR * max(self._weights)
        missing = [Column(cost=dear, entries=((row, 1.0),)) for row in range(len(self._item_types))]
        self._master = MasterProblem(rows, missing)
        self._patterns: list[Pattern] = []
        self._known: set[tuple[int, Counts]] = set()
        for pattern, _ in draft:
            self.add(pattern)

    def run(self, budget: Budget) -> None:
        """Add layouts until none is found that would help, or the budget is over."""
        steps, climbs, idle = FIRST_STEPS, CLIMBS, 0
        for by_area in cycle(BY_AREA):
            relaxation = self._solved(budget)
            if budget.over or idle == PATIENCE:
                return
            dual_values = self._mixed(relaxation.dual_values, by_area)
            added = False
            for room in self._problem.rooms:
                price = relaxation.prices[room.index]
                for pattern in self._priced(room, relaxation, dual_values, climbs, steps, budget):
                    value = pattern.value(relaxation.dual_values)
                    new = value > price * NEARLY and self.add(pattern)
                    added = added or (new and value > price * (1.0 + IMPROVES))
            idle = 0 if added else idle + 1
            if idle == len(BY_AREA) and steps < MOST_STEPS:
                steps, climbs, idle = LONGER * steps, LONG_CLIMBS, 0

    def _mixed(self, values: Sequence[float], by_area: float) -> list[float]:
        """Return the dual value of each item type, part of it by area; all come to as much."""
        item_types = self._problem.item_types
        area = sum(item_types[item_type].area * count for item_type, count in self._demand.items())
        dense = fsum(values[item_type] * count for item_type, count in self._demand.items()) / area
        return [
            (1.0 - by_area) * value + by_area * dense * item_type.area
            for value, item_type in zip(values, item_types, strict=True)
        ]

    def _priced(
        self,
        room: Room,
        relaxation: Relaxation,
        dual_values: Sequence[float],
        climbs: int,
        steps: int,
        budget: Budget,
    ) -> Iterator[Pattern]:
        """Yield patterns of through cuts, and those climbed from these and from layouts in use."""
        most = [
            self._demand.get(item_type, 0) for item_type in range(len(self._problem.item_types))
        ]
        sawn = self._pricer.sawn(room, relaxation.dual_values, most, budget)
        yield from sawn[:SAWN]
        in_use = [relaxation.patterns[key] for key in relaxation.runs if key[0] == room.index]
        starts = [*sawn[:SAWN_STARTS], *self._pricer.some(in_use, STARTS)][:STARTS]
        yield from self._pricer.patterns(room, dual_values, most, climbs, steps, budget, starts)

    def solved_for(
        self, left: Mapping[int, int], on_hand: Mapping[int, int | None], budget: Budget
    ) -> Relaxation:
        """Return the optimum over the layouts known for a demand and stock that are left."""
        for item_type, row in self._row.items():
            self._master.change_row(row, at_least(left.get(item_type, 0)))
        for room, row in self._limit_row.items():
            self._master.change_row(row, at_most(on_hand[room] or 0))
        return self._solved(budget)

    def _solved(self, budget: Budget) -> Relaxation:
        answer = self._master.solve(cancel=budget.cancelled)
        budget.spend(ROW_OFFERS * self._master.rows**2)
        values = [0.0] * len(self._problem.item_types)
        prices = list(self._weights)
        if answer.status is LinearStatus.OPTIMAL:
            for item_type, row in self._row.items():
                values[item_type] = max(0.0, answer.duals[row])
            for room, row in self._limit_row.items():
                prices[room] -= answer.duals[row]
        keys = [(pattern.room, pattern.counts) for pattern in self._patterns]
        used = {
            key: amount
            for key, amount in zip(keys, answer.values[len(self._item_types) :], strict=False)
            if amount > IMPROVES
        }
        patterns = dict(zip(keys, self._patterns, strict=True))
        return Relaxation(patterns, used, values, prices, answer.cost)

    def add(self, pattern: Pattern) -> bool:
        """Take a layout into the program; return whether it is new."""
        key = pattern.room, pattern.counts
        if key in self._known:
            return False
        self._known.add(key)
        self._patterns.append(pattern)
        entries = [(self._row[item_type], float(count)) for item_type, count in pattern.counts]
        limit = self._limit_row.get(pattern.room)
        if limit is not None:
            entries.append((limit, 1.0))
        self._master.add_column(Column(cost=self._weights[pattern.room], entries=tuple(entries)))
        return True
