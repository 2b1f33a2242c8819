"""A demo job with its solids and its written folder: what the checks from outside look at."""

import csv
import json
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.output.folder import write_folder
from casewright.pipeline import build
from casewright.stages.sets.check_stage import check
from casewright.stages.sets.set_stage import SetsOfJob
from parametric.geometry.hand import Hand
from parametric.stock.hardware import Screw

CONFIGS = Path(__file__).parents[2] / "configs"
CENTRE, SHIP, KEEPER = "avalanche-centre", "survey-ship", "keepers-room"
STATION = "field-station"
DEMOS = (CENTRE, SHIP, KEEPER, STATION)

RIGHT_ROOMS, LEFT_ROOMS = 5, 3


@dataclass(frozen=True)
class BuiltDemo:
    """The job and the folder it was written to."""

    job: Job
    folder: Path

    @cached_property
    def sets(self) -> SetsOfJob:
        """The job's sets as solids, made apart from the build."""
        return check(self.job)

    @property
    def manifest(self) -> dict[str, Any]:
        content: dict[str, Any] = json.loads((self.folder / "manifest.json").read_text())
        return content

    def table(self, name: str) -> list[dict[str, str]]:
        with (self.folder / "shop" / f"{name}.csv").open(newline="", encoding="utf-8") as stream:
            return list(csv.DictReader(stream))

    def files(self, role: str) -> list[dict[str, str]]:
        return [file for file in self.manifest["files"] if file["role"] == role]

    def layer_names(self, role: str) -> set[str]:
        return {layer["name"] for layer in self.manifest["layers"] if layer["role"] == role}


def demo(name: str) -> Job:
    return read_job(CONFIGS / f"{name}.yaml")


def in_both_hands(job: Job) -> Job:
    """The job with more rooms of its first one, in both hands."""
    hands = [Hand.RIGHT] * RIGHT_ROOMS + [Hand.LEFT] * LEFT_ROOMS
    first = job.rooms[0]
    rooms = tuple(replace(first, number=f"{n}", hand=hand) for n, hand in enumerate(hands, start=1))
    return replace(job, rooms=rooms)


def built(job: Job, folder: Path) -> BuiltDemo:
    outcome = build(job)
    assert outcome.cut_files_written, [f for f in outcome.findings if f.severity.value == "fail"]
    write_folder(folder, outcome.files)
    return BuiltDemo(job=job, folder=folder)


def screws(job: Job) -> dict[str, Screw]:
    """Every screw that the job's construction uses, by key."""
    made_of = job.construction
    used: Iterable[Screw] = (
        made_of.screw_cleat_thin,
        made_of.screw_cleat_wide,
        made_of.screw_angle,
        made_of.screw_wall,
        made_of.screw_panel,
        made_of.leg.screw,
        made_of.wall_plate.screw,
    )
    return {screw.key: screw for screw in used}
