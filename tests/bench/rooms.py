"""Ten times the rooms of the same sets: 480 against 48, in processor time, stage by stage and paper
by paper; and all papers of the 48 rooms against their nest.

Sets are modelled once however many rooms have them, so only the nest, labels and papers with a page
for each room may cost more. The nests that the estimate asks for, at other numbers of rooms and of
each size of sheet alone, are a stage of their own: neither papers nor the job's nest. The smaller
job is built before and after the larger one, and the mean of the two is the peer.
"""

import csv
import math
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

MOST_OF_NEST = 1.0  # all papers of the smaller job
MOST_FOR_TIMES = 1.5
TIMES = 10
NEST, LABELS, STEPS = "nests", "labels", "steps of the installation"
PAPERS = "lists and papers"
PAGE_FOR_EACH = {"room pages", "measuring sheets", "sign-off pages"}
LABEL_FOR_EACH = {"labels of boxes", "list of labels"}
SHOWN_S = 0.05
"""An entry that costs less is no row of its own."""

SEED = 1  # the nest's own
WARM_UP_JOB = DEMO_JOB.name  # all sets: what is remembered of them in this run serves both jobs

Seconds = dict[str, float]


class StageClock:
    """Takes the processor time of each stage that a build tells of, and that of each entry of the
    lists and papers, by its title.
    """

    def __init__(self) -> None:
        self.seconds: Seconds = {}
        self.entries: Seconds = {}
        self._name = ""
        self._since = self._entry_since = 0.0

    def stage(self, name: str, steps: int = 0) -> None:
        del steps
        now = time.process_time()
        if self._name:
            self.seconds[self._name] = self.seconds.get(self._name, 0.0) + now - self._since
        self._name, self._since, self._entry_since = name, now, now

    def step(self, what: str) -> None:
        if self._name == PAPERS:
            now = time.process_time()
            self.entries[what], self._entry_since = now - self._entry_since, now

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


def clocked(job_file: Path, out: Path) -> tuple[StageClock, int]:
    """Build a job from its file to its folder; return what it took, and the rooms."""
    clock = StageClock()
    clock.stage("reading the job")
    job = read_job(job_file)
    outcome = build(job, Progress(clock))
    clock.stage("writing the folder")
    write_folder(out, outcome.files)
    clock.stage("")
    return clock, outcome.rooms


def mean(one: Seconds, other: Seconds) -> Seconds:
    return {name: (spent + other[name]) / 2 for name, spent in one.items()}


def papers(stages: Seconds) -> float:
    return math.fsum(stages[name] for name in (STEPS, LABELS, PAPERS))


def as_ever(stages: Seconds, entries: Seconds) -> float:
    """What must not grow with the rooms: all but the nest, labels and papers with pages for each
    room.
    """
    for_each = math.fsum(entries[title] for title in PAGE_FOR_EACH | LABEL_FOR_EACH)
    whole = math.fsum(spent for name, spent in stages.items() if name not in (NEST, LABELS))
    return whole - for_each


def run() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        clocked(DEMO_JOB.parent / WARM_UP_JOB, folder / "warm-up")
        before, few = clocked(DEMO_JOB, folder / "before")
        ours, many = clocked(job_of_many_rooms(folder), folder / "many")
        after, _ = clocked(DEMO_JOB, folder / "after")
    stages, entries = mean(before.seconds, after.seconds), mean(before.entries, after.entries)
    rows = [Comparison(each, ours.seconds[each], stages[each], "s") for each in stages]
    rows += [
        Comparison(f"- {title}", ours.entries[title], spent, "s")
        for title, spent in entries.items()
        if max(spent, ours.entries[title]) >= SHOWN_S
    ]
    rows += [
        Comparison(
            "all but nest, labels, room pages",
            as_ever(ours.seconds, ours.entries),
            as_ever(stages, entries),
            "s",
            MOST_FOR_TIMES,
        ),
        Comparison(f"{many} rooms: papers, nest", papers(ours.seconds), ours.seconds[NEST], "s"),
        Comparison(f"{few} rooms: papers, nest", papers(stages), stages[NEST], "s", MOST_OF_NEST),
    ]
    show_and_exit(
        f"{many} rooms against {few} of the same sets, processor time; below, papers beside the"
        " nest",
        f"{many} rooms",
        f"{few} rooms",
        rows,
        ("cadquery", "ezdxf", "rectpack", "shapely", "typst"),
        SEED,
    )


if __name__ == "__main__":
    run()
