"""The demo jobs are read as they are meant, and their sizes agree with what is published."""

import math
from collections import Counter

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from parametric.hand import Hand
from parametric.hardware import Screw
from parametric.lengths import Units
from parametric.materials import GoodFaces, Grain
from tests.casewright.intake_folder import CENTRE, CONFIGS, KEEPER, SHIP

MM = 25.4


def demo(name: str) -> Job:
    return read_job(CONFIGS / f"{name}.yaml")


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
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
    widest = {sizes.name: sizes.bed.deck_width_mm for sizes in centre.sets if sizes.bed}
    assert all(widest["queen"] > sheet.width_mm for sheet in centre.construction.deck.stock)
    (sheet,) = ship.construction.deck.stock
    assert (sheet.length_mm, sheet.width_mm) == (2800, 2070)
    for sizes in ship.sets:
        assert sizes.bed is not None
        assert sizes.bed.deck_width_mm < sheet.width_mm - 2 * ship.machine.sheet_trim_mm


@pytest.mark.parametrize(("name", "cushion_mm"), [(CENTRE, 4 * MM), (SHIP, 100.0)])
def test_seats_with_their_cushions_stand_as_high_as_published(name: str, cushion_mm: float) -> None:
    # 2010 ADA Standards 903.5: 17 to 19 in (430 to 485 mm) above the floor.
    job = demo(name)
    for sizes in job.sets:
        seat_mm = sizes.base_height_mm + job.construction.deck.thickness_mm + cushion_mm
        assert 17 * MM <= seat_mm <= 19 * MM


def test_the_benches_of_the_centre_are_as_large_as_published() -> None:
    # 2010 ADA Standards 903.3: at least 42 in long, 20 to 24 in deep.
    for sizes in demo(CENTRE).sets:
        assert sizes.bench is not None
        assert round(sizes.bench.deck_depth_mm / MM, 6) >= 42
        assert 20 <= round(sizes.bench.deck_width_mm / MM, 6) <= 24


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


# NDS 2018 appendix L, table L3: gauge -> (major, root) in inches.
L3 = {8: (0.164, 0.131), 10: (0.190, 0.152)}

# ASME B18.6.1, flat heads, largest diameter with a sharp edge, as fastener tables give it; and the
# depth of a cone of 82 degrees from that head to the shank.
HEADS = {8: (0.332, 0.0966), 10: (0.385, 0.1122)}


def gauge(screw: Screw) -> int:
    return round((screw.major_diameter_mm / MM - 0.060) / 0.013)


def test_inch_screws_have_published_dimensions() -> None:
    for screw in screws(demo(CENTRE)):
        major, root = L3[gauge(screw)]
        head, cone = HEADS[gauge(screw)]
        assert screw.major_diameter_mm / MM == pytest.approx(major, abs=5e-5)
        assert screw.root_diameter_mm / MM == pytest.approx(root, abs=5e-5)
        assert screw.head_diameter_mm / MM == pytest.approx(head, abs=5e-5)
        assert screw.countersink_depth_mm / MM == pytest.approx(cone, abs=5e-5)
        # ASME B18.6.1 (from memory): diameter = .060 + .013 x gauge.
        assert screw.major_diameter_mm / MM == pytest.approx(0.060 + 0.013 * gauge(screw), abs=5e-5)
        assert f"No. {gauge(screw)} " in screw.description


def test_inch_pilots_are_the_largest_drill_within_the_published_rule() -> None:
    # NDS 2018 12.1.5.2: 90 % of the root diameter, withdrawal, G above .60. Drills in 64ths of an
    # inch: ASME B94.11M.
    for screw in screws(demo(CENTRE)):
        drill = math.floor(0.90 * L3[gauge(screw)][1] * 64) / 64
        assert screw.pilot_diameter_mm / MM == pytest.approx(drill)


def test_inch_clearance_holes_are_the_next_drill_above_the_screw() -> None:
    for screw in screws(demo(CENTRE)):
        drill = math.ceil(L3[gauge(screw)][0] * 64) / 64
        assert screw.clearance_diameter_mm / MM == pytest.approx(drill)


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


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
def test_screws_from_below_do_not_come_through_the_deck(name: str) -> None:
    made_of = demo(name).construction
    leg, angle = made_of.leg, made_of.angle
    deck_mm = made_of.deck.thickness_mm
    assert leg.screw.length_mm - leg.plate_thickness_mm < deck_mm
    assert made_of.screw_angle.length_mm - angle.thickness_mm < deck_mm


def test_the_inch_angle_weighs_what_is_published() -> None:
    # AISC Shapes Database v16.0: L2x2x1/4, 3.19 lb/ft. 1 lb/ft = 1.48816 kg/m.
    angle = demo(CENTRE).construction.angle
    assert angle.mass_kg_m == pytest.approx(3.19 * 1.48816, rel=0.005)


def test_a_nominal_sheet_of_each_inch_board_weighs_what_the_trade_says() -> None:
    # Common practice, no source: 4 x 8 ft x 3/4 in at 48, 45 and 34 lb/ft3: 96, 90 and 68 lb.
    made_of = demo(CENTRE).construction
    for board, pounds in ((made_of.deck, 96.0), (made_of.rail, 90.0), (made_of.bearer, 68.0)):
        volume_m3 = 48 * 96 * 0.75 * MM**3 * 1e-9
        assert volume_m3 * board.density_kg_m3 / 0.45359237 == pytest.approx(pounds, rel=0.002)


def test_the_raw_board_is_as_dense_as_its_grade() -> None:
    # ANSI A208.1, grade M: 40 to 50 lb/ft3 (640 to 800 kg/m3).
    assert 640 <= demo(CENTRE).construction.rail.density_kg_m3 <= 800


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
def test_legs_are_as_high_as_the_base_boxes(name: str) -> None:
    # Common practice, no source: all base tops and free legs of one set share a height.
    job = demo(name)
    assert {sizes.base_height_mm for sizes in job.sets} == {job.construction.leg.height_mm}
