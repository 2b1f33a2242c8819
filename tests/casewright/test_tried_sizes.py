"""Sizes that are tried where a set fails: what is named mends it, clearly less of it does not."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.stages.sets import tried_sizes
from casewright.stages.sets.tried_sizes import STEP_MM, Place, advised, mended, place
from casewright.stages.sets.used_sets import UsedSet, placed, used_sets
from parametric.findings.check_strength import check_strength
from parametric.findings.finding import Finding, Severity
from parametric.sets.composition import sizes_in, with_size
from parametric.stock.lengths import exact_length
from parametric.units.size import Length
from tests.told import advised as advised_to

ROOM = Path(__file__).parents[2] / "configs" / "keepers-room.yaml"


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(ROOM)


def with_overhang(job: Job, overhang_mm: float) -> tuple[Job, UsedSet]:
    """The keeper's room with another overhang of its bench."""
    used = used_sets(job)[0]
    sizes = with_size(used.sizes, ("head_wall", "bench", "overhang"), overhang_mm)
    return replace(job, sets=(sizes,)), replace(used, sizes=sizes)


def found_in(job: Job, used: UsedSet) -> tuple[Finding, ...]:
    where = f"{used.sizes.name}, {used.hand} hand"
    return check_strength(where, placed(job, used).assembly, job.loads)


def failed(job: Job, used: UsedSet) -> Iterator[Place]:
    where = f"{used.sizes.name}, {used.hand} hand"
    found = found_in(job, used)
    for finding in found:
        if finding.severity is Severity.FAIL:
            yield place(where, finding)


Tried = tuple[Job, UsedSet, tuple[Finding, ...], dict[Place, str]]


@pytest.fixture(scope="module")
def tried(job: Job) -> Tried:
    """A bench with twice the overhang that it should have, and what would mend it."""
    broken, used = with_overhang(job, 200.0)
    found = found_in(broken, used)
    return broken, used, found, mended(broken, used.sizes, used.hand, found)


def overhangs_named(job: Job, mends: dict[Place, str]) -> Iterator[tuple[Place, float]]:
    for about, words in mends.items():
        match = re.search(r"the bench's overhang at (\S+ mm) \(now 200 mm\), tried", words)
        if match is not None:
            yield about, float(exact_length(match[1], job.units))


def test_what_is_named_mends_it_and_two_steps_less_do_not(tried: Tried) -> None:
    job, used, _, mends = tried
    before = set(failed(job, used))
    named = list(overhangs_named(job, mends))
    assert named
    for about, overhang_mm in named:
        after = set(failed(*with_overhang(job, overhang_mm)))
        assert about not in after
        assert after < before, "and breaks nothing else"
        assert about in set(failed(*with_overhang(job, overhang_mm + 2 * STEP_MM[job.units])))


def test_advice_starts_with_what_mends_and_nothing_else_changes(tried: Tried) -> None:
    _, used, found, mends = tried
    where = f"{used.sizes.name}, {used.hand} hand"
    told = advised(where, found, mends)
    assert len(told) == len(found)
    changed = []
    for before, after in zip(found, told, strict=True):
        assert replace(after, advice=before.advice) == before
        if after != before:
            mend = mends[place(where, before)]
            assert advised_to(after) == f"{mend}; or else {advised_to(before)}"
            changed.append(place(where, before))
    assert sorted(changed) == sorted(mends), "once for each check and part"


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
    assert list(mends.values()) == ["no single size that was tried lets it pass"]


def test_only_what_a_job_file_may_say_is_tried(job: Job) -> None:
    """Every size that is tried lies within its range in the schema, and the least of each is."""
    used = used_sets(job)[0]
    trial = tried_sizes._Trial(job, used.sizes, used.hand)
    tried_keys = set()
    for way in trial._ways:
        made = way.made(way.most_steps)
        for now, then in zip(sizes_in(used.sizes), sizes_in(made.sizes), strict=True):
            asked = then.size.asked
            if then.value is not None and isinstance(asked, Length):
                assert asked.least_mm - 1e-6 <= then.value <= asked.most_mm + 1e-6, then.keys
                if now.value != then.value:
                    tried_keys.add(then.keys)
    assert {
        ("head_wall", "bench", "overhang"),
        ("head_wall", "bed", "deck_length"),
        ("base_height",),
    } <= tried_keys


def test_sizes_with_which_parts_do_not_reach_each_other_are_no_bug(job: Job) -> None:
    """A table of 6 mm: its sides reach into nothing. No job may say so; nor may a trial stumble."""
    used = used_sets(job)[0]
    tiny = with_size(used.sizes, ("head_wall", "bedside table", "width"), 6.0)
    trial = tried_sizes._Trial(job, used.sizes, used.hand)
    assert trial._all_failed(tried_sizes._Made(tiny, job.construction)) is None
