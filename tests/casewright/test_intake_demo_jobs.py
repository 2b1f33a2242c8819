"""The demo jobs are read as they are meant, and their parts go together."""

import math
from collections import Counter

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from parametric.geometry.hand import Hand
from parametric.stock.hardware import Screw
from parametric.stock.lengths import Units
from parametric.stock.materials import GoodFaces, Grain
from tests.casewright.intake_folder import CENTRE, CONFIGS, KEEPER, SHIP, STATION
from tests.row import row_of

MM = 25.4


def demo(name: str) -> Job:
    return read_job(CONFIGS / f"{name}.yaml")


def screws(job: Job) -> tuple[Screw, ...]:
    made_of = job.construction
    return (
        made_of.screw_cleat_thin,
        made_of.screw_cleat_wide,
        made_of.screw_angle,
        made_of.screw_wall,
        made_of.screw_panel,
        made_of.leg.screw,
        made_of.wall_plate.screw,
    )


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER, STATION])
def test_a_demo_job_uses_every_set_that_it_defines(name: str) -> None:
    job = demo(name)
    assert {room.set_name for room in job.rooms} == {sizes.name for sizes in job.sets}
    assert len({room.number for room in job.rooms}) == len(job.rooms)


def test_the_centre_has_48_rooms_in_three_sizes_and_both_hands() -> None:
    job = demo(CENTRE)
    assert (job.units, len(job.rooms), len(job.sets)) == (Units.INCH, 48, 3)
    assert Counter(room.hand for room in job.rooms) == {Hand.RIGHT: 26, Hand.LEFT: 22}
    measured = [room for room in job.rooms if room.measured.opening_at_seat_mm is not None]
    assert 0 < len(measured) < len(job.rooms)


def test_the_ship_has_12_rooms_and_the_keeper_one() -> None:
    assert (demo(SHIP).units, len(demo(SHIP).rooms)) == (Units.MM, 12)
    assert len(demo(KEEPER).rooms) == len(demo(KEEPER).sets) == 1


def test_the_centre_has_the_materials_that_make_nesting_worth_while() -> None:
    construction = demo(CENTRE).construction
    assert construction.deck.good_faces is GoodFaces.ONE
    assert construction.deck.grain is Grain.LENGTHWISE
    assert construction.rail.good_faces is GoodFaces.NONE
    assert construction.rail.grain is Grain.NONE
    assert construction.carcass.good_faces is GoodFaces.BOTH
    assert len(construction.deck.stock) == 2


def test_the_queen_deck_is_larger_than_every_sheet_and_the_ships_decks_are_not() -> None:
    centre, ship = demo(CENTRE), demo(SHIP)
    widest = {sizes.name: bed.deck_width_mm for sizes in centre.sets if (bed := row_of(sizes).bed)}
    assert all(widest["queen"] > sheet.width_mm for sheet in centre.construction.deck.stock)
    (sheet,) = ship.construction.deck.stock
    assert (sheet.length_mm, sheet.width_mm) == (2800, 2070)
    for sizes in ship.sets:
        bed = row_of(sizes).bed
        assert bed is not None
        assert bed.deck_width_mm < sheet.width_mm - 2 * ship.machine.sheet_trim_mm


@pytest.mark.parametrize(("name", "left_mm"), [(CENTRE, MM / 2), (SHIP, 10.0)])
def test_cleat_screws_leave_what_the_trade_leaves_and_do_not_show(
    name: str, left_mm: float
) -> None:
    # Common practice, no source: a No. 8 x 1 1/4 in screw through a 3/4 in cleat leaves 1/2 in.
    made_of = demo(name).construction
    thin = made_of.screw_cleat_thin.length_mm - made_of.cleat.thickness_mm
    wide = made_of.screw_cleat_wide.length_mm - made_of.cleat.width_mm
    assert thin == pytest.approx(left_mm)
    assert wide == pytest.approx(left_mm)
    boards = (made_of.deck, made_of.base_panel, made_of.rail, made_of.bearer)
    assert max(thin, wide) < min(board.thickness_mm for board in boards)


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER, STATION])
def test_screws_from_below_hold_and_stay_under_the_deck(name: str) -> None:
    # Common practice, no source: 9 mm of thread, and 3 mm of board above the tip.
    made_of = demo(name).construction
    for bite_mm in (
        made_of.leg.screw.length_mm - made_of.leg.plate_thickness_mm,
        made_of.screw_angle.length_mm - made_of.angle.thickness_mm,
    ):
        assert 9.0 <= bite_mm <= made_of.deck.thickness_mm - 3.0


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER, STATION])
def test_plates_are_deep_enough_for_flush_heads(name: str) -> None:
    # By hand: half of what the head is wider, over the tangent of half the cone's angle.
    made_of = demo(name).construction
    for screw, plate_mm in (
        (made_of.leg.screw, made_of.leg.plate_thickness_mm),
        (made_of.wall_plate.screw, made_of.wall_plate.thickness_mm),
    ):
        half = math.radians(screw.countersink_angle_deg) / 2
        cone_mm = (screw.head_diameter_mm - screw.major_diameter_mm) / 2 / math.tan(half)
        assert plate_mm > cone_mm + 1.0  # common practice, no source


def test_screws_without_an_angle_have_the_cone_of_inch_screws() -> None:
    # ASME B18.6.1, from memory: 82 degrees. Metric countersunk heads, from memory: 90.
    assert {screw.countersink_angle_deg for screw in screws(demo(CENTRE))} == {82.0}
    assert {screw.countersink_angle_deg for screw in screws(demo(SHIP))} == {90.0}


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER, STATION])
def test_the_demo_routers_cut_edges_that_are_banded_as_they_are(name: str) -> None:
    assert demo(name).routing.pre_mill_mm == 0.0


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER, STATION])
def test_legs_are_as_high_as_the_base_boxes(name: str) -> None:
    # Common practice, no source: all base tops and free legs of one set share a height.
    job = demo(name)
    assert {sizes.base_height_mm for sizes in job.sets} == {job.construction.leg.height_mm}
