"""Sets that are like another one: what they take over, what differs, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from parametric.sets.composition import SetSizes, sizes_in
from tests.casewright.intake_folder import KEEPER, JobFolder, place

KEEPER_FILE = f"{KEEPER}.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def added(folder: JobFolder, text: str) -> int:
    """Add sets at the end of the keeper's job; the line of the first."""
    path = folder.path(KEEPER_FILE)
    before = path.read_text(encoding="utf-8")
    path.write_text(before + text, encoding="utf-8")
    return before.count("\n") + 1


def sets_of(folder: JobFolder) -> dict[str, SetSizes]:
    return {sizes.name: sizes for sizes in read_job(folder.path(KEEPER_FILE)).sets}


def differing(one: SetSizes, other: SetSizes) -> dict[tuple[str, ...], tuple[object, object]]:
    first, second = ({at.keys: at.value for at in sizes_in(each)} for each in (one, other))
    return {
        keys: (first.get(keys), second.get(keys))
        for keys in first | second
        if first.get(keys) != second.get(keys)
    }


def test_only_what_is_said_differs(folder: JobFolder) -> None:
    added(
        folder,
        "  wide:\n    like: keeper\n    head_wall:\n      bed: {deck_width: 920}\n"
        "  wider:\n    like: wide\n    butt_gap: 3\n    head_wall: {bed: {deck_width: 1000}}\n",
    )
    sets = sets_of(folder)
    bed = ("head_wall", "bed", "deck_width")
    assert differing(sets["keeper"], sets["wide"]) == {bed: (820.0, 920.0)}
    assert differing(sets["wide"], sets["wider"]) == {bed: (920.0, 1000.0), ("butt_gap",): (2, 3)}


def test_a_set_may_be_like_one_further_down(folder: JobFolder) -> None:
    text = folder.path(KEEPER_FILE).read_text(encoding="utf-8")
    first = text.replace("\nsets:\n", "\nsets:\n  copy: {like: keeper}\n")
    folder.path(KEEPER_FILE).write_text(first, encoding="utf-8")
    sets = sets_of(folder)
    assert list(sets) == ["copy", "keeper"]
    assert differing(sets["copy"], sets["keeper"]) == {}


def test_nothing_takes_away_and_another_family_takes_the_whole_place(folder: JobFolder) -> None:
    added(
        folder,
        "  bare:\n    like: keeper\n    ties: null\n    head_wall:\n      bedside table: null\n"
        "      bench: {family: desk, width: 800, depth: 500, height: 740, near_end: none,\n"
        "        far_end: gable, inset: 30, setback: 40, wall_clearance: 15, corner_radius: 0}\n",
    )
    bare = sets_of(folder)["bare"]
    assert [(unit.name, unit.family) for unit in bare.units()] == [
        ("bench", "desk"),
        ("bed", "platform-bed"),
    ]
    assert bare.ties == ()


def test_a_run_that_names_all_units_gives_their_order(folder: JobFolder) -> None:
    added(
        folder,
        "  turned:\n    like: keeper\n    ties: {tie: {through: [bed, bench]}}\n"
        "    head_wall: {bed: {}, bedside table: {}, bench: {}}\n"
        "  more:\n    like: keeper\n    head_wall:\n      second bench:\n        family: bench\n"
        "        deck_width: 500\n        deck_depth: 500\n        overhang: 60\n"
        "        corner_radius: 0\n",
    )
    sets = sets_of(folder)
    names = {name: [unit.name for unit in sizes.units()] for name, sizes in sets.items()}
    assert names["turned"] == ["bed", "bedside table", "bench"]
    assert names["more"] == ["bench", "bedside table", "bed", "second bench"]


REFUSED = [
    ("  odd: {like: keepr}\n", "sets.odd.like", "no set named 'keepr'", "keeper"),
    ("  odd: {like: odd}\n", "sets.odd.like", "a circle: odd like odd", "like none of those"),
    ("  a: {like: b}\n  b: {like: a}\n", "sets.b.like", "a circle: a like b like a", "like none"),
    ("  odd: {like: [keeper]}\n", "sets.odd.like", "no set named a list", "keeper"),
]


