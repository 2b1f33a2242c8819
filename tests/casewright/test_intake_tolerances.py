"""Tolerances in the files of a job: where they may stand, and what counts where they do not.

Figures of the router and of setting out: common practice, no source.
"""

from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from parametric.rooms.fitting import Fitting
from parametric.stock.sources import COMMON_PRACTICE
from parametric.stock.tolerances import CutTolerances, Tolerance
from tests.casewright.intake_folder import CENTRE, KEEPER, SHIP, JobFolder

SAID = '{plus_minus: 1/32 in, source: "measured on twelve parts"}'
SAID_MM = 25.4 / 32


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def job_of(folder: JobFolder, name: str) -> Job:
    return read_job(folder.path(f"{name}.yaml"))


def without_tolerances(folder: JobFolder, name: str) -> None:
    """Drop the lines that state one on a line of its own."""
    text = folder.path(name).read_text(encoding="utf-8")
    kept = [line for line in text.splitlines(keepends=True) if "plus_minus" not in line]
    folder.path(name).write_text("".join(kept), encoding="utf-8")


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
def test_everything_bought_for_a_demo_job_has_its_tolerance(folder: JobFolder, name: str) -> None:
    made_of = job_of(folder, name).construction
    boards = (
        *(made_of.deck, made_of.base_panel, made_of.rail),
        *(made_of.bearer, made_of.carcass, made_of.wall_panel),
    )
    stated = [board.thickness_tolerance for board in boards]
    stated += [made_of.band.thickness_tolerance, made_of.wall_plate.thickness_tolerance]
    stated.append(made_of.angle.leg_tolerance)
    for tolerance in stated:
        assert tolerance is not None
        assert tolerance.plus_minus_mm > 0.0
        assert tolerance.source


def test_what_a_library_does_not_say_is_not_known(folder: JobFolder) -> None:
    for library in ("materials-metric.yaml", "hardware-metric.yaml"):
        without_tolerances(folder, library)
    made_of = job_of(folder, KEEPER).construction
    assert made_of.deck.thickness_tolerance is None
    assert made_of.band.thickness_tolerance is None
    assert made_of.angle.leg_tolerance is None
    assert made_of.wall_plate.thickness_tolerance is None


def test_what_a_router_and_an_installer_keep_to_has_defaults_that_say_so(
    folder: JobFolder,
) -> None:
    stated = job_of(folder, SHIP)
    folder.replace("router-metric.yaml", "\ntolerances:\n", "\n")
    without_tolerances(folder, "router-metric.yaml")
    folder.replace("survey-ship.yaml", "  setting_out: # these are the defaults too\n", "")
    folder.replace("survey-ship.yaml", "\nfitting:\n", "\n")
    without_tolerances(folder, "survey-ship.yaml")
    plain = job_of(folder, SHIP)
    assert plain.routing.tolerances == stated.routing.tolerances == CutTolerances()
    assert plain.fitting == stated.fitting == Fitting()
    assert plain.fitting.setting_out.place.source == COMMON_PRACTICE


def test_one_of_them_may_be_said_alone_in_any_unit(folder: JobFolder) -> None:
    without_tolerances(folder, "router-metric.yaml")
    folder.replace("router-metric.yaml", "\ntolerances:\n", f"\ntolerances:\n  groove: {SAID}\n")
    without_tolerances(folder, "survey-ship.yaml")
    says = "  setting_out: # these are the defaults too\n"
    folder.replace("survey-ship.yaml", says, f"{says}    level: {SAID}\n")
    job = job_of(folder, SHIP)
    said = Tolerance(plus_minus_mm=SAID_MM, source="measured on twelve parts")
    plain_cut, plain_out = CutTolerances(), Fitting().setting_out
    assert job.routing.tolerances.groove == said
    assert job.routing.tolerances.size == plain_cut.size
    assert job.fitting.setting_out.level == said
    assert job.fitting.setting_out.place == plain_out.place
