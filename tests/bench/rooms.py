"""Ten times the rooms of the same sets: 480 against 48, in processor time, stage by stage.

Sets are modelled once however many rooms have them, so only the nest and labels may cost more. The
smaller job is built before and after the larger one, and the mean of the two is the peer.
"""

import csv
import shutil
import tempfile
import time
from pathlib import Path

from casewright.intake.read_job import read_job
from casewright.output.folder import write_folder
from casewright.pipeline import build
from casewright.progress import Progress
from tests.bench.comparison import Comparison, show_and_exit
from tests.bench.processes import DEMO_JOB

MOST_BUT_NEST = 1.3
TIMES = 10
NEST, LABELS = "nests", "labels"  # a label for each part
SEED = 1  # the nest's own
WARM_UP_JOB = DEMO_JOB.name  # all sets: what is remembered of them in this run serves both jobs

Seconds = dict[str, float]


class StageClock:
    """Takes the processor time of each stage that a build tells of."""

    def __init__(self) -> None:
        self.seconds: Seconds = {}
        self._name = ""
        self._since = 0.0

    def stage(self, name: str, steps: int = 0) -> None:
        del steps
        now = time.process_time()
        if self._name:
            self.seconds[self._name] = self.seconds.get(self._name, 0.0) + now - self._since
        self._name, self._since = name, now

    def step(self, what: str) -> None:
        del what

    def note(self, what: str) -> None:
        del what

    def tell(self, what: str) -> None:
        del what


def job_of_many_rooms(folder: Path) -> Path:
    """Copy the demo with its schedule repeated under new room numbers; the stock grows with it."""
    configs = folder / "configs"
    shutil.copytree(DEMO_JOB.parent, configs)
    schedule = configs / "avalanche-centre-rooms.csv"
    with schedule.open(newline="", encoding="utf-8") as stream:
        header, *rows = csv.reader(stream)
    with schedule.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream)
        writer.writerow(header)
        for block in range(TIMES):
            writer.writerows([f"{block}-{number}", *rest] for number, *rest in rows)
    materials = configs / "materials-inch.yaml"
    text = materials.read_text(encoding="utf-8")
    if "on_hand: 30" not in text:
        raise RuntimeError("the demo's plywood on hand has changed; so must this benchmark")
    materials.write_text(text.replace("on_hand: 30", f"on_hand: {30 * TIMES}"), encoding="utf-8")
    return configs / DEMO_JOB.name


def seconds_of(job_file: Path, out: Path) -> tuple[Seconds, int]:
    """Build a job from its file to its folder; return the seconds by stage, and the rooms."""
    clock = StageClock()
    clock.stage("reading the job")
    job = read_job(job_file)
    outcome = build(job, Progress(clock))
    clock.stage("writing the folder")
    write_folder(out, outcome.files)
    clock.stage("")
    return clock.seconds, outcome.rooms


def but_nest(seconds: Seconds) -> float:
    return sum(spent for stage, spent in seconds.items() if stage not in (NEST, LABELS))


def run() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        seconds_of(DEMO_JOB.parent / WARM_UP_JOB, folder / "warm-up")
        before, few = seconds_of(DEMO_JOB, folder / "before")
        ours, many = seconds_of(job_of_many_rooms(folder), folder / "many")
        after, _ = seconds_of(DEMO_JOB, folder / "after")
    peer = {stage: (spent + after[stage]) / 2 for stage, spent in before.items()}
    rows = [Comparison(stage, ours[stage], peer[stage], "s") for stage in peer if stage != NEST]
    rows.append(
        Comparison("all but nest, labels", but_nest(ours), but_nest(peer), "s", MOST_BUT_NEST)
    )
    rows.append(Comparison("the nest", ours[NEST], peer[NEST], "s"))
    show_and_exit(
        f"{many} rooms against {few} of the same sets, processor time",
        f"{many} rooms",
        f"{few} rooms",
        rows,
        ("cadquery", "ezdxf", "rectpack", "shapely"),
        SEED,
    )


if __name__ == "__main__":
    run()
