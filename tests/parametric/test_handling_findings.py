"""On the machine, on the way in, in the cleats and on its feet: each check passes, warns and fails
as one size is changed.
"""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from parametric.findings.access import Access
from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.findings.machine_bed import machine_findings
from parametric.findings.way_in import pieces_of, way_in_findings
from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction
from parametric.joints.assembly import Assembly
from parametric.joints.machining import machining
from parametric.primitives.decked_box import DeckHold
from parametric.sets.room_set import build_set
from parametric.steps.step_findings import step_findings
from parametric.stock.construction import Construction
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.row import Row

OK, WARN, FAIL = Severity.OK, Severity.WARN, Severity.FAIL


def assembly(sizes: Row | None = None, made: Construction = CONSTRUCTION) -> Assembly:
    return build_set(sizes or set_sizes(), Hand.RIGHT, made, ROUTING, TRIM_MM).assembly


def worst(found: Iterable[Finding], code: str) -> Severity:
    order = (OK, WARN, FAIL)
    return max((f.severity for f in found if f.code == code), key=order.index)


@pytest.mark.parametrize(("width_mm", "expected"), [(800.0, OK), (400.0, WARN), (350.0, FAIL)])
def test_a_carcass_through_a_narrow_door(width_mm: float, expected: Severity) -> None:
    """The table is a box of 16 x 16 x 10 3/4 in and goes through on its side: 273 and hands."""
    narrow = Access(door_mm=(width_mm * 273 / 380, 2000.0))
    assert worst(way_in_findings("set", assembly(), narrow), "way-door") is expected


@pytest.mark.parametrize(("height_mm", "expected"), [(2400.0, OK), (1240.0, WARN), (1150.0, FAIL)])
def test_a_deck_in_a_low_lift(height_mm: float, expected: Severity) -> None:
    """The longest piece is a side panel of the bed's base with its cleats: it leans less upright
    than a board alone.
    """
    access = Access(lift_mm=(1100.0, 1000.0, height_mm))
    assert worst(way_in_findings("set", assembly(), access), "way-lift") is expected


@pytest.mark.parametrize(("width_mm", "expected"), [(1200.0, OK), (590.0, WARN), (500.0, FAIL)])
def test_a_deck_round_a_corner(width_mm: float, expected: Severity) -> None:
    access = Access(corner_mm=(width_mm, width_mm))
    assert worst(way_in_findings("set", assembly(), access), "way-corner") is expected


def test_what_the_job_does_not_give_is_not_checked() -> None:
    assert list(way_in_findings("set", assembly(), Access())) == []


def test_a_glued_carcass_comes_whole_and_a_screwed_box_in_pieces() -> None:
    pieces = dict(pieces_of(assembly()))
    table = {name for name in pieces if name.startswith("bedside table")}
    assert table == {"bedside table"}
    sizes = set_sizes().table
    assert sizes is not None
    outside = sorted((sizes.width_mm, sizes.depth_mm, sizes.height_mm), reverse=True)
    assert pieces["bedside table"] == pytest.approx(outside)
    assert {"bed/head panel", "bed/deck 1", "bed/bearer 1", "tie/steel angle"} <= pieces.keys()


@pytest.mark.parametrize(
    ("bed", "expected"),
    # The largest sheet is 121 x 49 in; the largest board an 80 in deck in two pieces.
    [
        ((3100.0, 1300.0), (OK, OK)),
        ((2500.0, 1300.0), (OK, WARN)),
        ((1200.0, 900.0), (FAIL, WARN)),
    ],
)
def test_sheets_and_boards_on_the_router(
    bed: tuple[float, float], expected: tuple[Severity, Severity]
) -> None:
    found = list(machine_findings("set", assembly(), ROUTING, bed))
    assert (worst(found, "machine-bed"), worst(found, "machine-sheet")) == expected


def test_the_router_table_by_hand() -> None:
    """On a table of 130 x 60 in: the wall panel, 60 x 30 with 1 mm of band and 1.5 milled off, cut
    1 mm larger, has 70 in and 30 in less 1 mm to spare, or lying across, 100 and 0; a sheet of
    121 x 49 in 9 and 11.
    """
    milled = replace(ROUTING, pre_mill_mm=1.5)
    found = {
        (f.code, f.where.rsplit(": ")[-1]): f.measured
        for f in machine_findings("set", assembly(), milled, (130 * INCH, 60 * INCH))
    }
    assert found["machine-bed", "wall panel/panel"] == pytest.approx(30 * INCH - 1.0)
    assert found["machine-sheet", "raw board"] == pytest.approx(9 * INCH)


def test_the_angle_comes_in_too_and_goes_round_a_corner_on_its_end_under_a_high_door() -> None:
    """45 5/8 in long: it is carried through, and stood up where the door is as high."""
    pieces = dict(pieces_of(assembly()))
    assert pieces["tie/steel angle"] == pytest.approx((45.625 * INCH, 2 * INCH, 2 * INCH))
    tight = (400.0, 400.0)
    by_door = {
        height_mm: next(
            f.measured
            for f in way_in_findings(
                "set", assembly(), Access(door_mm=(1000.0, height_mm), corner_mm=tight)
            )
            if f.code == "way-corner" and f.where.endswith("steel angle")
        )
        for height_mm in (1100.0, 2000.0)
    }
    # Two corridors of one width w: a piece as thick as t passes with 2 w root 2 - 2 t.
    longest = 2 * 400.0 * 2**0.5 - 2 * 2 * INCH
    assert by_door[1100.0] == pytest.approx(longest - 45.625 * INCH, abs=0.1)
    assert by_door[2000.0] == pytest.approx(longest - 2 * INCH, abs=0.1)


