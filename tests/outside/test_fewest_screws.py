"""Wall screws are as few as hold: by trial, on every bench and every desk of the demo jobs.

Rows wider apart have fewer screws; each of them bears more than is allowed, or comes so near to it
that it warns where the bench as it is does not. Three on a rail are the least: common practice, no
source.
"""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from casewright.job import Job
from casewright.stages.sets.used_sets import UsedSet, placed, used_sets
from parametric.findings.check_strength import check_strength
from parametric.findings.finding import Severity
from parametric.findings.wall_strength import wall_strength_findings
from parametric.geometry.hand import Hand
from parametric.joints.assembly import Assembly
from parametric.sets.composition import Run, SetSizes
from tests.outside.built_demo import DEMOS, STATION

RANK = {Severity.OK: 0, Severity.WARN: 1, Severity.FAIL: 2}
WIDER_MM = tuple(range(240, 1001, 20))


def apart(sizes: SetSizes, unit: str, apart_mm: float, what: str = "rail") -> SetSizes:
    """The set with the wall screws of one unit as far apart: of its rails, or its wall cleats."""

    def changed(run: Run) -> Run:
        units = (
            replace(each, built_from=(*each.built_from, (f"{what}_screws_apart_mm", apart_mm)))
            if each.name == unit
            else each
            for each in run.units
        )
        return replace(run, units=tuple(units))

    return replace(sizes, runs=tuple(map(changed, sizes.runs)))


def held(job: Job, assembly: Assembly, unit: str) -> tuple[int, int]:
    """How many screws hold a unit to its walls, and how bad the worst that is found of them is."""
    screws = sum(
        len(joints)
        for name, joints in assembly.held_by_walls().items()
        if assembly.part(name).unit == unit
    )
    found = wall_strength_findings("set", assembly, job.loads)
    own = (RANK[f.severity] for f in found if f.where.split(": ")[1].split("/")[0] == unit)
    return screws, max(own)


def benches(job: Job) -> Iterator[tuple[UsedSet, str]]:
    for used in used_sets(job):
        if used.hand is Hand.RIGHT or len(used_sets(job)) == 1:
            for unit in used.sizes.units():
                if unit.family == "bench":
                    yield used, unit.name


@pytest.mark.parametrize("name", DEMOS)
def test_with_fewer_screws_some_would_bear_too_much(jobs: dict[str, Job], name: str) -> None:
    job, tried = jobs[name], 0
    for used, unit in benches(job):
        screws, rank = held(job, placed(job, used).assembly, unit)
        assert rank < RANK[Severity.FAIL]
        for apart_mm in WIDER_MM:
            wider = replace(used, sizes=apart(used.sizes, unit, apart_mm))
            fewer, worse = held(job, placed(job, wider).assembly, unit)
            if fewer < screws:
                tried += 1
                assert worse > rank, (used.sizes.name, unit, apart_mm, fewer)
                break
    assert tried or all(
        held(job, placed(job, used).assembly, unit)[0] == 6 for used, unit in benches(job)
    )


def cleat_held(job: Job, assembly: Assembly, unit: str) -> tuple[int, int]:
    """How many screws hold a desk to its walls, and how bad what one of them bears is."""
    screws = [
        len(joints)
        for name, joints in assembly.held_by_walls().items()
        if assembly.part(name).unit == unit
    ]
    found = [each for each in check_strength("set", assembly, job.loads) if unit in each.where]
    return sum(screws), max(RANK[each.severity] for each in found if each.code == "wall-cleat")


def test_wall_cleats_of_desks_have_as_few_screws_as_bear_them(jobs: dict[str, Job]) -> None:
    """Each row wider apart that has fewer screws, up to three fewer, bears worse than the job's."""
    job, tried = jobs[STATION], set()
    for used in used_sets(job):
        for unit in used.sizes.units():
            if unit.family != "desk" or used.hand is Hand.LEFT:
                continue
            screws, rank = cleat_held(job, placed(job, used).assembly, unit.name)
            assert rank < RANK[Severity.FAIL]
            for apart_mm in (100.0, 120.0, 140.0):
                wider = replace(
                    used, sizes=apart(used.sizes, unit.name, apart_mm, what="wall_cleat")
                )
                fewer, worse = cleat_held(job, placed(job, wider).assembly, unit.name)
                if fewer < screws:
                    tried.add(used.sizes.name)
                    assert worse > rank, (used.sizes.name, fewer)
    assert tried == {"shared", "season"}
