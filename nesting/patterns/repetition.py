"""Layouts that repeat: the linear program, its rounding, and the curve of fewer layouts."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import ceil, isfinite

from nesting.kernels.sheets import Arrays
from nesting.patterns.fewer_layouts import FewLayouts
from nesting.patterns.generation import Generation
from nesting.patterns.pricing import Pricer
from nesting.patterns.rounding import rounded
from nesting.patterns.whole_runs import whole_runs
from nesting.question.problem import Problem
from nesting.search.budget import Budget
from nesting.search.draft import Draft, rank
from nesting.search.pattern import Pattern

GENERATION_SHARE = 0.5
"""Part of the budget for finding layouts."""

ROUNDING_SHARE = 0.3
"""Part of the rest that the curve leaves, and part of what is left then that rounding may use."""

ROUNDING_OFFERS = 8_000_000
"""Most work for that: pieces offered to the few sheets left take longer than those of climbs."""

WASTES = (0.0, 0.005, 0.01, 0.02, 0.05)
"""What a layout may waste, as a share of its runs, for the points of the curve."""

ROUNDINGS = 1e-6
"""Sheets above the linear program's optimum that count as none."""


@dataclass(frozen=True, slots=True)
class Repetition:
    """Drafts from few sheets to few layouts, and all layouts that were known in the end."""

    drafts: list[Draft]
    layouts: tuple[Pattern, ...]
    hopeful_price: int
    """The least price of whole sheets that is not below the linear program's optimum. No bound."""


def repeated(
    problem: Problem,
    arrays: Arrays,
    demand: Mapping[int, int],
    first: Draft,
    goal: int,
    budget: Budget,
    seed: int,
    told: Callable[[Draft], None],
) -> Repetition:
    """Return drafts in which layouts repeat, each `told` when found.

    What it costs does not grow with the copies.
    """
    pricer = Pricer(problem, arrays, seed)
    generation = Generation(problem, demand, pricer, first)
    generation.run(budget.part(GENERATION_SHARE))
    drafts = []
    curve = FewLayouts(problem, arrays, demand, generation, pricer, seed)
    # However long the curve takes, there is work left to round with.
    part = budget.part(1.0 - ROUNDING_SHARE)
    for waste in WASTES:
        draft = curve.draft(waste, part)
        if draft is None:
            break
        drafts.append(draft)
        told(draft)
    on_hand = {room.index: room.on_hand for room in problem.rooms}
    relaxation = generation.solved_for(demand, on_hand, budget)
    part = budget.part(ROUNDING_SHARE).within(ROUNDING_OFFERS)
    hopeful = _hopeful(problem, relaxation.cost)
    drafts.append(rounded(problem, arrays, demand, relaxation, max(goal, hopeful), part, seed))
    told(drafts[-1])
    best = min(drafts, key=lambda draft: rank(problem, draft))
    standing = rank(problem, best)
    if not standing.short_area and standing.price > max(goal, hopeful) and not budget.cancelled():
        cheaper = whole_runs(problem, demand, relaxation, best, budget)
        if cheaper is not None:
            drafts.append(cheaper)
            told(cheaper)
    drafts.sort(key=lambda draft: rank(problem, draft))
    return Repetition(drafts, tuple(relaxation.patterns.values()), hopeful)


def _hopeful(problem: Problem, cost: float) -> int:
    first, *others = problem.rooms
    if others or not first.cost or not isfinite(cost):
        return 0
    return first.cost * ceil(cost / first.price - ROUNDINGS)
