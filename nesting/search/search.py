"""One search: first answers, then layouts that repeat, then one sheet fewer, on and on."""

import time
from dataclasses import dataclass

from nesting.answer.solution import StopReason
from nesting.bounds.lower_bounds import LowerBounds, thorough_bounds
from nesting.bounds.thorough import MOST_IN_SETS
from nesting.kernels.sheets import Arrays
from nesting.patterns.best_filled import best_filled, suits
from nesting.patterns.repetition import repeated
from nesting.question.problem import Problem
from nesting.question.settings import Preference, WorkLimits
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget, Clock
from nesting.search.draft import Draft, Rank, rank
from nesting.search.first_answers import first_answer
from nesting.search.one_sheet_fewer import improved
from nesting.search.pattern import Pattern
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
"""Mean copies of an item type from which layouts repeat."""

MOST_REPEATED = 3_000
"""With more item types the linear program takes longer than all layouts that it asks for."""

FEWEST_SHEETS = 3
"""With fewer sheets the pieces are nested one by one, whatever repeats."""

MOST_SINGLES = 400
"""With more sheets, layouts that repeat are not broken up to save one."""


MOST_COUNTED = 500
"""With more item types, the bounds that count pieces would take longer than they are worth."""

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
    bounds: LowerBounds
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
    bounds: LowerBounds


def search(task: Task, watcher: Watcher | None = None, clock: Clock = time.monotonic) -> Found:
    """Return the best answer found within the task's limits."""
    return _Search(task, watcher or Unwatched(), clock).run()


class _Search:
    """A search under way: its budget, the bounds and the drafts so far."""

    def __init__(self, task: Task, watcher: Watcher, clock: Clock) -> None:
        """Start the clock, if there is one."""
        deadline = None if task.seconds is None else clock() + task.seconds
        offers = task.limits.offers + task.limits.pattern_offers
        self._task, self._problem, self._bounds = task, task.problem, task.bounds
        self._budget = Budget(offers, deadline, clock, watcher)
        self._arrays = arrays_of(task.problem)
        self._demand = dict(enumerate(task.problem.demand))
        self._goal = task.bounds.price
        """A price below which nothing known suggests that there is an answer."""
        self._drafts: list[Draft] = []
        self._layouts: tuple[Pattern, ...] | None = None
        """All layouts that repeat; None where none were looked for."""

    def run(self) -> Found:
        first = self._first_answer()
        told = Told(self._budget, self._bounds.sheets)
        told(first)
        settled = self._met(first) and len(first.runs) == 1
        if _repeats(self._problem, first) and not settled and not self._budget.over:
            self._repeat(first, told)
        elif _many_and_full(self._problem, first) and not self._budget.over:
            self._fill_well(first, told)
        best = min(self._drafts, key=lambda draft: rank(self._problem, draft))
        self._move_singles(best, told)
        chosen, choices = _preferred(self._problem, self._drafts, self._task.preference)
        told(chosen)
        if not self._met(best) and self._budget.over is not StopReason.CANCELLED:
            self._prove_more(best)
        proven = self._met(chosen)
        stop = StopReason.PROVEN if proven else self._budget.over or StopReason.WORK
        return Found(chosen, stop, choices, self._bounds)

    def _first_answer(self) -> Draft:
        """Return a first draft, and raise the bounds by what counts the pieces."""
        problem, part = self._problem, self._budget.part(FIRST_SHARE)
        first = first_answer(problem, self._arrays, self._demand, part, self._bounds.price)
        if len(problem.item_types) <= MOST_COUNTED and not self._met(first):
            self._bounds = thorough_bounds(problem, (), 0, self._budget.cancelled, self._bounds)
        self._goal = self._bounds.price
        self._drafts.append(first)
        return first

    def _repeat(self, first: Draft, told: "Told") -> None:
        """Look for layouts that repeat."""
        budget = self._budget
        if budget.timed:
            part = budget.part(REPEATED_SHARE)
        else:
            part = budget.within(self._task.limits.pattern_offers)
        repetition = repeated(
            self._problem,
            self._arrays,
            self._demand,
            first,
            self._goal,
            part,
            self._task.seed,
            told,
        )
        self._drafts += repetition.drafts
        self._layouts = repetition.layouts
        told(self._drafts[-1])
        self._goal = max(self._goal, repetition.hopeful_price)

    def _fill_well(self, first: Draft, told: "Told") -> None:
        """Fill many sheets well, one after the other."""
        part, seed = self._budget.part(FILLED_SHARE), self._task.seed
        draft = best_filled(self._problem, self._arrays, first, self._goal, part, seed, told)
        self._drafts.append(draft)

    def _move_singles(self, best: Draft, told: "Told") -> None:
        """Move single pieces about, for one sheet fewer, where the best draft leaves hope."""
        few = best.sheets <= MOST_SINGLES or len(best.runs) == best.sheets
        if not best.short and (not few or self._met(best)):
            return
        budget, offers = self._budget, self._task.limits.offers
        if self._layouts is not None:
            offers = int(SINGLES_SHARE * offers)
        part = budget if budget.timed else budget.within(offers)
        long = (self._task.seconds or 0.0) >= PROOF_FROM
        if self._layouts is None and _few(self._problem) and long:
            part = budget.part(1.0 - PROOF_SHARE)
        self._drafts.append(
            _bettered(self._problem, self._arrays, best, self._goal, part, self._task.seed, told)
        )

    def _prove_more(self, best: Draft) -> None:
        """Raise the bounds where layouts known point to, or those of the draft for a few pieces."""
        problem, budget, limits = self._problem, self._budget, self._task.limits
        layouts, nodes, set_nodes = self._layouts, limits.bound_nodes, limits.set_nodes
        stop = budget.watcher.cancelled
        if layouts is None:
            if best.short or not _few(problem):
                return
            layouts, stop = tuple(pattern for pattern, _ in best), budget.cancelled
            set_nodes = max(set_nodes, nodes if budget.timed else int(FEW_NODES_SHARE * nodes))
            nodes = int(FEW_NODES_SHARE * nodes)
        if self._task.seconds is not None:
            nodes = min(nodes, int(NODES_A_SECOND * self._task.seconds))
            set_nodes = min(set_nodes, int(NODES_A_SECOND * self._task.seconds))
        self._bounds = thorough_bounds(problem, layouts, nodes, stop, self._bounds, set_nodes)

    def _met(self, draft: Draft) -> bool:
        """Return whether no answer can be cheaper than the draft, nor as cheap on fewer sheets."""
        standing, bounds = rank(self._problem, draft), self._bounds
        one_price = len(self._problem.rooms) == 1 and standing.price > 0
        fewest = one_price or standing.sheets <= bounds.sheets
        return not draft.short and standing.price <= bounds.price and fewest


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


def _few(problem: Problem) -> bool:
    """Return whether the pieces are so few that sets of them can be gone through."""
    return sum(problem.demand) <= MOST_IN_SETS


def _repeats(problem: Problem, first: Draft) -> bool:
    if first.short or len(problem.item_types) > MOST_REPEATED:
        return False
    if len(problem.rooms) > 1:
        return True
    return first.sheets >= FEWEST_SHEETS and sum(problem.demand) >= COPIES * len(problem.item_types)


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
