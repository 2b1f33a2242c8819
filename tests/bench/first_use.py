"""The first nest in a fresh environment against a later one: what compiling costs, and what shows.

Each nest is a process of its own; the fresh ones start with an empty folder for compiled code. The
limit is on processor time, which other load on the machine does not falsify; wall clock is shown.
A person who waits sees something at every call of the watcher: the first one and the longest
silence between two are shown.
"""

import argparse
import json
import os
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass
from itertools import pairwise

from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.processes import said_by_python

MOST_OVER = (15.0, 3.0)
MOST_AGAIN = (3, 0)
"""Compilations that differ from another one of the same function by a literal number only."""
AS_CHILD = "--as-child"


@dataclass(frozen=True)
class Use:
    """One process: seconds of wall clock and processor, and of its silences towards a person."""

    wall: float
    processor: float
    first_sign: float
    longest_silence: float
    signs: int
    compiled_again: int


def use(cache: str) -> Use:
    """Nest in a process of its own, with compiled code kept in a folder."""
    environment = {"NUMBA_CACHE_DIR": cache}
    start = time.perf_counter()
    said = said_by_python(["-m", "tests.bench.first_use", AS_CHILD], environment)
    wall = time.perf_counter() - start
    return Use(wall=wall, **json.loads(said.splitlines()[-1]))


def as_child() -> None:
    """Nest a job quickly, freely and in edge-to-edge cuts, and print what it cost."""
    start = time.perf_counter()
    from nesting.settings import Effort
    from nesting.solve import solve
    from nesting.watch import Standing
    from tests.bench.room_jobs import SHEETS, question, sawn

    signs = [start]

    class Signs:
        def standing(self, standing: Standing) -> None:
            del standing
            signs.append(time.perf_counter())

        def cancelled(self) -> bool:
            return False

    job = question("study_bedrooms", 10, SHEETS[0])
    for instance in (job, sawn(job, 3)):
        solve(instance, effort=Effort.QUICK, watcher=Signs())
    signs.append(time.perf_counter())
    silences = [after - before for before, after in pairwise(signs)]
    used = os.times()
    told = {
        "processor": used.user + used.system,
        "first_sign": silences[0],
        "longest_silence": max(silences),
        "signs": len(signs) - 2,
        "compiled_again": compiled_again(),
    }
    print(json.dumps(told))


def compiled_again() -> int:
    """Return how many compilations of our kernels in this process were needless."""
    from numba.core.registry import CPUDispatcher
    from numba.core.types import unliteral

    kernels = {
        held
        for name, module in sys.modules.items()
        if name.startswith("nesting.kernels.")
        for held in vars(module).values()
        if isinstance(held, CPUDispatcher)
    }
    return sum(
        len(kernel.signatures) - len({tuple(map(unliteral, each)) for each in kernel.signatures})
        for kernel in kernels
    )


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument(AS_CHILD, action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.as_child:
        as_child()
        sys.exit(0)
    fresh, warm = [], []
    for _ in range(asked.runs):
        with tempfile.TemporaryDirectory() as cache:
            fresh.append(use(cache))
            warm.append(use(cache))
    print(f"First use against later use, medians of {asked.runs} processes; seed 1")
    print(f"  {versions(('numba', 'llvmlite', 'numpy'))}")
    head = ("", "processor s", "wall s", "first sign s", "longest silence s", "signs")
    print(table(head, [(name, *middle(uses)) for name, uses in (("fresh", fresh), ("warm", warm))]))
    over = statistics.median(each.processor for each in fresh) - statistics.median(
        each.processor for each in warm
    )
    signs = min(each.signs for each in fresh)
    again = max(each.compiled_again for each in fresh)
    show_limits_and_exit(
        [
            Limit("fresh over warm, processor seconds", over, Sense.AT_MOST, *MOST_OVER),
            Limit("signs of progress", signs, Sense.AT_LEAST, 1),
            Limit("compiled again for a literal", again, Sense.AT_MOST, *MOST_AGAIN),
        ]
    )


def middle(uses: list[Use]) -> tuple[str, ...]:
    columns = zip(
        *((u.processor, u.wall, u.first_sign, u.longest_silence, u.signs) for u in uses),
        strict=True,
    )
    return tuple(f"{statistics.median(column):.1f}" for column in columns)


if __name__ == "__main__":
    run()
