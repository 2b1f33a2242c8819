"""Boards of another formaldehyde class than the job asks for, and of none that is stated."""

from dataclasses import replace

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.sets.fast_findings import fast_findings
from casewright.stages.sets.job_findings import board_class_findings
from casewright.stages.sets.set_memory import SetMemory
from parametric.findings.finding import Finding, Severity
from parametric.findings.telling import told
from tests.casewright.build_fixtures import CONFIGS


def found(job: Job) -> list[Finding]:
    return list(board_class_findings(job, SetMemory(job).placed_sets()))


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(CONFIGS / "keepers-room.yaml")


def test_nothing_is_said_where_nothing_is_asked(job: Job) -> None:
    assert job.formaldehyde is None and not found(job)


def test_boards_of_the_class_pass_and_others_are_named(job: Job) -> None:
    (right,) = found(replace(job, formaldehyde="E1"))
    assert right.severity is Severity.OK and right.measured == 0
    (other,) = found(replace(job, formaldehyde="TSCA Title VI"))
    assert other.severity is Severity.WARN
    assert "ash-one-face: E1" in told(other, job.units).message


def test_a_class_that_nobody_states_is_a_warning(job: Job) -> None:
    raw = replace(job.construction.rail, formaldehyde=None)
    asked = replace(job, formaldehyde="E1", construction=replace(job.construction, rail=raw))
    (finding,) = found(asked)
    assert finding.measured == 1 and "raw-particleboard: not stated" in str(finding.message)


def test_the_quick_check_tells_it_too(job: Job) -> None:
    asked = replace(job, formaldehyde="F****")
    codes = {each.code for each in fast_findings(asked, Progress(), SetMemory(asked))}
    assert "board-class" in codes
