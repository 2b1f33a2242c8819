"""A nest of 100,000 pieces: most memory held; and how soon a cancelled nest returns.

The nest is a process of its own. Cancelling is tried at moments drawn by a seed, on nests of
several kinds: the time from the moment to the answer is shown as wall clock and as processor time,
and the limit is on the latter, which other load on the machine does not falsify.
"""

import argparse
import json
import random
import sys
import threading
import time
from dataclasses import replace

from nesting.question.errors import StoppedTooEarly
from nesting.question.instance import Instance, Turn
from nesting.question.settings import Effort
from nesting.search.watch import Standing
from nesting.solve import solve
from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.mixed_pieces import question as mixed_question
from tests.bench.processes import cost_of_python
from tests.bench.room_jobs import SHEETS, sawn
from tests.bench.room_jobs import question as room_question

MOST_MIB = 1024.0
MOST_LATE_S = 0.2
PIECES = 100_000
SIZES = (2_000, 20_000, 100_000)
SEED = 1
SHORT_S, LONG_S = (0.05, 3.0), (3.0, 20.0)
"""Moments of cancelling: most while the search begins, every fourth later on."""
LATE_EVERY = 4
AS_CHILD = "--as-child"


def mixed(pieces: int, sizes: int) -> Instance:
    """Return so many pieces of so many different sizes; every other size may turn."""
    instance = mixed_question(sizes, Turn.QUARTER, seed=sizes)
    return replace(
        instance,
        pieces=tuple(
            replace(
                piece,
                quantity=pieces // sizes,
                turn=Turn.QUARTER if number % 2 else Turn.FIXED,
            )
            for number, piece in enumerate(instance.pieces)
        ),
    )


class Stopper:
    """Stops a nest from another thread; remembers wall clock and processor time of that moment.

    `silence` is the longest processor time between two looks of the nest until then, in seconds.
    """

    def __init__(self, after: float) -> None:
        self._stop = threading.Event()
        self._timer = threading.Timer(after, self._now)
        self._timer.start()
        self.moment: tuple[float, float] | None = None
        self._had_answer = False
        self.had_answer_then = False
        self.silence = 0.0
        self._looked = time.process_time()

    def _now(self) -> None:
        self.moment = time.perf_counter(), time.process_time()
        self.had_answer_then = self._had_answer
        self._stop.set()

    def late(self) -> tuple[float, float] | None:
        """Return the seconds since the moment by both clocks; None if the nest was done before."""
        ended = time.perf_counter(), time.process_time()
        self._timer.cancel()
        if self.moment is None:
            return None
        return ended[0] - self.moment[0], ended[1] - self.moment[1]

    def standing(self, standing: Standing) -> None:
        self._had_answer = self._had_answer or standing.sheets is not None

    def cancelled(self) -> bool:
        now = time.process_time()
        self.silence, self._looked = max(self.silence, now - self._looked), now
        return self._stop.is_set()


def cancelling(tries: int, source: random.Random) -> tuple[list[tuple[object, ...]], float, int]:
    """Return a row for each kind of nest, the longest time to return, and the answers lost.

    A nest stopped before its first answer has none to give; one that told of an answer must.
    """
    rooms = room_question("study_bedrooms", 40, SHEETS[0])
    nests = {
        "40 rooms, free": rooms,
        "40 rooms, edge to edge, 3 stages": sawn(rooms, 3),
        "400 rooms, free": room_question("hotel_rooms", 400, SHEETS[1]),
        "400 rooms, edge to edge": sawn(room_question("hotel_rooms", 400, SHEETS[0]), None),
        "1,000 pieces, all different": mixed(1_000, 1_000),
        "1,000 pieces, all different, 3 stages": sawn(mixed(1_000, 1_000), 3),
        "20,000 pieces of 1,000 sizes": mixed(20_000, 1_000),
        "20,000 pieces, all different": mixed(20_000, 20_000),
        "20,000 pieces, all different, edge to edge": sawn(mixed(20_000, 20_000), None),
    }
    rows: list[tuple[object, ...]] = []
    worst, lost = 0.0, 0
    for name, instance in nests.items():
        # Loads what is compiled: layouts that repeat, and single sheets.
        solve(instance, effort=Effort.QUICK)
        late, without, silence = [], 0, 0.0
        for number in range(tries):
            moments = LONG_S if number % LATE_EVERY == LATE_EVERY - 1 else SHORT_S
            stopper = Stopper(source.uniform(*moments))
            try:
                solve(instance, effort=Effort.THOROUGH, watcher=stopper)
            except StoppedTooEarly:
                without += 1
                lost += stopper.had_answer_then
            found = stopper.late()
            silence = max(silence, stopper.silence)
            if found:
                late.append(found)
        if not late:
            raise RuntimeError(f"{name}: every nest ended before it was cancelled")
        walls, processors = zip(*late, strict=True)
        rows.append((name, len(late), without, max(walls), max(processors), silence))
        print(f"  {name}: {max(processors):.2f} s", flush=True)
        worst = max(worst, *processors)
    return rows, worst, lost


def as_child(sizes: int) -> None:
    """Nest 100,000 pieces."""
    solution = solve(mixed(PIECES, sizes), effort=Effort.QUICK)
    print(json.dumps([solution.sheets, solution.lower_bound]))


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tries", type=int, default=8)
    parser.add_argument("--sizes", type=int, nargs="+", default=SIZES)
    parser.add_argument(AS_CHILD, type=int, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.as_child:
        as_child(asked.as_child)
        sys.exit(0)
    print(f"{PIECES} pieces, quick effort, in a process of its own; cancelling by seed {SEED}")
    print(f"  {versions(('numba', 'numpy', 'highspy', 'shapely'))}", flush=True)
    rows: list[tuple[object, ...]] = []
    limits: list[Limit] = []
    for sizes in asked.sizes:
        cost = cost_of_python(["-m", "tests.bench.nest_memory", AS_CHILD, str(sizes)])
        rows.append((f"{sizes} sizes", cost.peak_mib, cost.cpu_s, cost.wall_s))
        what = f"MiB held, {sizes} sizes"
        limits.append(Limit(what, cost.peak_mib, Sense.BELOW, MOST_MIB))
    print(table(("", "most held, MiB", "processor s", "wall s"), rows), flush=True)
    cancelled, worst, lost = cancelling(asked.tries, random.Random(SEED))
    print("\nCancelled at a random moment: the longest until the answer")
    headings = ("", "cancelled", "before an answer", "wall s", "processor s", "longest silence s")
    print(table(headings, cancelled))
    limits.append(Limit("cancelled to answer, processor s", worst, Sense.AT_MOST, MOST_LATE_S))
    limits.append(Limit("answers lost by cancelling", lost, Sense.AT_MOST, 0))
    show_limits_and_exit(limits)


if __name__ == "__main__":
    run()
