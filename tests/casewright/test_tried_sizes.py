"""Sizes that are tried where a set fails: what is named mends it, clearly less of it does not."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from casewright import tried_sizes
from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.tried_sizes import STEP_MM, Place, advised, mended, places
from casewright.used_sets import UsedSet, placed, used_sets
from parametric.findings.check_strength import check_strength
from parametric.findings.finding import Finding, Severity
from parametric.lengths import exact_length

ROOM = Path(__file__).parents[2] / "configs" / "keepers-room.yaml"


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(ROOM)


def with_overhang(job: Job, overhang_mm: float) -> tuple[Job, UsedSet]:
    """The keeper's room with another overhang of its bench."""
    used = used_sets(job)[0]
    assert used.sizes.bench is not None
    bench = replace(used.sizes.bench, overhang_mm=overhang_mm)
    sizes = replace(used.sizes, bench=bench)
    return replace(job, sets=(sizes,)), replace(used, sizes=sizes)


def found_in(job: Job, used: UsedSet) -> tuple[Finding, ...]:
    where = f"{used.sizes.name}, {used.hand} hand"
    return check_strength(where, placed(job, used).assembly, job.loads)


def failed(job: Job, used: UsedSet) -> Iterator[Place]:
    where = f"{used.sizes.name}, {used.hand} hand"
    found = found_in(job, used)
    for place, finding in zip(places(where, found), found, strict=True):
        if finding.severity is Severity.FAIL:
            yield place


Tried = tuple[Job, UsedSet, tuple[Finding, ...], dict[Place, str]]


@pytest.fixture(scope="module")
def tried(job: Job) -> Tried:
    """A bench with twice the overhang that it should have, and what would mend it."""
    broken, used = with_overhang(job, 200.0)
    found = found_in(broken, used)
    return broken, used, found, mended(broken, used.sizes, used.hand, found)


def overhangs_named(job: Job, mends: dict[Place, str]) -> Iterator[tuple[Place, float]]:
    for place, words in mends.items():
        match = re.search(r"the bench's overhang at (\S+ mm) \(now 200 mm\), tried", words)
        if match is not None:
            yield place, float(exact_length(match[1], job.units))


def test_what_is_named_mends_it_and_two_steps_less_do_not(tried: Tried) -> None:
    job, used, _, mends = tried
    before = set(failed(job, used))
    named = list(overhangs_named(job, mends))
    assert named
    for place, overhang_mm in named:
        after = set(failed(*with_overhang(job, overhang_mm)))
        assert place not in after
        assert after < before, "and breaks nothing else"
        assert place in set(failed(*with_overhang(job, overhang_mm + 2 * STEP_MM[job.units])))


def test_advice_starts_with_what_mends_and_nothing_else_changes(tried: Tried) -> None:
    _, used, found, mends = tried
    where = f"{used.sizes.name}, {used.hand} hand"
    told = advised(where, found, mends)
    assert len(told) == len(found)
    for before, after, place in zip(found, told, places(where, found), strict=True):
        if place in mends:
            assert after.advice == f"{mends[place]}; or else {before.advice}"
            assert replace(after, advice=before.advice) == before
        else:
            assert after == before


def test_a_set_that_passes_is_not_tried(job: Job) -> None:
    used = used_sets(job)[0]
    assert mended(job, used.sizes, used.hand, found_in(job, used)) == {}


def test_what_no_size_mends_says_so(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    """Fifteen persons on one seat; no wall screw gets longer than its blocking is thick."""
    monkeypatch.setattr(tried_sizes, "MOST_MENDED", 1)
    used = used_sets(job)[0]
    heavy = replace(job, loads=replace(job.loads, seat_n=20_000.0))
    pulled = tuple(f for f in found_in(heavy, used) if f.code == "wall-pull")
    mends = mended(heavy, used.sizes, used.hand, pulled)
    assert list(mends.values()) == ["no other size alone lets it pass (tried)"]