@pytest.mark.parametrize(("text", "key_path", "found", "allowed"), REFUSED)
def test_a_set_like_none_is_refused_once_where_it_says_so(
    folder: JobFolder, text: str, key_path: str, found: str, allowed: str
) -> None:
    line = added(folder, text)
    (fault,) = folder.faults(KEEPER)
    assert fault.key_path == key_path
    assert fault.found == found
    assert allowed in fault.allowed
    assert line <= fault.line < line + 2


def test_what_is_wrong_is_told_where_it_stands(folder: JobFolder) -> None:
    """A size of its own in the own line, one that was taken over in the line of the other set."""
    line = added(folder, "  odd:\n    like: keeper\n    head_wall: {bed: {leg_inset: 300}}\n")
    assert place(folder.fault(KEEPER)) == (
        KEEPER_FILE,
        line + 2,
        "sets.odd.head_wall.bed.leg_inset",
    )


def test_what_was_taken_over_is_told_in_the_other_set(folder: JobFolder) -> None:
    added(folder, "  odd: {like: keeper, head_wall: {bed: {foot_overhang: 100}}}\n")
    text = folder.path(KEEPER_FILE).read_text(encoding="utf-8").splitlines()
    taken = next(n for n, line in enumerate(text, start=1) if "leg_inset: 120" in line)
    told = [f for f in folder.faults(KEEPER) if f.key_path.endswith("leg_inset")]
    assert [(f.line, f.key_path) for f in told] == [(taken, "sets.odd.head_wall.bed.leg_inset")]


def test_a_misspelt_like_is_told_with_the_nearest(folder: JobFolder) -> None:
    added(folder, "  odd: {liek: keeper, base_height: 340, butt_gap: 2}\n")
    (fault,) = [f for f in folder.faults(KEEPER) if f.key_path == "sets.odd.liek"]
    assert "(nearest: like)" in fault.allowed


def test_a_unit_of_a_family_that_there_is_not(folder: JobFolder) -> None:
    line = folder.replace(KEEPER_FILE, "family: platform-bed", "family: water-bed")
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.keeper.head_wall.bed.family")
    assert fault.allowed == "one of bench, bedside-table, platform-bed, desk"


def test_what_a_unit_is_built_from_can_differ(folder: JobFolder) -> None:
    folder.replace(
        KEEPER_FILE,
        "        deck_width: 450",
        "        construction: {deck: ash-both-faces}\n        deck_width: 450",
    )
    added(folder, "  other: {like: keeper, construction: {cleat: spruce-clet}}\n")
    fault = folder.fault(KEEPER)
    assert fault.key_path == "sets.other.construction.cleat"
    assert "nearest: spruce-cleat" in fault.allowed
    folder.replace(KEEPER_FILE, "spruce-clet}", "spruce-cleat}")
    bench = next(sets_of(folder)["keeper"].units())
    ((role, deck),) = bench.built_from
    assert (role, deck.key) == ("deck", "ash-both-faces")


def test_a_unit_has_no_angle_of_its_own(folder: JobFolder) -> None:
    line = folder.replace(
        KEEPER_FILE,
        "        deck_width: 450",
        "        construction: {angle: l50x50x6}\n        deck_width: 450",
    )
    fault = folder.fault(KEEPER)
    key_path = "sets.keeper.head_wall.bench.construction.angle"
    assert place(fault) == (KEEPER_FILE, line, key_path)
    assert fault.allowed.startswith("angle for the whole set")


def test_what_is_not_there_cannot_be_taken_away(folder: JobFolder) -> None:
    line = added(folder, "  odd: {like: keeper, head_wall: {bde: null}}\n")
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.odd.head_wall.bde")
    assert "bed" in fault.allowed


def test_a_unit_that_stands_free_is_of_a_family_that_can(folder: JobFolder) -> None:
    line = added(folder, "  odd: {like: keeper, free: {seat: {family: bench}}}\n")
    fault = folder.fault(KEEPER)
    assert place(fault) == (KEEPER_FILE, line, "sets.odd.free.seat.family")
    assert fault.allowed == "one of platform-bed"


def test_a_name_that_no_unit_can_have_is_quoted_in_its_line(folder: JobFolder) -> None:
    line = folder.replace(KEEPER_FILE, "      bed:\n", "      Bed/1:\n")
    told = [f for f in folder.faults(KEEPER) if "Bed/1" in f.found]
    assert [(f.line, f.key_path) for f in told] == [(line, "sets.keeper.head_wall.Bed/1")]
