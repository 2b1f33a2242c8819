"""The cheapest whole runs of the layouts that are known: an integer program over those that count.

The program may make too much; what is too much is then left uncut, so that the answer is exact.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from nesting.patterns.generation import Relaxation, weights
from nesting.programs.linear_programs import solve_integer
from nesting.programs.programs import Column, IntegerLimits, Row, at_least, at_most
from nesting.question.problem import Problem
from nesting.search.budget import Budget
from nesting.search.draft import Draft, rank
from nesting.search.pattern import Pattern

MOST_LAYOUTS = 600
"""Layouts among which whole runs are chosen: those that cost least over what they are worth."""

LOOKS = 300
"""How long the program may take: about a second."""

LOOK_OFFERS = 30_000
"""What one look counts, in pieces offered: it takes as long."""

NO_CHEAPER = 0.999
"""Part of the smallest step between two prices: nothing is sought that is nearer than that."""


def whole_runs(
    problem: Problem,
    demand: Mapping[int, int],
    relaxation: Relaxation,
    known: Draft,
    budget: Budget,
) -> Draft | None:
    """Return the cheapest draft found of layouts known and those of the draft `known`.

    That draft is short of nothing. None when no choice was found.
    """
    layouts = _worth_a_look(problem, relaxation, known)
    # HiGHS presolves only without a start, which is worth more here.
    answer = solve_integer(
        *_program(problem, demand, layouts),
        limits=IntegerLimits(looks=LOOKS, absolute_gap=NO_CHEAPER * float(problem.unit)),
        cancel=budget.cancelled,
    )
    budget.spend(LOOK_OFFERS * LOOKS)
    draft = Draft()
    for pattern, runs in zip(layouts, answer.wholes, strict=False):
        if runs:
            draft.add(pattern, runs)
    return thinned(draft, demand)


def _program(
    problem: Problem, demand: Mapping[int, int], layouts: Sequence[Pattern]
) -> tuple[list[Row], list[Column]]:
    """Return rows of demand, then of sheets on hand, and a column for the runs of each layout."""
    row_of = {item_type: row for row, item_type in enumerate(sorted(demand))}
    rows = [at_least(demand[item_type]) for item_type in row_of]
    limit_of: dict[int, int] = {}
    for room in problem.rooms:
        if room.on_hand is not None:
            limit_of[room.index] = len(rows)
            rows.append(at_most(room.on_hand))
    costs, columns = weights(problem), []
    for pattern in layouts:
        entries = [(row_of[item_type], float(count)) for item_type, count in pattern.counts]
        if pattern.room in limit_of:
            entries.append((limit_of[pattern.room], 1.0))
        columns.append(Column(cost=costs[pattern.room], entries=tuple(entries)))
    return rows, columns


def thinned(draft: Draft, demand: Mapping[int, int]) -> Draft | None:
    """Return the draft with the pieces that are too many left uncut; None if there are too few.

    A piece is left out of all runs of a layout where that does it, so that few new ones arise.
    """
    made: dict[int, int] = {}
    for pattern, runs in draft:
        for item_type, count in pattern.counts:
            made[item_type] = made.get(item_type, 0) + count * runs
    if any(made.get(item_type, 0) < count for item_type, count in demand.items()):
        return None
    result = Draft(dict(draft.runs))
    for item_type, count in sorted(made.items()):
        surplus = count - demand[item_type]
        while surplus:
            pattern, runs = _best_to_thin(result, item_type, surplus)
            fewer = min(runs, surplus)
            del result.runs[pattern.room, pattern.counts]
            if runs > fewer:
                result.add(pattern, runs - fewer)
            without = _without_one(pattern, item_type)
            if without.spots:
                result.add(without, fewer)
            surplus -= fewer
    return result


def _worth_a_look(problem: Problem, relaxation: Relaxation, known: Draft) -> list[Pattern]:
    """Return the layouts that a cheaper choice can hold, and those of the draft."""
    slack = float(rank(problem, known).price * problem.unit) - relaxation.cost
    reduced_costs = {
        key: relaxation.prices[pattern.room] - pattern.value(relaxation.dual_values)
        for key, pattern in relaxation.patterns.items()
    }
    few = sorted((over, key) for key, over in reduced_costs.items() if over <= slack)[:MOST_LAYOUTS]
    chosen = {key: relaxation.patterns[key] for _, key in few}
    chosen |= {key: pattern for key, (pattern, _) in known.runs.items()}
    return list(chosen.values())


def _best_to_thin(draft: Draft, item_type: int, surplus: int) -> tuple[Pattern, int]:
    """Return the layout with most runs that all may lose one; else the one with fewest runs."""
    having = sorted(
        (runs, key)
        for key, (_, runs) in draft.runs.items()
        if any(each == item_type for each, _ in key[1])
    )
    whole = [entry for entry in having if entry[0] <= surplus]
    _, key = whole[-1] if whole else having[0]
    return draft.runs[key]


def _without_one(pattern: Pattern, item_type: int) -> Pattern:
    counts = tuple(
        (each, count - (each == item_type))
        for each, count in pattern.counts
        if (each, count) != (item_type, 1)
    )
    last = max(place for place, spot in enumerate(pattern.spots) if spot.item_type == item_type)
    spots = pattern.spots[:last] + pattern.spots[last + 1 :]
    return replace(pattern, counts=counts, spots=spots)
