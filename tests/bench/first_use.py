"""The first nest in a fresh environment against a later one: what compiling costs, and what shows.

Each nest is a process of its own; the fresh ones start with an empty folder for compiled code.
Compiling uses the cores there are: the limit holds for the wall clock with all of them and with one
alone; processor time includes the processes that compile. A person who waits sees something at
every call of the watcher: the first one and the longest silence between two are shown. One more
nest is cancelled while it compiles.
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
MOST_AGAIN = (0, 0)
"""Compilations that differ from another one of the same function by a literal number only."""
LONGEST_CANCEL = 0.2
CANCELLED_AFTER = (2.0, 4.0, 6.0)
"""Seconds after the start of a nest that a person cancels it."""
AS_CHILD, ON_ONE_CORE = "--as-child", "--on-one-core"
CANCELLED, COMPILED = "--cancelled", "--compiled"
CORES = ("all cores", "one core")


@dataclass(frozen=True)
class Use:
    """One process: seconds of wall clock and processor, and of its silences towards a person."""

    wall: float
    processor: float
    first_sign: float
    longest_silence: float
    signs: int


def use(cache: str, *options: str) -> Use:
    """Nest in a process of its own, with compiled code kept in a folder."""
    start = time.perf_counter()
    told = told_by_child(cache, *options)
    return Use(wall=time.perf_counter() - start, **told)


def told_by_child(cache: str, *options: str) -> dict[str, float]:
    said = said_by_python(
        ["-m", "tests.bench.first_use", AS_CHILD, *options], {"NUMBA_CACHE_DIR": cache}
    )
    return json.loads(said.splitlines()[-1])


def as_cancelled_child(after: float) -> None:
    """Cancel a nest after so many seconds, and print how long that took to be answered."""
    from nesting.question.errors import StoppedTooEarly
    from nesting.question.settings import Effort
    from nesting.search.watch import Standing
    from nesting.solve import solve
    from tests.bench.room_jobs import SHEETS, question

    wish = time.perf_counter() + after

    class Cancels:
        def standing(self, standing: Standing) -> None:
            del standing

        def cancelled(self) -> bool:
            return time.perf_counter() >= wish

    answered = "without an answer"
    try:
        solve(question("study_bedrooms", 10, SHEETS[0]), effort=Effort.QUICK, watcher=Cancels())
        answered = "with an answer"
    except StoppedTooEarly:
        pass
    print(json.dumps({"answered": answered, "seconds": time.perf_counter() - wish}))


def as_child() -> None:
    """Nest a job quickly, freely and in edge-to-edge cuts, and print what it cost."""
    start = time.perf_counter()
    from nesting.question.settings import Effort
    from nesting.search.watch import Standing
    from nesting.solve import solve
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
        "processor": sum(used[:4]),
        "first_sign": silences[0],
        "longest_silence": max(silences),
        "signs": len(signs) - 2,
    }
    print(json.dumps(told))


def as_child_that_compiles() -> None:
    """Compile all that a nest usually calls; print how many compilations were needless."""
    from numba.core.registry import CPUDispatcher
    from numba.core.types import unliteral

    from nesting.kernels.entries import compile_entry
    from nesting.search.compiling import USUAL

    for name in USUAL:
        compile_entry(name)
    kernels = {
        held
        for name, module in sys.modules.items()
        if name.startswith("nesting.kernels.")
        for held in vars(module).values()
        if isinstance(held, CPUDispatcher)
    }
    again = sum(
        len(kernel.signatures) - len({tuple(map(unliteral, each)) for each in kernel.signatures})
        for kernel in kernels
    )
    print(json.dumps({"again": again, "kernels": len(kernels)}))


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument(AS_CHILD, action="store_true", help=argparse.SUPPRESS)
    parser.add_argument(ON_ONE_CORE, action="store_true", help=argparse.SUPPRESS)
    parser.add_argument(COMPILED, action="store_true", help=argparse.SUPPRESS)
    parser.add_argument(CANCELLED, type=float, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.on_one_core:
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    if asked.compiled:
        as_child_that_compiles()
        sys.exit(0)
    if asked.cancelled:
        as_cancelled_child(asked.cancelled)
        sys.exit(0)
    if asked.as_child:
        as_child()
        sys.exit(0)
    uses: dict[str, list[Use]] = {f"{name}, {on}": [] for on in CORES for name in ("fresh", "warm")}
    for _ in range(asked.runs):
        for cores, options in zip(CORES, ((), (ON_ONE_CORE,)), strict=True):
            with tempfile.TemporaryDirectory() as cache:
                uses[f"fresh, {cores}"].append(use(cache, *options))
                uses[f"warm, {cores}"].append(use(cache, *options))
    print(f"First use against later use, medians of {asked.runs} processes; seed 1")
    print(f"  {versions(('numba', 'llvmlite', 'numpy'))}")
    head = ("", "processor s", "wall s", "first sign s", "longest silence s", "signs")
    print(table(head, [(name, *middle(several)) for name, several in uses.items()]))
    cancels = [cancelled(after) for after in CANCELLED_AFTER]
    print(table(("cancelled after s", "answered", "within s"), cancels))
    wall = {
        name: statistics.median(each.wall for each in several) for name, several in uses.items()
    }
    over_all, over_one = (wall[f"fresh, {on}"] - wall[f"warm, {on}"] for on in CORES)
    signs = min(each.signs for each in uses["fresh, all cores"])
    with tempfile.TemporaryDirectory() as cache:
        again = told_by_child(cache, COMPILED)["again"]
    longest = max(float(seconds) for _, _, seconds in cancels)
    show_limits_and_exit(
        [
            Limit("fresh over warm, seconds, all cores", over_all, Sense.AT_MOST, *MOST_OVER),
            Limit("fresh over warm, seconds, one core", over_one, Sense.AT_MOST, *MOST_OVER),
            Limit("signs of progress", signs, Sense.AT_LEAST, 1),
            Limit("compiled again for a literal", again, Sense.AT_MOST, *MOST_AGAIN),
            Limit("seconds until a cancel is answered", longest, Sense.AT_MOST, LONGEST_CANCEL),
        ]
    )


def cancelled(after: float) -> tuple[str, str, str]:
    """Cancel a first nest after so many seconds; return the row that tells of it."""
    with tempfile.TemporaryDirectory() as cache:
        told = told_by_child(cache, CANCELLED, str(after))
    return f"{after:g}", str(told["answered"]), f"{told['seconds']:.3f}"


def middle(uses: list[Use]) -> tuple[str, ...]:
    columns = zip(
        *((u.processor, u.wall, u.first_sign, u.longest_silence, u.signs) for u in uses),
        strict=True,
    )
    return tuple(f"{statistics.median(column):.1f}" for column in columns)


if __name__ == "__main__":
    run()
