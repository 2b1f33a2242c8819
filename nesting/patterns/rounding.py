"""Whole runs from fractions: the exact demand, no piece more and none less.

Most of each fraction becomes whole runs; what then remains is a small nest, searched sheet by
sheet.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from nesting.kernels.sheets import Arrays
from nesting.patterns.generation import Relaxation
from nesting.question.errors import StoppedTooEarly
from nesting.question.problem import Problem
from nesting.search.budget import Budget
from nesting.search.draft import Draft, joined, rank, residual
from nesting.search.first_answers import first_answer
from nesting.search.one_sheet_fewer import improved
from nesting.search.pattern import Counts, Pattern

THRESHOLDS = (1.0, 0.85, 0.7, 0.55, 0.4)
"""Fractions from here on become one more run, in turn."""

ONCE_MET = 0.05
"""Share of the work for each further threshold once the goal is met: it may need fewer layouts."""


def rounded(
    problem: Problem,
    arrays: Arrays,
    demand: Mapping[int, int],
    relaxation: Relaxation,
    goal: int,
    budget: Budget,
    seed: int,
) -> Draft:
    """Return the best draft over all thresholds, or of those that the budget allows.

    Below the price `goal` nothing is hoped for.
    """
    best: Draft | None = None
    met = False
    parts = len(THRESHOLDS)
    for number, whole in enumerate(_whole_parts(problem, demand, relaxation)):
        part = budget.part(ONCE_MET if met else 1.0 / (parts - number))
        draft = completed(problem, arrays, demand, whole, goal, part, seed + number)
        if best is None or rank(problem, draft) < rank(problem, best):
            best = draft
        if budget.over:
            break
        found = rank(problem, best)
        met = not found.short_area and found.price <= goal
    return best or Draft(short=dict(demand))


def completed(
    problem: Problem,
    arrays: Arrays,
    demand: Mapping[int, int],
    whole: Draft,
    goal: int,
    budget: Budget,
    seed: int,
) -> Draft:
    """Return the draft with sheets for what of the demand it does not hold yet."""
    left = residual(demand, whole)
    if not left:
        return whole
    rest = less_stock(problem, whole)
    already = rank(problem, whole).price
    try:
        start = first_answer(rest, arrays, left, budget.part(0.2), goal - already)
    except StoppedTooEarly:
        return joined(whole, Draft(short=left))
    return joined(whole, improved(rest, arrays, start, goal - already, budget, seed))


def less_stock(problem: Problem, draft: Draft) -> Problem:
    """Return the problem with the draft's sheets taken from those on hand."""
    used = draft.sheets_by_room()
    rooms = tuple(
        room
        if room.on_hand is None
        else replace(room, on_hand=room.on_hand - used.get(room.index, 0))
        for room in problem.rooms
    )
    return replace(problem, rooms=rooms)


def _whole_parts(
    problem: Problem, demand: Mapping[int, int], relaxation: Relaxation
) -> Iterator[Draft]:
    for threshold in THRESHOLDS:
        wanted = {
            key: int(amount) + (amount - int(amount) >= threshold)
            for key, amount in relaxation.runs.items()
        }
        yield _affordable(problem, demand, relaxation.patterns, wanted)


def _affordable(
    problem: Problem,
    demand: Mapping[int, int],
    patterns: Mapping[tuple[int, Counts], Pattern],
    wanted: Mapping[tuple[int, Counts], int],
) -> Draft:
    """Return as many of the wanted runs as neither demand nor stock forbids, many runs first."""
    draft, left = Draft(), dict(demand)
    on_hand = {room.index: room.on_hand for room in problem.rooms}
    for key, runs in sorted(wanted.items(), key=lambda entry: (-entry[1], entry[0])):
        limits = [left.get(item_type, 0) // count for item_type, count in patterns[key].counts]
        stock = on_hand[key[0]]
        possible = min([runs, *limits, *([] if stock is None else [stock])])
        if possible < 1:
            continue
        draft.add(patterns[key], possible)
        if stock is not None:
            on_hand[key[0]] = stock - possible
        for item_type, count in patterns[key].counts:
            left[item_type] -= count * possible
    return draft
