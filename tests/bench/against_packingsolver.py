"""Repeated rooms against packingsolver, an open solver library, at 60 s: ours is never worse.

It needs Python 3.12 and lives in an environment of its own, which two commands make:

    python3.12 -m venv /some/folder
    /some/folder/bin/pip install packingsolver

    python -m tests.bench.against_packingsolver --python /some/folder/bin/python

or the environment variable PACKINGSOLVER_PYTHON names that Python. It runs in a child process on
one core. Its seconds are of wall clock, so other load on the machine takes from them: the
processor time that it got is shown. Its answers are verified as ours are: an empty or incomplete
answer, a crash and a time overrun are shown as such and count as no answer. Ours is the default
nest, whatever it takes.
"""

import argparse
import json
import os
import resource
import subprocess
import time
from dataclasses import dataclass
from pathlib import Path

from nesting.answer.solution import BoundKind, Layout, Placement, Solution, StopReason, canonical
from nesting.answer.verify import violations
from nesting.question.instance import Instance, Turn
from nesting.solve import solve
from tests.bench.comparison import versions
from tests.bench.limits import Limit, Sense, show_limits_and_exit, table
from tests.bench.room_jobs import JOBS, SHEETS, question

MODES = ("NotAnytimeSequential", "Anytime")
MOST_RATIO = (1.0, 0.985)
OVERRUN = 4.0
"""How many times the seconds that it was given it may take before it is stopped."""
LEAST_SHARE = 0.8
"""With a smaller share of a core it was not given its time, and the row says so."""
CHILD = Path(__file__).parent / "packingsolver_child.py"


@dataclass(frozen=True)
class PeerAnswer:
    """Its sheets and layouts, or why there is none."""

    sheets: int | None
    layouts: int | None
    seconds: float
    """Processor time that it got."""
    said: str


def by_packingsolver(python: str, instance: Instance, seconds: float, mode: str) -> PeerAnswer:
    """Return its verified answer, or why there is none."""
    start, since = seconds_of_children(), time.perf_counter()
    command = [python, str(CHILD)]
    asked = json.dumps(as_question(instance, seconds, mode))
    try:
        done = subprocess.run(
            command,
            input=asked,
            capture_output=True,
            text=True,
            check=False,
            timeout=OVERRUN * seconds,
        )
    except subprocess.TimeoutExpired:
        return PeerAnswer(None, None, seconds_of_children() - start, "did not end")
    took = seconds_of_children() - start
    if done.returncode:
        return PeerAnswer(None, None, took, f"crashed ({done.returncode})")
    layouts = layouts_from(instance, json.loads(done.stdout.splitlines()[-1]))
    if not layouts:
        return PeerAnswer(None, None, took, "empty answer")
    broken = violations(instance, as_solution(layouts))
    if broken:
        return PeerAnswer(None, None, took, f"rejected: {broken[0]}")
    share = took / (time.perf_counter() - since)
    said = "" if share > LEAST_SHARE else f"had only {share:.0%} of a core"
    return PeerAnswer(sum(each.runs for each in layouts), len(layouts), took, said)


def seconds_of_children() -> float:
    """Return the processor time of all child processes that ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def as_question(instance: Instance, seconds: float, mode: str) -> dict[str, object]:
    """Return the nest with sheet and pieces larger by the gap, which keeps it between any two."""
    (stock,), rules = instance.stocks, instance.rules
    return {
        "sheet": (
            stock.length - rules.trim.along + rules.gap,
            stock.width - rules.trim.across + rules.gap,
        ),
        "kinds": [
            {
                "length": piece.length + rules.gap,
                "width": piece.width + rules.gap,
                "quantity": piece.quantity,
                "turnable": piece.turn is Turn.QUARTER,
            }
            for piece in instance.pieces
        ],
        "seconds": seconds,
        "mode": mode,
    }


def layouts_from(instance: Instance, answer: list[dict[str, object]]) -> tuple[Layout, ...]:
    """Return its layouts in the sheets' own frame, equal ones merged."""
    trim, stock = instance.rules.trim, instance.stocks[0].id
    layouts = []
    for each in answer:
        items, runs = each["items"], each["runs"]
        if not isinstance(items, list) or not isinstance(runs, int):
            raise TypeError(f"not an answer: {each}")
        placements = tuple(
            Placement(
                piece=instance.pieces[kind].id,
                x=trim.left + x,
                y=trim.bottom + y,
                turned=bool(turned),
            )
            for kind, x, y, turned in items
        )
        if placements:
            layouts.append(Layout(stock=stock, placements=placements, runs=runs))
    return canonical(layouts)


def as_solution(layouts: tuple[Layout, ...]) -> Solution:
    """Return the layouts as an answer about which nothing is proven."""
    sheets = sum(each.runs for each in layouts)
    return Solution(
        layouts=layouts,
        lower_bound=0,
        bound_kind=BoundKind.NOTHING,
        price=float(sheets),
        price_bound=0.0,
        price_bound_kind=BoundKind.NOTHING,
        stop=StopReason.TIME,
        seed=0,
    )


def run() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--python", default=os.environ.get("PACKINGSOLVER_PYTHON"))
    parser.add_argument("--jobs", nargs="+", choices=JOBS, default=JOBS)
    parser.add_argument("--rooms", nargs="+", type=int, default=[40, 120])
    parser.add_argument("--sheets", nargs="+", choices=[s.name for s in SHEETS], default=None)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--modes", nargs="+", choices=MODES, default=MODES[:1])
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    if asked.python is None:
        parser.error("name its Python by --python or PACKINGSOLVER_PYTHON")
    print(f"Repeated rooms against packingsolver at {asked.seconds:g} s, one core")
    print(f"  {versions(('numba', 'highspy'))}; {its_version(asked.python)}; seed {asked.seed}")
    rows: list[tuple[object, ...]] = []
    limits: list[Limit] = []
    for sheet in SHEETS:
        for job, rooms in ((job, rooms) for job in asked.jobs for rooms in asked.rooms):
            if asked.sheets and sheet.name not in asked.sheets:
                continue
            instance = question(job, rooms, sheet)
            start = time.process_time()
            ours = solve(instance, seed=asked.seed)
            took = time.process_time() - start
            name = f"{job} {rooms} {sheet.name}"
            for mode in asked.modes:
                peer = by_packingsolver(asked.python, instance, asked.seconds, mode)
                ratio = ours.sheets / peer.sheets if peer.sheets else None
                rows.append(
                    (
                        *(name, ours.sheets, ours.distinct, f"{took:.1f}", mode),
                        *(peer.sheets, peer.layouts, f"{peer.seconds:.0f}", ratio, peer.said),
                    )
                )
                if ratio is not None:
                    limits.append(Limit(f"{name} {mode}", ratio, Sense.AT_MOST, *MOST_RATIO))
                print(f"  done: {name} {mode}", flush=True)
    head = (
        *("job, rooms, sheet", "ours", "layouts", "s", "mode"),
        *("packingsolver", "layouts", "its s", "ratio", ""),
    )
    print(table(head, rows))
    show_limits_and_exit(limits)


def its_version(python: str) -> str:
    """Return the version of packingsolver in that environment.

    Raises:
        CalledProcessError: it is not installed there.
    """
    code = "import importlib.metadata as m; print('packingsolver', m.version('packingsolver'))"
    done = subprocess.run([python, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout.strip()


if __name__ == "__main__":
    run()