def test_cleat_screws_by_hand() -> None:
    """An upright cleat of 11 3/4 in: screws 45 mm from its ends, 208.45 apart, of .164; those
    between them a third of that apart, of .138, in the middle of 3/4 in.
    """
    found = {
        f.code: f.measured
        for f in cleat_findings(CONSTRUCTION)
        if f.where.endswith("bench/upright cleat 1")
    }
    assert found["cleat-end"] == pytest.approx(45 / (0.164 * INCH))
    assert found["cleat-row"] == pytest.approx(208.45 / 3 / (0.138 * INCH))
    assert found["cleat-edge"] == pytest.approx(0.375 / 0.138)


def cleat_findings(made: Construction) -> tuple[Finding, ...]:
    room_set = build_set(set_sizes(), Hand.RIGHT, made, ROUTING, TRIM_MM)
    return check_set(room_set, machining(room_set.assembly, ROUTING), ROUTING, TRIM_MM)


def wide_screw(major_in: float) -> Construction:
    screw = replace(CONSTRUCTION.screw_cleat_wide, major_diameter_mm=major_in * INCH)
    return replace(CONSTRUCTION, screw_cleat_wide=screw)


@pytest.mark.parametrize(("major_in", "expected"), [(0.138, OK), (0.164, WARN), (0.26, FAIL)])
def test_a_screw_too_thick_for_its_cleat(major_in: float, expected: Severity) -> None:
    """In the middle of 3/4 in: .375 / .138 = 2.7 diameters, .375 / .164 = 2.3, .375 / .26 = 1.4."""
    found = cleat_findings(wide_screw(major_in))
    assert worst(found, "cleat-edge") is expected
    measured = min(f.measured for f in found if f.code == "cleat-edge")
    assert measured == pytest.approx(0.375 / major_in, rel=1e-6)


@pytest.mark.parametrize("code", ["cleat-end", "cleat-row"])
@pytest.mark.parametrize(("major_in", "expected"), [(0.138, OK), (0.7, WARN), (1.1, FAIL)])
def test_a_screw_too_thick_for_the_end_and_the_row(
    code: str, major_in: float, expected: Severity
) -> None:
    assert worst(cleat_findings(wide_screw(major_in)), code) is expected


def balance(from_wall_in: float) -> Finding:
    sizes = set_sizes()
    assert sizes.angle is not None
    moved = replace(sizes, angle=replace(sizes.angle, from_wall_mm=from_wall_in * INCH))
    built = assembly(moved)
    found = step_findings("set", built, machining(built, ROUTING))
    return next(f for f in found if f.code == "unit-balance" and "bedside table" in f.where)


@pytest.mark.parametrize(("from_wall_in", "expected"), [(5.75, OK), (8.0, WARN)])
def test_a_table_that_tips_off_the_angle_until_it_is_fixed(
    from_wall_in: float, expected: Severity
) -> None:
    finding = balance(from_wall_in)
    assert finding.severity is expected
    assert ("hold it" in finding.advice) is (expected is WARN)


def test_what_two_people_lift_at_a_step() -> None:
    """NIOSH 94-110: 23 kg x 25 / 30 x (1 - .003 x 35) x (.82 + 4.5 / 40) x .90 = 14.40 kg each."""
    built = assembly()
    found = step_findings("set", built, machining(built, ROUTING))
    lifts = {f.where.rsplit(": ")[-1]: f for f in found if f.code == "unit-lift"}
    assert lifts["bench"].severity is OK
    assert lifts["bench"].limit == pytest.approx(2 * 14.397, abs=0.01)
    # The table comes glued: 877 in3 of boards at 720 kg/m3 (see the strength of the angle).
    assert lifts["bedside table"].measured == pytest.approx(10.345, abs=0.005)


def test_the_floor_is_in_the_way_of_a_driver_from_below() -> None:
    """A base 7 in high: heads under 1/4 in of steel are 6 3/4 in up."""
    built = assembly(replace(set_sizes(), base_height_mm=7 * INCH))
    found = step_findings("set", built, machining(built, ROUTING))
    (tie,) = (f for f in found if f.code == "driver-access" and f.where.endswith("steel angle"))
    assert (tie.severity, tie.measured) == (WARN, pytest.approx(6.75 * INCH))


def test_a_box_that_nothing_holds_and_that_tips_is_a_failure() -> None:
    """The bed with decks so heavy, and so far out over one side, that it falls over."""
    built = assembly(set_sizes(deck_held=DeckHold.SCREWED))
    out = replace(
        built,
        boards=tuple(
            replace(board, box=board.box.grown(Direction.X_MINUS, 4000.0))
            if board.name.startswith("bed/deck")
            else board
            for board in built.boards
        ),
    )
    found = step_findings("set", out, machining(built, ROUTING))
    bed = next(f for f in found if f.code == "unit-balance" and f.where.endswith("bed"))
    assert bed.severity is FAIL
    assert bed.measured < 0
