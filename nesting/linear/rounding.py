"""From bars cut in fractions to whole bars: dives, and the best whole choice among fillings."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import floor

from nesting.linear.column_generation import PatternProgram, column_of
from nesting.linear.problem import BarProblem, Filling, Plan, made
from nesting.programs.linear_programs import Cancel, solve_integer
from nesting.programs.programs import IntegerLimits, IntegerStatus, Row, at_least, at_most

NEARLY_WHOLE = 1e-6
"""A fraction this close below a whole number counts as that number."""


def greedy(problem: BarProblem) -> dict[Filling, int] | None:
    """Return a plan of longest pieces first, run as often as the demand allows.

    Each bar is the one that costs least for the length it holds. None when the bars on hand end.
    """
    demand, left = list(problem.demand), [room.on_hand for room in problem.rooms]
    plan: Counter[Filling] = Counter()
    order = sorted(range(len(demand)), key=lambda kind: (-problem.lengths[kind], kind))
    while any(demand):
        offers = [
            _longest_first(problem, place, demand, order)
            for place in range(len(problem.rooms))
            if left[place] != 0
        ]
        offers = [filling for filling in offers if any(filling.counts)]
        if not offers:
            return None
        chosen = min(offers, key=lambda filling: _price_of_length(problem, filling))
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
    runs: dict[Filling, float],
    *,
    cancel: Cancel | None = None,
) -> dict[Filling, int] | None:
    """Return a plan by fixing whole runs of the relaxation, and solving what is left, again.

    New fillings found on the way are given to `program`. None when the bars on hand end.
    """
    plan: Counter[Filling] = Counter()
    rest = problem
    while any(rest.demand):
        fixed = _fixed(rest, runs)
        if not fixed:
            return None
        plan.update(fixed)
        rest = _rest(rest, fixed)
        if not any(rest.demand):
            break
        known = [filling for filling in program.fillings if _within(filling, rest)]
        residual = PatternProgram(rest, known)
        relaxation = residual.relax(cancel=cancel)
        program.learn(residual.fillings)
        if not relaxation.complete:
            return None
        runs = relaxation.runs
    return dict(plan)


def best_choice(
    problem: BarProblem,
    fillings: Sequence[Filling],
    known: Plan | None,
    limits: IntegerLimits,
    *,
    most: int | None,
    cancel: Cancel | None = None,
) -> "Choice":
    """Return the cheapest whole runs of these fillings that cover the demand, of cost up to `most`.

    The plan may make too much.
    """
    price_row = len(rows_of(problem))
    rows = [*rows_of(problem), Row() if most is None else at_most(float(most))]
    columns = [
        replace(column, entries=(*column.entries, (price_row, column.cost)))
        for column in (column_of(problem, filling) for filling in fillings)
    ]
    start = None if known is None else [float(known.get(filling, 0)) for filling in fillings]
    answer = solve_integer(rows, columns, limits=limits, start=start, cancel=cancel)
    plan = {f: runs for f, runs in zip(fillings, answer.wholes, strict=False) if runs}
    return Choice(plan if holds(problem, plan) else None, answer.status, answer.bound)


@dataclass(frozen=True, slots=True)
class Choice:
    """The plan found, if it covers the demand, how the search ended, and the solver's bound."""

    plan: dict[Filling, int] | None
    status: IntegerStatus
    bound: float


def rows_of(problem: BarProblem) -> list[Row]:
    """Return the rows of demand by kind, then those of limits by room."""
    rows = [at_least(float(count)) for count in problem.demand]
    rows += [Row() if r.on_hand is None else at_most(float(r.on_hand)) for r in problem.rooms]
    return rows


def holds(problem: BarProblem, plan: Plan) -> bool:
    """Return whether the plan makes enough from the bars on hand, in whole numbers."""
    used: Counter[int] = Counter()
    for filling, runs in plan.items():
        used[filling.room] += runs
    enough = all(m >= d for m, d in zip(made(problem, plan), problem.demand, strict=True))
    return enough and all(
        room.on_hand is None or used[place] <= room.on_hand
        for place, room in enumerate(problem.rooms)
    )


def _fixed(rest: BarProblem, runs: dict[Filling, float]) -> dict[Filling, int]:
    """Return the whole runs; if there are none, one of the filling nearest to a whole run."""
    whole = {f: floor(value + NEARLY_WHOLE) for f, value in runs.items()}
    whole = {f: count for f, count in whole.items() if count}
    if whole:
        return _no_more_than_asked(rest, whole)
    by_fraction = sorted(runs, key=lambda filling: (-runs[filling], filling))
    return {by_fraction[0]: 1} if by_fraction else {}


def _no_more_than_asked(rest: BarProblem, runs: dict[Filling, int]) -> dict[Filling, int]:
    """Return the runs, in order, as far as none makes more than is asked or than bars allow."""
    demand, left = list(rest.demand), [room.on_hand for room in rest.rooms]
    kept = {}
    for filling in sorted(runs, key=lambda each: (-runs[each], each)):
        count = min(
            [runs[filling]] + [d // c for d, c in zip(demand, filling.counts, strict=True) if c]
        )
        on_hand = left[filling.room]
        if on_hand is not None:
            count = min(count, on_hand)
            left[filling.room] = on_hand - count
        if count:
            kept[filling] = count
            demand = [d - count * c for d, c in zip(demand, filling.counts, strict=True)]
    return kept or {max(runs, key=lambda each: (runs[each], each)): 1}


def _rest(problem: BarProblem, plan: Plan) -> BarProblem:
    demand = tuple(max(0, d - m) for d, m in zip(problem.demand, made(problem, plan), strict=True))
    rooms = list(problem.rooms)
    for filling, runs in plan.items():
        room = rooms[filling.room]
        if room.on_hand is not None:
            rooms[filling.room] = replace(room, on_hand=room.on_hand - runs)
    return BarProblem(problem.lengths, demand, tuple(rooms))


def _within(filling: Filling, problem: BarProblem) -> bool:
    return problem.rooms[filling.room].on_hand != 0 and all(
        count <= most for count, most in zip(filling.counts, problem.demand, strict=True)
    )


def _longest_first(
    problem: BarProblem, place: int, demand: Sequence[int], order: Iterable[int]
) -> Filling:
    counts, left = [0] * len(demand), problem.rooms[place].size
    for kind in order:
        counts[kind] = min(left // problem.lengths[kind], demand[kind])
        left -= counts[kind] * problem.lengths[kind]
    return Filling(place, tuple(counts))


def _price_of_length(problem: BarProblem, filling: Filling) -> tuple[float, int, int]:
    length = sum(count * kind for count, kind in zip(filling.counts, problem.lengths, strict=True))
    room = problem.rooms[filling.room]
    return room.price / length, -length, filling.room
