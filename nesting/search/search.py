"""One search: first answers, then layouts that repeat, then one sheet fewer, on and on."""

import time
from dataclasses import dataclass

from nesting.answer.solution import StopReason
from nesting.bounds.bounds import Bounds, thorough_bounds
from nesting.bounds.thorough import MOST_IN_SETS
from nesting.kernels.sheets import Arrays
from nesting.patterns.best_filled import best_filled, suits
from nesting.patterns.repetition import repeated
from nesting.question.problem import Problem
from nesting.question.settings import Preference, WorkLimits
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget, Clock
from nesting.search.draft import Draft, Rank, rank
from nesting.search.filling import Filling
from nesting.search.first_answers import first_answer
from nesting.search.one_sheet_fewer import improved
from nesting.search.watch import Unwatched, Watcher

FIRST_SHARE = 0.05
"""Part of the budget for first answers."""

REPEATED_SHARE = 0.7
"""Part of the budget for layouts that repeat, where there are any."""

FILLED_SHARE = 0.9
"""Part of the budget for filling many sheets well, one after the other."""

MANY_SHEETS, FULL = 20, 6
"""From so many sheets with so many pieces on each, two at a time are too few to search."""

SINGLES_SHARE = 0.15
"""Part of the work for single sheets that is done where layouts that repeat left little to find."""

COPIES = 3
"""Mean copies of a kind from which layouts repeat."""

MOST_REPEATED = 3_000
"""With more kinds the linear program takes longer than all layouts that it asks for."""

FEWEST_SHEETS = 3
"""With fewer sheets the pieces are nested one by one, whatever repeats."""

MOST_SINGLES = 400
"""With more sheets, layouts that repeat are not broken up to save one."""


MOST_COUNTED = 500
"""With more kinds, the bounds that count pieces would take longer than they are worth."""

FEW_NODES_SHARE = 0.125
"""Share of the nodes for bounds where few pieces do not repeat: sets of them are gone through."""

PROOF_SHARE, PROOF_FROM = 0.2, 5.0
"""Part of the time that is kept for these bounds, and from how many seconds on."""

NODES_A_SECOND = 5_000_000
"""Nodes of the bound for each second allowed: a fifth of it at most."""


@dataclass(frozen=True, slots=True)
class Task:
    """All that one search needs; it can travel to another process."""

    problem: Problem
    bounds: Bounds
    limits: WorkLimits
    preference: Preference
    seconds: float | None
    seed: int


@dataclass(frozen=True, slots=True)
class Found:
    """What a search came to, and the bounds it proved."""

    draft: Draft
    stop: StopReason
    choices: tuple[Rank, ...]
    bounds: Bounds


def search(task: Task, watcher: Watcher | None = None, clock: Clock = time.monotonic) -> Found:
    """Return the best answer found within the task's limits."""
    problem, bounds = task.problem, task.bounds
    deadline = None if task.seconds is None else clock() + task.seconds
    budget = Budget(
        task.limits.offers + task.limits.pattern_offers, deadline, clock, watcher or Unwatched()
    )
    arrays = arrays_of(problem)
    demand = dict(enumerate(problem.demand))
    first = first_answer(problem, arrays, demand, budget.part(FIRST_SHARE), bounds.price)
    if len(problem.kinds) <= MOST_COUNTED and not _met(problem, first, bounds):
        bounds = thorough_bounds(problem, (), 0, budget.cancelled, bounds)
    goal = bounds.price
    told = Told(budget, bounds.sheets)
    told(first)
    drafts: list[Draft] = [first]
    layouts: tuple[Filling, ...] | None = None
    settled = _met(problem, first, bounds) and len(first.runs) == 1
    if _repeats(problem, first) and not settled and not budget.over:
        part = (
            budget.part(REPEATED_SHARE)
            if budget.timed
            else budget.within(task.limits.pattern_offers)
        )
        repetition = repeated(problem, arrays, demand, first, goal, part, task.seed, told)
        drafts += repetition.drafts
        layouts = repetition.layouts
        told(drafts[-1])
        # Nothing known suggests that a price below this one can be had.
        goal = max(goal, repetition.hopeful_price)
    elif _many_and_full(problem, first) and not budget.over:
        part = budget.part(FILLED_SHARE)
        drafts.append(best_filled(problem, arrays, first, goal, part, task.seed, told))
    best = min(drafts, key=lambda draft: rank(problem, draft))
    few = best.sheets <= MOST_SINGLES or len(best.runs) == best.sheets
    if best.short or (few and not _met(problem, best, bounds)):
        offers = task.limits.offers
        if layouts is not None:
            offers = int(SINGLES_SHARE * offers)
        singles = budget if budget.timed else budget.within(offers)
        if layouts is None and _few(problem) and (task.seconds or 0.0) >= PROOF_FROM:
            singles = budget.part(1.0 - PROOF_SHARE)
        drafts.append(_bettered(problem, arrays, best, goal, singles, task.seed, told))
    chosen, choices = _preferred(problem, drafts, task.preference)
    told(chosen)
    if not _met(problem, best, bounds) and budget.over is not StopReason.CANCELLED:
        bounds = _proven_more(task, layouts, best, bounds, budget)
    proven = _met(problem, chosen, bounds)
    stop = StopReason.PROVEN if proven else budget.over or StopReason.WORK
    return Found(chosen, stop, choices, bounds)


