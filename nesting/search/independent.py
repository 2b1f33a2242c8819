"""Independent searches: one here, the others after it or wherever an executor runs them.

Which searches there are is fixed by the effort, so the answer does not depend on how many workers
run them. Seconds, where they are asked, are for all searches together.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import Executor, Future, wait
from contextlib import suppress
from dataclasses import replace
from functools import reduce
from threading import Event

from nesting.answer.solution import StopReason
from nesting.bounds.lower_bounds import better
from nesting.question.errors import StoppedTooEarly
from nesting.question.problem import Problem
from nesting.question.settings import Preference
from nesting.search.budget import Clock
from nesting.search.draft import rank
from nesting.search.search import Found, Task, search
from nesting.search.watch import Standing, Unwatched, Watcher

LOOK_SECONDS = 0.05
"""How often the watcher is asked while only others still work."""

GRACE_SHARE, LEAST_GRACE = 0.1, 0.5
"""How long searches elsewhere are waited for once the time is up: a share of it, and seconds."""


def independent(
    tasks: Sequence[Task], watcher: Watcher, clock: Clock, executor: Executor | None
) -> list[Found]:
    """Return what the searches came to, in order; once cancelled, only what is done by then.

    The first search runs here, where it can be watched. Without an executor the others follow it.

    Raises:
        StoppedTooEarly: the watcher stopped the first search before there was any answer.
    """
    if executor is None:
        return _one_by_one(tasks, watcher, clock)
    return _side_by_side(tasks, watcher, clock, executor)


def _one_by_one(tasks: Sequence[Task], watcher: Watcher, clock: Clock) -> list[Found]:
    seconds = tasks[0].seconds
    start = clock() if seconds is not None else 0.0
    results: list[Found] = []
    for number, task in enumerate(tasks):
        share = None
        if seconds is not None:
            share = (seconds - (clock() - start)) / (len(tasks) - number)
        if results and (watcher.cancelled() or (share is not None and share <= 0)):
            break
        in_turn = _InTurn(watcher, number, len(tasks), results)
        try:
            results.append(search(replace(task, seconds=share), in_turn, clock))
        except StoppedTooEarly:
            if not results:
                raise
            break
    return results


class _InTurn:
    """Tells of one search after others as of a part of the whole."""

    def __init__(
        self, watcher: Watcher, number: int, searches: int, before: Sequence[Found]
    ) -> None:
        self.cancelled = watcher.cancelled
        self._watcher = watcher
        self._number, self._searches = number, searches
        drafts = [found.draft for found in before if not found.draft.short]
        self._sheets = min((draft.sheets for draft in drafts), default=None)

    def standing(self, standing: Standing) -> None:
        known = [sheets for sheets in (standing.sheets, self._sheets) if sheets is not None]
        done = (self._number + standing.done) / self._searches
        self._watcher.standing(replace(standing, done=done, sheets=min(known, default=None)))


def _side_by_side(
    tasks: Sequence[Task], watcher: Watcher, clock: Clock, executor: Executor
) -> list[Found]:
    first, *others = tasks
    time_is_up = _time_is_up(first.seconds, clock)
    elsewhere = Elsewhere()
    futures: list[Future[Found]] = [executor.submit(search, task, elsewhere) for task in others]
    try:
        results = [search(first, watcher, clock)]
        while not (watcher.cancelled() or time_is_up()):
            if not wait(futures, timeout=LOOK_SECONDS).not_done:
                break
    finally:
        elsewhere.cancel()
        running = [future for future in futures if not future.cancel()]
    cancelled = watcher.cancelled()
    if first.seconds is not None and not cancelled:
        wait(running, timeout=max(LEAST_GRACE, GRACE_SHARE * first.seconds))
    for future in running:
        if future.done():
            with suppress(StoppedTooEarly):
                results.append(future.result())
    return results if cancelled else [_in_time(found) for found in results]


def _in_time(found: Found) -> Found:
    """Return a search that was stopped elsewhere as one whose time was up."""
    stopped = found.stop is StopReason.CANCELLED
    return replace(found, stop=StopReason.TIME) if stopped else found


def _time_is_up(seconds: float | None, clock: Clock) -> Callable[[], bool]:
    if seconds is None:
        return lambda: False
    deadline = clock() + seconds
    return lambda: clock() >= deadline


class Elsewhere:
    """Watches the searches on an executor. A cancel reaches threads; other processes get a watcher
    that never cancels, as nothing is shared with them.
    """

    def __init__(self) -> None:
        """Let them go on."""
        self._stop = Event()

    def cancel(self) -> None:
        """Stop the searches that can hear it."""
        self._stop.set()

    def standing(self, standing: Standing) -> None:
        """Ignore it: only the first search is shown."""

    def cancelled(self) -> bool:
        """Return whether the nest was stopped."""
        return self._stop.is_set()

    def __reduce__(self) -> tuple[type[Unwatched], tuple[()]]:
        """Travel as a watcher that never cancels."""
        return Unwatched, ()


def best_of(problem: Problem, results: Sequence[Found], preference: Preference) -> Found:
    """Return the answer that the preference picks among all searches, with their best bounds."""
    bounds = reduce(better, (found.bounds for found in results))
    ranked = [(rank(problem, found.draft), number) for number, found in enumerate(results)]
    least = min(standing for standing, _ in ranked)
    price = min([least.price, *(choice.price for found in results for choice in found.choices)])
    affordable = [
        (standing.layouts, standing.sheets, number)
        for standing, number in ranked
        if standing.short_area == least.short_area and standing.price <= preference.most(price)
    ]
    pays = preference.extra_price > 0 and affordable
    chosen = results[min(affordable)[-1] if pays else min(ranked)[-1]]
    standing = rank(problem, chosen.draft)
    proven = not standing.short_area and standing.price <= bounds.price
    return replace(chosen, bounds=bounds, stop=StopReason.PROVEN if proven else chosen.stop)
