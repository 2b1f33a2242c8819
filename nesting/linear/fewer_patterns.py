"""Among plans of the least cost found: least length of bars, then fewest different patterns."""

from collections.abc import Sequence
from math import fsum

from nesting.linear.column_generation import Proof, column_of
from nesting.linear.problem import (
    BarProblem,
    Pattern,
    exact,
    plan_cost,
    plan_length,
)
from nesting.linear.rounding import holds, rows_of
from nesting.programs.linear_programs import Cancel, solve_integer
from nesting.programs.programs import Column, IntegerLimits, Row, at_most, exactly

LOOKS = 15
"""How long each program may take; fewer patterns are a preference, not worth more."""

MOST_CANDIDATES = 60
"""Patterns among which fewest patterns are looked for: of least reduced cost, then of most runs."""

FEW_RUNS = 500
"""Runs up to which plans that make too much, then thinned, are tried as well: many runs make that
program slow, and thinning adds the patterns again.
"""

MOST_PATTERNS = 15
"""Patterns up to which fewer are looked for: beyond, the program rarely ends within its looks."""


def tidied(
    problem: BarProblem,
    plan: dict[Pattern, int],
    patterns: Sequence[Pattern],
    proof: Proof,
    *,
    cancel: Cancel | None = None,
) -> dict[Pattern, int]:
    """Return an exact plan, of no higher cost: of least length, then of fewest patterns.

    The given plan must be exact; it is returned when nothing better is found.
    """
    pool = _pool(problem, plan, patterns, proof)
    if len(problem.rooms) > 1:
        plan = _shorter(problem, plan, pool, cancel)
    if 1 < len(plan) <= MOST_PATTERNS:
        demands = [_exact_rows(problem)]
        if sum(plan.values()) <= FEW_RUNS:
            demands.append(rows_of(problem))
        for demand_rows in demands:
            plan = _fewer(problem, plan, _pool(problem, plan, pool, proof), demand_rows, cancel)
    return plan


def _pool(
    problem: BarProblem, plan: dict[Pattern, int], patterns: Sequence[Pattern], proof: Proof
) -> list[Pattern]:
    """Return the plan's patterns and those others that an answer of its cost can hold."""
    slack = plan_cost(problem, plan) - proof.bound
    reduced_cost = {pattern: proof.reduced_cost(problem, pattern) for pattern in patterns}
    others = [f for f in patterns if reduced_cost[f] <= slack and f not in plan]
    others.sort(key=lambda each: (reduced_cost[each], -_runs_alone(problem, each), each))
    return [*sorted(plan), *others[:MOST_CANDIDATES]]


def _runs_alone(problem: BarProblem, pattern: Pattern) -> int:
    """Return how often the pattern can run before it makes too much of an item type."""
    return min(
        demand // count
        for demand, count in zip(problem.demand, pattern.counts, strict=True)
        if count
    )


def _shorter(
    problem: BarProblem,
    plan: dict[Pattern, int],
    pool: list[Pattern],
    cancel: Cancel | None,
) -> dict[Pattern, int]:
    price_row = len(rows_of(problem))
    columns = [
        _with(column_of(problem, pattern), cost=_size(problem, pattern), more=((price_row, price),))
        for pattern, price in zip(pool, _prices(problem, pool), strict=True)
    ]
    rows = [*rows_of(problem), at_most(float(plan_cost(problem, plan)))]
    start = [float(plan.get(pattern, 0)) for pattern in pool]
    answer = solve_integer(
        rows, columns, limits=IntegerLimits(looks=LOOKS), start=start, cancel=cancel
    )
    return _better(problem, plan, pool, answer.wholes)


def _fewer(
    problem: BarProblem,
    plan: dict[Pattern, int],
    pool: list[Pattern],
    demand_rows: list[Row],
    cancel: Cancel | None,
) -> dict[Pattern, int]:
    """Return the plan with fewest patterns: one column for the runs of each, one for its use."""
    cost_row, length_row = len(demand_rows), len(demand_rows) + 1
    first_link = len(demand_rows) + 2
    rows = [
        *demand_rows,
        at_most(float(plan_cost(problem, plan))),
        at_most(_size_of(problem, plan)),
        *(at_most(0.0) for _ in pool),
    ]
    columns = [
        _with(
            column_of(problem, pattern),
            cost=0.0,
            more=(
                (cost_row, price),
                (length_row, _size(problem, pattern)),
                (first_link + place, 1.0),
            ),
        )
        for place, (pattern, price) in enumerate(zip(pool, _prices(problem, pool), strict=True))
    ]
    columns += [
        Column(
            cost=1.0,
            entries=((first_link + place, -float(_most_runs(problem, pattern))),),
            upper=1.0,
        )
        for place, pattern in enumerate(pool)
    ]
    runs = [float(plan.get(pattern, 0)) for pattern in pool]
    start = [*runs, *(float(count > 0) for count in runs)]
    limits = IntegerLimits(looks=LOOKS, absolute_gap=0.999)
    answer = solve_integer(rows, columns, limits=limits, start=start, cancel=cancel)
    return _better(problem, plan, pool, answer.wholes[: len(pool)])


def _better(
    problem: BarProblem, plan: dict[Pattern, int], pool: list[Pattern], runs: Sequence[int]
) -> dict[Pattern, int]:
    """Return whichever plan is cheaper, then shorter, then of fewer patterns, once made exact."""
    found = {pattern: count for pattern, count in zip(pool, runs, strict=False) if count > 0}
    if not holds(problem, found):
        return plan
    return min((plan, exact(problem, found)), key=lambda each: _rank(problem, each))


def _rank(problem: BarProblem, plan: dict[Pattern, int]) -> tuple[int, int, int]:
    return plan_cost(problem, plan), plan_length(problem, plan), len(plan)


def _exact_rows(problem: BarProblem) -> list[Row]:
    item_types = len(problem.demand)
    return [*(exactly(float(count)) for count in problem.demand), *rows_of(problem)[item_types:]]


def _most_runs(problem: BarProblem, pattern: Pattern) -> int:
    """Return how often the pattern can run before every item type in it is made."""
    return max(
        -(-demand // count)
        for demand, count in zip(problem.demand, pattern.counts, strict=True)
        if count
    )


def _prices(problem: BarProblem, pool: list[Pattern]) -> list[float]:
    return [float(problem.rooms[pattern.room].price) for pattern in pool]


def _size(problem: BarProblem, pattern: Pattern) -> float:
    """Return the length of the pattern's bar as a share of the longest: near 1 for the solver."""
    return problem.rooms[pattern.room].size / max(room.size for room in problem.rooms)


def _size_of(problem: BarProblem, plan: dict[Pattern, int]) -> float:
    total = fsum(_size(problem, pattern) * runs for pattern, runs in plan.items())
    return total * (1 + 1e-9) + 1e-9


def _with(column: Column, *, cost: float, more: tuple[tuple[int, float], ...]) -> Column:
    return Column(cost=cost, entries=(*column.entries, *more))
