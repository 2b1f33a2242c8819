"""The nests of a build: materials side by side on all cores, each as hard as it is asked for.

Groups of one material share its sheets on hand, so that they follow each other, and once more the
other way round where those before leave one too little. What a group gets depends on nothing but
those before it, whatever runs beside it.
"""

from __future__ import annotations

import os
import pickle
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TypeVar

from casewright.job import Machine
from casewright.progress import Cancelled, Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import (
    Nest,
    NestGroup,
    nest_groups,
    nest_instance,
    sheet_rules,
)
from casewright.stages.sets.stock_check import StockCheck, not_placed, refuse_missed
from casewright.wording import counted
from nesting.after.cut_order import by_priority
from nesting.answer.solution import Solution, StopReason
from nesting.question.errors import NotEnoughStock, StoppedTooEarly
from nesting.question.instance import Instance
from nesting.question.settings import Effort, Preference
from nesting.question.sheet_rules import SheetRules
from nesting.search.watch import Standing, Unwatched, Watcher
from nesting.solve import solve
from parametric.lists.cut_list import CutList
from parametric.remembered import remembered
from parametric.stock.lengths import Units

Used = Counter[tuple[str, str]]
"""Sheets that are taken, by material and stock."""

ItemT = TypeVar("ItemT")
ResultT = TypeVar("ResultT")


def nest_all(
    cut_list: CutList,
    machine: Machine,
    settings: NestSettings,
    progress: Progress,
    units: Units = Units.MM,
) -> tuple[Nest, ...]:
    """Return the nests of all groups, or refuse all of them.

    Raises:
        DoesNotFit: no nest was found on the sheets on hand, for all materials that lack some.
        NestingError: a part fits no sheet; `stock_check` tells that before.
    """
    nests, short = nest_what_fits(cut_list, machine, settings, progress, units)
    refuse_missed(short)
    return nests


def nest_what_fits(
    cut_list: CutList,
    machine: Machine,
    settings: NestSettings,
    progress: Progress,
    units: Units,
) -> tuple[tuple[Nest, ...], tuple[StockCheck, ...]]:
    """Return the nests of all groups, in the order in which their first parts are numbered, without
    the materials for which no nest was found on the sheets on hand: those are returned beside them.

    That it is enough ends the searches; their best answers until then are kept, and groups without
    any are nested with little effort.

    Raises:
        Cancelled: the work was cancelled.
        NestingError: a part fits no sheet; `stock_check` tells that before.
    """
    groups = nest_groups(cut_list.parts)
    with progress.searching():
        run = _Run(sheet_rules(machine), settings, progress, units)
        progress.stage("nests", len(groups))
        chains = _by_material(groups, lambda group: group.material.key)
        found = _side_by_side(run.nested_or_short, chains)
        short = tuple(each for each in found if isinstance(each, StockCheck))
        nests = [nest for each in found if not isinstance(each, StockCheck) for nest in each]
        if settings.extra_seconds and not progress.has_enough:
            progress.stage("further search", len(groups))
            chains_of_nests = _by_material(nests, lambda nest: nest.group.material.key)
            shared = [
                (chain, _seconds(chain, chains_of_nests, settings)) for chain in chains_of_nests
            ]
            further = _side_by_side(lambda item: run.searched_further(*item), shared)
            nests = [nest for chain in further for nest in chain]
    places = {(group.material.key, group.face_up): n for n, group in enumerate(groups)}
    nests.sort(key=lambda nest: places[nest.group.material.key, nest.group.face_up])
    return tuple(nests), short


