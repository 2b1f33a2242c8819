"""A bit that the rack lacks is told before anything is cut, as the operator's pages tell it."""

import json
from dataclasses import replace
from pathlib import PurePosixPath

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.pipeline import build
from casewright.progress import Progress
from casewright.stages.sets.bit_findings import bit_findings
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from export.routing.machine_rates import BitRole
from parametric.findings.finding import Finding, Severity
from tests.casewright.build_fixtures import CONFIGS


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(CONFIGS / "keepers-room.yaml")


@pytest.fixture(scope="module")
def sets(job: Job) -> SetsOfJob:
    return model_sets(job, Progress())


def found(job: Job, sets: SetsOfJob) -> list[Finding]:
    return list(bit_findings(job.machine, sets.cut_list.parts, job.units))


def without(job: Job, *names: str) -> Job:
    kept = tuple(bit for bit in job.machine.bits if bit.name not in names)
    assert len(kept) == len(job.machine.bits) - len(names)
    return replace(job, machine=replace(job.machine, bits=kept))


def test_the_rack_of_the_demo_has_all(job: Job, sets: SetsOfJob) -> None:
    (finding,) = found(job, sets)
    assert finding.severity is Severity.OK and finding.measured == 0
    assert finding in sets.job_findings


def test_a_missing_drill_is_named_with_its_parts(job: Job, sets: SetsOfJob) -> None:
    (finding,) = found(without(job, "drill 2.2 mm"), sets)
    assert finding.severity is Severity.WARN and finding.measured == 1
    holes = {
        part.number: sum(bore.diameter_mm == 2.2 for bore in part.panel.bores)
        for part in sets.cut_list.parts
    }
    for number, many in holes.items():
        assert (f"{number} ({many} hole" in str(finding.message)) is (many > 0)
    assert str(finding.message).startswith("no drill of 2.2 mm, for ")


def test_a_router_bit_that_is_too_wide_is_told(job: Job, sets: SetsOfJob) -> None:
    wide = tuple(
        replace(bit, diameter_mm=60.0) if BitRole.OPENING in bit.roles else bit
        for bit in job.machine.bits
    )
    findings = found(replace(job, machine=replace(job.machine, bits=wide)), sets)
    assert findings and all(each.severity is Severity.WARN for each in findings)
    assert any("bit for what is" in str(each.message) for each in findings)


def test_a_machine_that_lists_no_bits_is_not_judged(job: Job, sets: SetsOfJob) -> None:
    assert not found(replace(job, machine=replace(job.machine, bits=())), sets)


def test_it_is_what_the_build_tells_of_its_files(job: Job) -> None:
    lacking = without(job, "drill 2.7 mm", "drill 4.5 mm")
    outcome = build(lacking)
    told = [each for each in outcome.findings if each.code == "bit-missing"]
    manifest = json.loads(outcome.files[PurePosixPath("manifest.json")])
    not_counted = {layer for file in manifest["router"] for layer in file["not_counted"]}
    assert len(told) == 2 and all(each.severity is Severity.WARN for each in told)
    for size in ("2.7", "4.5"):
        assert any(f"drill of {size} mm" in str(each.message) for each in told)
        assert any(layer.startswith(f"BORE-{size.replace('.', '_')}") for layer in not_counted)
