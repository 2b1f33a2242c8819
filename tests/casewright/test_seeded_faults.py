"""Faults of rooms and goods as sites have them give exactly the right findings, and the room's page
says what to do. It is the demo of one room, changed in one place.
"""

from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.stages.sets.check_stage import check
from casewright.stages.sets.room_stage import fits_of
from casewright.stages.sets.used_sets import placed_sets
from casewright.stages.site.kit_stage import kits_of
from casewright.stages.site.site_content import room_page
from export.site.content import RoomPage
from parametric.findings.finding import Severity
from parametric.geometry.space import Axis
from parametric.shapes.board import Board
from parametric.steps.order import steps_of
from parametric.stock.amounts import in_words
from parametric.stock.lengths import show_length
from tests.casewright.test_cli import copied

ROOMS, JOB = "keepers-room-rooms.csv", "keepers-room.yaml"
HEAD = (
    "room,set,hand,opening_at_floor,opening_at_seat,floor_width,floor_depth,wall_base_height,"
    "wall_base_thickness"
)
ROW = "keeper,keeper,left,1840,1838,1840,3600,80,15"
WARN, FAIL = Severity.WARN, Severity.FAIL


def amiss(job: Job) -> set[tuple[str, Severity]]:
    return {(f.code, f.severity) for f in check(job).findings if f.severity is not Severity.OK}


def page_of(job: Job) -> RoomPage:
    sets = placed_sets(job)
    ((_, fit),) = fits_of(job, sets)
    (room_set,), (room,), (kit,) = sets.values(), job.rooms, kits_of(job)
    steps = steps_of(room_set.assembly, lambda mm: show_length(mm, job.units), room_set.outwards)
    return room_page("job", room, fit, steps, kit.kit, "", "r1", job.units, job.fitting)


def changed(folder: Path, *changes: tuple[str, str, str]) -> Job:
    folder.mkdir(exist_ok=True)
    job = copied(folder)
    for file, old, new in changes:
        text = (folder / file).read_text()
        assert old in text
        (folder / file).write_text(text.replace(old, new, 1))
    return read_job(job)


def told(page: RoomPage, what: str) -> list[tuple[str, ...]]:
    return [row[1:] for row in page.facts if row[0] == what]


def test_a_corner_that_is_6_mm_out(tmp_path: Path) -> None:
    """The deck of the bench is 600 deep: 10 in 1000 are 6 mm at its front. Where the side wall
    leans in, all stands so much further from the corner, and the wedge in the corner is scribed.
    """
    row = (ROOMS, f"{HEAD}\n{ROW}", f"{HEAD},corner_out_of_square\n{ROW},-10")
    job = changed(tmp_path, row)
    (bench,) = (u for run in job.sets[0].runs for u in run.units if u.family == "bench")
    assert bench.sizes.deck_depth_mm == 600.0
    assert amiss(job) == set()
    page, plain = page_of(job), page_of(changed(tmp_path / "plain"))
    assert told(page, "further from the corner") == [("all along the head wall", "6 mm")]
    assert told(page, "scribe or filler") == [("at the side wall, in the corner", "6 mm")]
    (beyond,) = (row for row in told(page, "beyond the set") if row[0].startswith("at the seat "))
    (square,) = (row for row in told(plain, "beyond the set") if row[0].startswith("at the seat "))
    assert float(square[1].split()[0]) - float(beyond[1].split()[0]) == pytest.approx(6.0)
    for _, _, here, nominal in page.marks:
        for one, other in zip(here.split(", "), nominal.split(", "), strict=True):
            assert float(one.split()[0]) - float(other.split()[0]) == pytest.approx(6.0)
    assert {here for _, _, here, _ in plain.marks} == {"not measured"}


def test_a_steel_angle_at_its_upper_tolerance(tmp_path: Path) -> None:
    """1 mm over by EN 10056-2 (from memory): without packing below it, decks lie on its leg."""
    packed = "  angle_packing: 1.5"
    assert amiss(changed(tmp_path / "a", (JOB, packed, "  angle_packing: 0"))) == {
        ("stack-angle-height", FAIL)
    }
    assert amiss(changed(tmp_path / "b", (JOB, packed, "  angle_packing: 1.1"))) == {
        ("stack-angle-height", WARN)
    }