@dataclass(frozen=True, slots=True)
class _Run:
    """What all nests of a build share."""

    rules: SheetRules
    settings: NestSettings
    progress: Progress
    units: Units

    def nested_or_short(self, groups: Sequence[NestGroup]) -> list[Nest] | StockCheck:
        """Return the nests of the groups of one material, or that its sheets did not suffice.

        What is cheapest for one group may leave another without the only sheets that hold it, so
        that they are tried the other way round before anything is said.
        """
        used: Used = Counter()
        try:
            return self.nested(groups, used)
        except NotEnoughStock as error:
            if used:
                with suppress(NotEnoughStock):
                    return self.nested(groups[::-1], Counter())
            return not_placed(groups[0].material, error, used, self.units)

    def nested(self, groups: Sequence[NestGroup], used: Used) -> list[Nest]:
        """Return the nests of the groups of one material; sheets are used up group by group, and
        added to `used`.

        Raises:
            NotEnoughStock: no nest was found for a group on the sheets that the others left.
        """
        nests = []
        for group in groups:
            instance = nest_instance(group, self.rules, used)
            solution = self._solved(group, instance)
            used.update(_used_by(group, solution))
            nests.append(Nest(group=group, instance=instance, solution=solution))
            self.progress.step(f"{group.material.key}: {counted(solution.sheets, 'sheet')}")
        return nests

    def searched_further(self, nests: Sequence[Nest], seconds: float) -> list[Nest]:
        """Return the nests of one material after a further search of each open one, if better."""
        result = list(nests)
        for place, nest in enumerate(nests):
            if nest.solution.stop is not StopReason.PROVEN and not self.progress.has_enough:
                others: Used = Counter()
                for other in (*result[:place], *result[place + 1 :]):
                    others += _used_by(other.group, other.solution)
                result[place] = self._bettered(nest, others, seconds)
            self.progress.step(nest.group.material.key)
        return result

    def _bettered(self, nest: Nest, others: Used, seconds: float) -> Nest:
        """Return the better of a nest and another search for it, from a seed of its own."""
        before = nest.solution
        instance = nest_instance(nest.group, self.rules, others)
        try:
            after = self._searched(nest.group, instance, before.seed + 1, seconds)
        except (NotEnoughStock, StoppedTooEarly):
            return replace(nest, before=before)
        if _standing(after) < _standing(before) and after.price <= before.price:
            return replace(nest, instance=instance, solution=after, before=before)
        return replace(nest, before=before)

    def _solved(self, group: NestGroup, instance: Instance) -> Solution:
        try:
            return self._searched(group, instance, self.settings.seed, None)
        except StoppedTooEarly:
            # Without any sheets there is no build: a short search that one wish does not stop.
            solution = self._short(instance)
            return replace(solution, stop=StopReason.CANCELLED)

    def _short(self, instance: Instance) -> Solution:
        """Return what a short search finds, which is stopped only when nothing is wanted any more.

        Raises:
            Cancelled: it is so.
        """
        watcher = _Insisted(self.progress)
        try:
            return solve(instance, seed=self.settings.seed, effort=Effort.QUICK, watcher=watcher)
        except StoppedTooEarly:
            raise Cancelled from None

    def _searched(
        self, group: NestGroup, instance: Instance, seed: int, seconds: float | None
    ) -> Solution:
        watcher = _Shown(group.material.key, self.progress)
        effort, preference = self.settings.effort, self.settings.preference
        if seconds is None:
            solution = _repeatable(instance, seed, effort, preference, watcher)
        else:
            solution = solve(
                instance,
                seed=seed,
                effort=effort,
                preference=preference,
                seconds=seconds,
                watcher=watcher,
            )
        return replace(solution, layouts=by_priority(instance, solution.layouts))


def _key(
    instance: Instance, seed: int, effort: Effort, preference: Preference, watcher: Watcher
) -> object:
    return instance, seed, effort, preference


def _frozen(solution: Solution) -> bytes:
    return pickle.dumps(solution)


def _thawed(frozen: bytes) -> Solution:
    solution: Solution = pickle.loads(frozen)
    return solution


def _to_its_end(
    solution: Solution,
    instance: Instance,
    seed: int,
    effort: Effort,
    preference: Preference,
    watcher: Watcher,
) -> bool:
    """Return whether nothing cut the search short: a proof, or one of several searches that ended,
    hides that it was cancelled, and what comes after a search is left out then.
    """
    return not watcher.cancelled()


@remembered("a nest", key=_key, freeze=_frozen, thaw=_thawed, most=0, whole=_to_its_end)
def _repeatable(
    instance: Instance, seed: int, effort: Effort, preference: Preference, watcher: Watcher
) -> Solution:
    """Return what a search finds that work and not the clock ends."""
    return solve(instance, seed=seed, effort=effort, preference=preference, watcher=watcher)


@dataclass(frozen=True, slots=True)
class _Shown:
    """A watcher that passes on where one nest stands."""

    material: str
    progress: Progress

    def standing(self, standing: Standing) -> None:
        """Show what the search is at."""
        self.progress.note(f"{self.material}: {standing.stage}")

    def cancelled(self) -> bool:
        """Return whether the best answer so far is enough."""
        return self.progress.has_enough


class _Insisted(Unwatched):
    """A watcher that stops a nest when nothing is wanted any more."""

    def __init__(self, progress: Progress) -> None:
        self._progress = progress

    def cancelled(self) -> bool:
        """Return whether the work was cancelled."""
        return self._progress.is_cancelled


def _by_material(items: Iterable[ItemT], key: Callable[[ItemT], str]) -> list[list[ItemT]]:
    chains: dict[str, list[ItemT]] = {}
    for item in items:
        chains.setdefault(key(item), []).append(item)
    return list(chains.values())


def _side_by_side(work: Callable[[ItemT], ResultT], chains: Sequence[ItemT]) -> list[ResultT]:
    """Return what the work makes of each chain, in their order."""
    if not chains:
        return []
    # Compiled loops let go of the interpreter, so that threads use all cores.
    with ThreadPoolExecutor(min(os.cpu_count() or 1, len(chains))) as pool:
        return list(pool.map(work, chains))


def _seconds(
    chain: Sequence[Nest], chains: Sequence[Sequence[Nest]], settings: NestSettings
) -> float:
    """Return how long each open nest of a chain may go on, so that all end in the time allowed."""
    busy = sum(1 for other in chains if _open(other))
    share = min(1.0, (os.cpu_count() or 1) / max(busy, 1))
    return settings.extra_seconds * share / max(_open(chain), 1)


def _open(nests: Iterable[Nest]) -> int:
    return sum(1 for nest in nests if nest.solution.stop is not StopReason.PROVEN)


def _used_by(group: NestGroup, solution: Solution) -> Used:
    used: Used = Counter()
    for layout in solution.layouts:
        used[group.material.key, layout.stock] += layout.runs
    return used


def _standing(solution: Solution) -> tuple[float, int, int]:
    return solution.price, solution.sheets, solution.distinct
