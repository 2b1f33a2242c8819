"""Independent searches: one here, the others wherever an executor runs them.

Which searches there are is fixed by the effort, so the answer does not depend on how many workers
run them.
"""

from collections.abc import Sequence
from concurrent.futures import Executor, Future, wait
from dataclasses import replace
from functools import reduce

from nesting.bounds.bounds import better
from nesting.budget import Clock
from nesting.draft import rank, reaches
from nesting.problem import Problem
from nesting.search import Found, Task, search
from nesting.settings import Preference
from nesting.solution import StopReason
from nesting.watch import Watcher

LOOK_SECONDS = 0.05
"""How often the watcher is asked while only others still work."""


def independent(
    tasks: Sequence[Task], watcher: Watcher, clock: Clock, executor: Executor | None
) -> list[Found]:
    """Return what the searches came to, in order; once cancelled, only what is done by then.

    The first search runs here, where it can be watched. Without an executor the others follow it.
    """
    first, *others = tasks
    if executor is None:
        results = [search(first, watcher, clock)]
        for task in others:
            if watcher.cancelled():
                break
            results.append(search(task, watcher, clock))
        return results
    futures: list[Future[Found]] = [executor.submit(search, task) for task in others]
    results = [search(first, watcher, clock)]
    while not watcher.cancelled():
        if not wait(futures, timeout=LOOK_SECONDS).not_done:
            break
    for future in futures:
        if not future.cancel() and future.done():
            results.append(future.result())
    return results


def best_of(problem: Problem, results: Sequence[Found], preference: Preference) -> Found:
    """Return the answer that the preference picks among all searches, with their best bounds."""
    bounds = reduce(better, (found.bounds for found in results))
    ranked = [(rank(problem, found.draft), number) for number, found in enumerate(results)]
    least = min(standing for standing, _ in ranked)
    price = min([least.price, *(choice.price for found in results for choice in found.choices)])
    affordable = [
        (standing.layouts, standing.sheets, number)
        for standing, number in ranked
        if standing.short_area == least.short_area
        and standing.price <= price * (1.0 + preference.extra_price)
    ]
    pays = preference.extra_price > 0 and affordable
    chosen = results[min(affordable)[-1] if pays else min(ranked)[-1]]
    standing = rank(problem, chosen.draft)
    proven = not standing.short_area and reaches(standing.price, bounds.price)
    return replace(chosen, bounds=bounds, stop=StopReason.PROVEN if proven else chosen.stop)