def test_a_bed_that_is_too_heavy_for_two(tmp_path: Path) -> None:
    """Set down with its deck screwed on: the step says what is tilted, whole and by each."""
    longer = (JOB, "deck_length: 1920", "deck_length: 2800\n        deck_held: screwed")
    job = changed(tmp_path, longer)
    assert amiss(job) == {("unit-lift", WARN)}
    (room_set,) = placed_sets(job).values()
    steps = steps_of(room_set.assembly, str, room_set.outwards)
    cautions = [in_words(each, job.units) for step in steps for each in step.cautions]
    (lifted,) = (each for each in cautions if "turned over on one edge" in each)
    assert "kg in all" in lifted and "kg each" in lifted


def test_a_wall_base_that_is_1_in_thick(tmp_path: Path) -> None:
    """The bed's box stands 15 mm off the wall: it clears 15, and not 25.4. By hand: the 900 of its
    deck less both overhangs are cut away as well.
    """
    job = changed(tmp_path, (ROOMS, ROW, ROW.replace(",15", ",25.4")))
    assert amiss(job) == set()
    ((_, cut),) = told(page_of(job), "cut the wall base away")
    ((_, usual),) = told(page_of(changed(tmp_path / "plain")), "cut the wall base away")
    (room_set,) = placed_sets(job).values()
    box = [b.box for b in room_set.assembly.boards if b.unit == "bed" and b.box.low.z < 1.0]
    wide_mm = max(b.high.x for b in box) - min(b.low.x for b in box)
    assert float(cut.split()[0]) - float(usual.split()[0]) == pytest.approx(wide_mm, abs=26.0)


def test_a_room_too_short_to_turn_the_deck_over_in(tmp_path: Path) -> None:
    """The bed's deck is 820 x 1920, so that it takes 1920 x 1640 to turn it over; the room is 1840
    wide, and the bed's box ends 1640 from the head wall: 1640 + 1920 = 3560 is just enough.
    """
    (deck,) = (b for b in placed_box(changed(tmp_path / "a")) if b.name == "bed/deck")
    assert sorted((deck.box.size(Axis.X), deck.box.size(Axis.Y))) == [820.0, 1920.0]
    enough = changed(tmp_path / "b", (ROOMS, ",3600,", ",3560,"))
    assert amiss(enough) == set()
    room = ("bed deck: there is room", "1920 x 1640 mm")
    assert told(page_of(enough), "floor to turn over") == [room]
    short = changed(tmp_path / "c", (ROOMS, ",3600,", ",3559,"))
    assert amiss(short) == {("turn-room", WARN)}
    none = ("bed deck: no room: turn it over elsewhere, or earlier", "1920 x 1640 mm")
    assert told(page_of(short), "floor to turn over") == [none]
    unmeasured = changed(tmp_path / "d", (ROOMS, ",3600,", ",,"))
    assert amiss(unmeasured) == set()
    assert "turn-room" not in {finding.code for finding in check(unmeasured).findings}
    assert not told(page_of(unmeasured), "floor to turn over")
    assert "clear floor, to turn things over on" in page_of(unmeasured).unknown


def placed_box(job: Job) -> tuple[Board, ...]:
    (room_set,) = placed_sets(job).values()
    return room_set.assembly.boards


def test_no_blocking(tmp_path: Path) -> None:
    """Each of the wall screws is told with its place."""
    job = changed(
        tmp_path, (ROOMS, f"{HEAD}\n{ROW}", f"{HEAD},blocking,side_blocking\n{ROW},none,none")
    )
    assert amiss(job) == {("wall-fixing-missed", WARN)}
    (room_set,) = placed_sets(job).values()
    screws = sum(len(joints) for joints in room_set.assembly.wall_fixings().values())
    page = page_of(job)
    assert page.without_wood, "the page says to stop"
    missing = told(page, "no wood behind the screw")
    assert len(missing) == screws
    assert {row[1] for row in missing} == {"no blocking at this height"}


def test_no_measurements(tmp_path: Path) -> None:
    job = changed(tmp_path, (ROOMS, f"{HEAD}\n{ROW}", "room,set,hand\nkeeper,keeper,left"))
    assert amiss(job) == {("room-measured", WARN)}
    page = page_of(job)
    assert not page.measured
    assert not page.refusal
    assert "opening at the seat" in page.unknown