def _proven_more(
    task: Task,
    layouts: tuple[Filling, ...] | None,
    best: Draft,
    bounds: Bounds,
    budget: Budget,
) -> Bounds:
    """Return bounds that the layouts known point to, or those of the draft for a few pieces."""
    problem, nodes, set_nodes = task.problem, task.limits.bound_nodes, task.limits.set_nodes
    stop = budget.watcher.cancelled
    if layouts is None:
        if best.short or not _few(problem):
            return bounds
        layouts, stop = tuple(filling for filling, _ in best), budget.cancelled
        set_nodes = max(set_nodes, nodes if budget.timed else int(FEW_NODES_SHARE * nodes))
        nodes = int(FEW_NODES_SHARE * nodes)
    if task.seconds is not None:
        nodes = min(nodes, int(NODES_A_SECOND * task.seconds))
        set_nodes = min(set_nodes, int(NODES_A_SECOND * task.seconds))
    return thorough_bounds(problem, layouts, nodes, stop, bounds, set_nodes)


class Told:
    """Tells the watcher of the fewest sheets met so far."""

    def __init__(self, budget: Budget, lower_bound: int) -> None:
        """Keep whom to tell."""
        self._budget = budget
        self._lower_bound = lower_bound
        self._sheets: int | None = None

    def __call__(self, draft: Draft) -> None:
        """Tell of a draft of the whole question."""
        if not draft.short:
            self._sheets = min(draft.sheets, self._sheets or draft.sheets)
        if self._sheets is not None:
            self._budget.tell("nest", self._sheets, self._lower_bound)


def _met(problem: Problem, draft: Draft, bounds: Bounds) -> bool:
    """Return whether no answer can be cheaper than the draft, nor as cheap on fewer sheets."""
    standing = rank(problem, draft)
    one_price = len(problem.rooms) == 1 and standing.price > 0
    fewest = one_price or standing.sheets <= bounds.sheets
    return not draft.short and standing.price <= bounds.price and fewest


def _few(problem: Problem) -> bool:
    """Return whether the pieces are so few that sets of them can be gone through."""
    return sum(problem.demand) <= MOST_IN_SETS


def _repeats(problem: Problem, first: Draft) -> bool:
    if first.short or len(problem.kinds) > MOST_REPEATED:
        return False
    if len(problem.rooms) > 1:
        return True
    return first.sheets >= FEWEST_SHEETS and sum(problem.demand) >= COPIES * len(problem.kinds)


def _many_and_full(problem: Problem, first: Draft) -> bool:
    """Return whether there are many sheets of one stock with many pieces on each."""
    many = first.sheets >= MANY_SHEETS and sum(problem.demand) >= FULL * first.sheets
    return many and not first.short and suits(problem)


def _bettered(
    problem: Problem,
    arrays: Arrays,
    best: Draft,
    goal: int,
    budget: Budget,
    seed: int,
    told: "Told",
) -> Draft:
    """Return a draft below the price of the best one, or that one with its layouts as they are."""
    found = improved(problem, arrays, best, goal, budget, seed, told)
    before, after = rank(problem, best), rank(problem, found)
    cheaper = (after.short_area, after.price, after.sheets) < (
        before.short_area,
        before.price,
        before.sheets,
    )
    return found if cheaper else best


def _preferred(
    problem: Problem, drafts: list[Draft], preference: Preference
) -> tuple[Draft, tuple[Rank, ...]]:
    """Return the draft that the preference picks, and the curve of price against layouts."""
    ranked = sorted((rank(problem, draft), n) for n, draft in enumerate(drafts))
    best = ranked[0][0]
    whole = [(found, n) for found, n in ranked if found.short_area == best.short_area]
    curve: list[tuple[Rank, int]] = []
    for found, n in whole:
        if not curve or found.layouts < curve[-1][0].layouts:
            curve.append((found, n))
    within = [entry for entry in curve if entry[0].price <= preference.most(best.price)]
    # With nothing to pay the sheets stand in for the price.
    if best.price == 0:
        within = [entry for entry in curve if entry[0].sheets <= preference.most(best.sheets)]
    chosen = drafts[within[-1][1]]
    return chosen, tuple(found for found, _ in curve)
