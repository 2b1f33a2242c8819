"""Which rooms count where a set is held against what its rooms leave beyond it."""

from dataclasses import replace

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.stages.sets.job_findings import run_of
from casewright.stages.sets.used_sets import placed, used_sets
from parametric.geometry.hand import Hand
from parametric.rooms.fit import furthest
from parametric.rooms.room_fit import HandedFit, SideGap
from parametric.sets.room_set import RoomSet
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.site_example import fit
from tests.told import said


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(CONFIGS / "keepers-room.yaml")


@pytest.fixture(scope="module")
def keeper(job: Job) -> RoomSet:
    """The demo's only set, which its rooms have in the left hand."""
    (used,) = used_sets(job)
    assert (used.sizes.name, used.hand) == ("keeper", Hand.LEFT)
    return placed(job, used)


def room_with(number: str, set_name: str, hand: Hand, gap_mm: float, each: RoomSet) -> HandedFit:
    gap = SideGap(
        where="at the seat",
        gap_mm=gap_mm,
        beyond=furthest(each.assembly.boards).name,
    )
    return hand, replace(fit(number), set_name=set_name, gaps=(gap,))


def test_only_rooms_with_this_set_in_this_hand_count(job: Job, keeper: RoomSet) -> None:
    """A tighter room of another set, or of the other hand, has another board at its wall."""
    fits = (
        room_with("1", "keeper", Hand.RIGHT, 4.0, keeper),
        room_with("2", "other", Hand.LEFT, 5.0, keeper),
        room_with("3", "keeper", Hand.LEFT, 7.0, keeper),
        room_with("4", "keeper", Hand.LEFT, 6.0, keeper),
    )
    assert "room 4, at the seat" in said(next(run_of(job, keeper, fits)))
    assert "room 3, at the seat" in said(next(run_of(job, keeper, fits[:3])))
    for others in ((), fits[:2]):
        assert "least gap (fitting)" in said(next(run_of(job, keeper, others)))
