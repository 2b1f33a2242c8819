"""What is found of a set in one hand is what is found of its mirror image."""

from dataclasses import replace
from pathlib import Path

import pytest

from casewright import Session
from casewright.stages.sets.set_findings import FOUND_IN, set_findings, told_of
from casewright.stages.sets.used_sets import UsedSet, placed
from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.findings.telling import ToldFinding
from parametric.findings.telling import told as told_of_one
from parametric.joints.machining import machining
from parametric.stock.lengths import Units
from tests.outside.built_demo import CONFIGS

JOBS = sorted(CONFIGS.glob("*-rooms.csv"))


def words_of(finding: Finding) -> ToldFinding:
    """What a finding says but for its raw numbers and its place in the room."""
    return replace(told_of_one(finding, Units.MM), measured=0.0, limit=0.0, at=None)


@pytest.mark.parametrize("schedule", JOBS, ids=lambda path: path.stem)
def test_findings_in_the_other_hand_are_those_told_of_it(schedule: Path) -> None:
    path = schedule.with_name(f"{schedule.stem.removesuffix('-rooms')}.yaml")
    job = Session.from_file(path).job
    for sizes in job.sets:
        found: dict[bool, tuple[Finding, ...]] = {}
        for here in (True, False):
            hand = FOUND_IN if here else FOUND_IN.other
            room_set = placed(job, UsedSet(sizes=sizes, hand=hand, rooms=1))
            worked = machining(room_set.assembly, job.routing)
            found[here] = set_findings(job, room_set, worked, Fineness.FAST)
        told = told_of(found[True], sizes.name, FOUND_IN.other)
        assert all(f"{FOUND_IN.other} hand" in each.where for each in told)
        assert len(told) == len(found[False])
        for one, other in zip(told, found[False], strict=True):
            # Of places that are equally bad, each hand names one.
            assert words_of(one) == words_of(other)
            assert (one.measured, one.limit) == pytest.approx((other.measured, other.limit))
            assert (one.at is None) == (other.at is None)
        assert any(
            one.at is not None and one.at == pytest.approx(other.at)
            for one, other in zip(told, found[False], strict=True)
        )
