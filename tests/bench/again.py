"""What is remembered between runs: check and build of the demo of 48 rooms, first and again, and
after one size of one set was changed.

    python -m tests.bench.again

Each is a process of its own; the first of each kind finds an empty folder. The second must write
the same bytes. Limits are ratios to the first.
"""

import os
import shutil
from pathlib import Path

from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import DEMO_JOB, Cost, cost_of_python
from tests.bench.temporary_room import temporary_room

SIZE, CHANGED = "bedside table: {width: 18}", "bedside table: {width: 18 1/8 in}"  # queen


def cost(command: str, job: Path, *more: str) -> Cost:
    return cost_of_python(["-m", "casewright.cli", command, str(job), *more])


def run() -> None:
    with temporary_room("again") as room:
        os.environ["CASEWRIGHT_CACHE"] = str(room / "cache")
        shutil.copytree(DEMO_JOB.parent, room / "job")
        job = room / "job" / DEMO_JOB.name
        checks = [cost("check", job) for _ in range(2)]
        shutil.rmtree(room / "cache")
        builds = [cost("build", job, "--out", str(room / name)) for name in ("first", "again")]
        for path in sorted((room / "first").rglob("*")):
            if path.is_file():
                other = room / "again" / path.relative_to(room / "first")
                if path.read_bytes() != other.read_bytes():
                    raise SystemExit(f"{other} differs from {path}")
        text = job.read_text()
        if SIZE not in text:
            raise SystemExit(f"{job} has no {SIZE!r} any more")
        job.write_text(text.replace(SIZE, CHANGED, 1))
        changed_check = cost("check", job)
        changed_build = cost("build", job, "--out", str(room / "changed"))
    rows = [
        Comparison("check again", checks[1].cpu_s, checks[0].cpu_s, "s", 0.5),
        Comparison("check, one size changed", changed_check.cpu_s, checks[0].cpu_s, "s"),
        Comparison("build again", builds[1].cpu_s, builds[0].cpu_s, "s", 0.35),
        Comparison("build, one size changed", changed_build.cpu_s, builds[0].cpu_s, "s"),
    ]
    show_and_exit(
        "Processor time with what earlier runs remembered, 48 rooms",
        "now",
        "first",
        rows,
        ("cadquery", "numpy", "scipy"),
    )


if __name__ == "__main__":
    run()
