"""From bars cut in fractions to whole bars: dives, and the best whole choice among patterns."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import floor

from nesting.linear.column_generation import PatternProgram, column_of
from nesting.linear.problem import BarProblem, Pattern, Plan, made
from nesting.programs.linear_programs import Cancel, solve_integer
from nesting.programs.programs import IntegerLimits, IntegerStatus, Row, at_least, at_most

NEARLY_WHOLE = 1e-6
"""A fraction this close below a whole number counts as that number."""


def greedy(problem: BarProblem) -> dict[Pattern, int] | None:
    """Return a plan of longest pieces first, run as often as the demand allows.

    Each bar is the one that costs least for the length it holds. None when the bars on hand end.
    """
    demand, left = list(problem.demand), [room.on_hand for room in problem.rooms]
    plan: Counter[Pattern] = Counter()
    order = sorted(
        range(len(demand)), key=lambda item_type: (-problem.lengths[item_type], item_type)
    )
    while any(demand):
        candidates = [
            _longest_first(problem, place, demand, order)
            for place in range(len(problem.rooms))
            if left[place] != 0
        ]
        candidates = [pattern for pattern in candidates if any(pattern.counts)]
        if not candidates:
            return None
        chosen = min(candidates, key=lambda pattern: _price_of_length(problem, pattern))
        runs = min(d // c for d, c in zip(demand, chosen.counts, strict=True) if c)
        on_hand = left[chosen.room]
        if on_hand is not None:
            runs = min(runs, on_hand)
            left[chosen.room] = on_hand - runs
        plan[chosen] += runs
        demand = [d - runs * c for d, c in zip(demand, chosen.counts, strict=True)]
    return dict(plan)


def dive(
    program: PatternProgram,
    problem: BarProblem,
    runs: dict[Pattern, float],
    *,
    cancel: Cancel | None = None,
) -> dict[Pattern, int] | None:
    """Return a plan by fixing whole runs of the relaxation, and solving what is left, again.

    New patterns found on the way are given to `program`. None when the bars on hand end.
    """
    plan: Counter[Pattern] = Counter()
    rest = problem
    while any(rest.demand):
        fixed = _fixed(rest, runs)
        if not fixed:
            return None
        plan.update(fixed)
        rest = _rest(rest, fixed)
        if not any(rest.demand):
            break
        known = [pattern for pattern in program.patterns if _within(pattern, rest)]
        residual = PatternProgram(rest, known)
        relaxation = residual.relax(cancel=cancel)
        program.learn(residual.patterns)
        if not relaxation.complete:
            return None
        runs = relaxation.runs
    return dict(plan)


def best_choice(
    problem: BarProblem,
    patterns: Sequence[Pattern],
    known: Plan | None,
    limits: IntegerLimits,
    *,
    most: int | None,
    cancel: Cancel | None = None,
) -> "Chosen":
    """Return the cheapest whole runs of these patterns that cover the demand, of cost up to `most`.

    The plan may make too much.
    """
    price_row = len(rows_of(problem))
    rows = [*rows_of(problem), Row() if most is None else at_most(float(most))]
    columns = [
        replace(column, entries=(*column.entries, (price_row, column.cost)))
        for column in (column_of(problem, pattern) for pattern in patterns)
    ]
    start = None if known is None else [float(known.get(pattern, 0)) for pattern in patterns]
    answer = solve_integer(rows, columns, limits=limits, start=start, cancel=cancel)
    plan = {f: runs for f, runs in zip(patterns, answer.wholes, strict=False) if runs}
    return Chosen(plan if holds(problem, plan) else None, answer.status, answer.bound)


@dataclass(frozen=True, slots=True)
class Chosen:
    """The plan found, if it covers the demand, how the search ended, and the solver's bound."""

    plan: dict[Pattern, int] | None
    status: IntegerStatus
    bound: float


def rows_of(problem: BarProblem) -> list[Row]:
    """Return the rows of demand by item type, then those of limits by room."""
    rows = [at_least(float(count)) for count in problem.demand]
    rows += [Row() if r.on_hand is None else at_most(float(r.on_hand)) for r in problem.rooms]
    return rows


def holds(problem: BarProblem, plan: Plan) -> bool:
    """Return whether the plan makes enough from the bars on hand, in whole numbers."""
    used: Counter[int] = Counter()
    for pattern, runs in plan.items():
        used[pattern.room] += runs
    enough = all(m >= d for m, d in zip(made(problem, plan), problem.demand, strict=True))
    return enough and all(
        room.on_hand is None or used[place] <= room.on_hand
        for place, room in enumerate(problem.rooms)
    )


def _fixed(rest: BarProblem, runs: dict[Pattern, float]) -> dict[Pattern, int]:
    """Return the whole runs; if there are none, one of the pattern nearest to a whole run."""
    whole = {f: floor(value + NEARLY_WHOLE) for f, value in runs.items()}
    whole = {f: count for f, count in whole.items() if count}
    if whole:
        return _no_more_than_asked(rest, whole)
    by_fraction = sorted(runs, key=lambda pattern: (-runs[pattern], pattern))
    return {by_fraction[0]: 1} if by_fraction else {}


def _no_more_than_asked(rest: BarProblem, runs: dict[Pattern, int]) -> dict[Pattern, int]:
    """Return the runs, in order, as far as none makes more than is asked or than bars allow."""
    demand, left = list(rest.demand), [room.on_hand for room in rest.rooms]
    kept = {}
    for pattern in sorted(runs, key=lambda each: (-runs[each], each)):
        count = min(
            [runs[pattern]] + [d // c for d, c in zip(demand, pattern.counts, strict=True) if c]
        )
        on_hand = left[pattern.room]
        if on_hand is not None:
            count = min(count, on_hand)
            left[pattern.room] = on_hand - count
        if count:
            kept[pattern] = count
            demand = [d - count * c for d, c in zip(demand, pattern.counts, strict=True)]
    return kept or {max(runs, key=lambda each: (runs[each], each)): 1}


def _rest(problem: BarProblem, plan: Plan) -> BarProblem:
    demand = tuple(max(0, d - m) for d, m in zip(problem.demand, made(problem, plan), strict=True))
    rooms = list(problem.rooms)
    for pattern, runs in plan.items():
        room = rooms[pattern.room]
        if room.on_hand is not None:
            rooms[pattern.room] = replace(room, on_hand=room.on_hand - runs)
    return BarProblem(problem.lengths, demand, tuple(rooms))


def _within(pattern: Pattern, problem: BarProblem) -> bool:
    return problem.rooms[pattern.room].on_hand != 0 and all(
        count <= most for count, most in zip(pattern.counts, problem.demand, strict=True)
    )


def _longest_first(
    problem: BarProblem, place: int, demand: Sequence[int], order: Iterable[int]
) -> Pattern:
    counts, left = [0] * len(demand), problem.rooms[place].size
    for item_type in order:
        counts[item_type] = min(left // problem.lengths[item_type], demand[item_type])
        left -= counts[item_type] * problem.lengths[item_type]
    return Pattern(place, tuple(counts))


def _price_of_length(problem: BarProblem, pattern: Pattern) -> tuple[float, int, int]:
    length = sum(
        count * item_type for count, item_type in zip(pattern.counts, problem.lengths, strict=True)
    )
    room = problem.rooms[pattern.room]
    return room.price / length, -length, pattern.room
