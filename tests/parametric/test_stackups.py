"""Clearances against tolerances: each passes, warns and fails as one size is changed, alone.

The example's tolerances are set for easy sums: boards 0.05, band 0.1, angle leg 1.0, wall plate
0.3; the router's and the installer's are the defaults, 0.2 and 0.1 of cuts and 1.0 of marks.
"""

from dataclasses import replace
from itertools import product

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.findings.stackups import stackup_findings
from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction
from parametric.joints.joints import Passing
from parametric.joints.machining import Machining, machining
from parametric.primitives.decked_box import DeckHold
from parametric.rooms.fit import fit_room, run_mm
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.run_findings import run_findings
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.features import Cutout
from parametric.stock.construction import Construction
from parametric.stock.lengths import Units
from parametric.stock.tolerances import SettingOut, Tolerance, usual
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.row import Row
from tests.told import advised, said

OK, WARN, FAIL = Severity.OK, Severity.WARN, Severity.FAIL
STACKS = {
    "stack-angle-slot",
    "stack-angle-height",
    "stack-groove",
    "stack-panel-below",
    "stack-housing",
}


def example(
    sizes: Row | None = None, made: Construction = CONSTRUCTION, hand: Hand = Hand.RIGHT
) -> RoomSet:
    return build_set(sizes or set_sizes(), hand, made, ROUTING, TRIM_MM)


def stacks(
    room_set: RoomSet, worked: Machining | None = None, setting_out: SettingOut | None = None
) -> dict[str, Finding]:
    """The findings about tolerances by code; each set has one of each."""
    worked = worked or machining(room_set.assembly, ROUTING)
    found = check_set(room_set, worked, ROUTING, TRIM_MM, setting_out or SettingOut())
    told = [finding for finding in found if finding.code.startswith("stack-")]
    assert len(told) == len({finding.code for finding in told})
    return {finding.code: finding for finding in told}


def amiss(found: dict[str, Finding]) -> dict[str, Severity]:
    return {code: each.severity for code, each in found.items() if each.severity is not OK}


def test_the_example_has_one_of_each_and_all_are_well() -> None:
    for hand in Hand:
        found = stacks(example(hand=hand))
        assert found.keys() == STACKS
        assert amiss(found) == {}


@pytest.mark.parametrize(("clearance_mm", "severity"), [(1.3, OK), (1.0, WARN), (0.7, FAIL)])
def test_notches_hardly_wider_than_the_angle(clearance_mm: float, severity: Severity) -> None:
    """By hand: leg 1.0, boxes 1.0, two places 0.2, half of two widths 0.1 make 2.5 at worst, and
    the root of 1 + 1 + 2 x .04 + 2 x .0025 is 1.444.
    """
    made = replace(CONSTRUCTION, angle_clearance_mm=clearance_mm)
    found = stacks(example(made=made))["stack-angle-slot"]
    assert found.severity is severity
    assert found.measured == pytest.approx(2 * clearance_mm - 2.085**0.5)
    assert f" {2 * clearance_mm:.3g} mm; tolerances take" in said(found)
    assert "2.5 mm at worst, 1.4 mm likely (root sum square)" in said(found)
    assert ("leg of L2x2x1/4 (1 mm)" in advised(found)) == (severity is not OK)


@pytest.mark.parametrize(("packing_mm", "severity"), [(1.3, OK), (1.1, WARN), (1.0, FAIL)])
def test_room_to_pack_under_an_angle_whose_leg_is_thick(
    packing_mm: float, severity: Severity
) -> None:
    """By hand: leg 1.0 and the notch 0.2 less deep are 1.2 at worst, and the root of 1.04 is 1.02:
    with less room the leg stands above the boxes, and what lies on it rocks.
    """
    made = replace(CONSTRUCTION, angle_packing_mm=packing_mm)
    found = stacks(example(made=made))["stack-angle-height"]
    assert found.severity is severity
    assert found.measured == pytest.approx(packing_mm - 1.04**0.5)
    assert ("increase angle_packing" in advised(found)) == (severity is not OK)


@pytest.mark.parametrize("kept", [0, 1])
def test_an_angle_in_one_notch_alone(kept: int) -> None:
    """By hand: leg 1.0 and the whole of the width 0.1, whose place is the angle's: 1.1 at worst,
    and the root of 1 + .01. Nothing is set against anything else.
    """
    room_set = example(made=replace(CONSTRUCTION, angle_clearance_mm=1.0))
    assembly = room_set.assembly
    passing = [joint for joint in assembly.joints if isinstance(joint, Passing)]
    assert len(passing) == 2
    one = replace(
        assembly,
        joints=tuple(joint for joint in assembly.joints if joint is not passing[1 - kept]),
    )
    (found,) = (
        finding
        for finding in stackup_findings("set", one, machining(one, ROUTING), ROUTING, SettingOut())
        if finding.code == "stack-angle-slot"
    )
    assert found.measured == pytest.approx(2 * 1.0 - 1.01**0.5)
    assert "1.1 mm at worst" in said(found)


def test_the_worst_case_of_two_notches_is_the_worst_of_all_corners() -> None:
    """Every deviation at either limit, 64 times: the least room that two notches have in common."""
    wide, leg = 53.8, 50.8

    def side_mm(width: float, off: float, way: int) -> float:
        return off + way * width / 2

    least = min(
        min(side_mm(wide + w1, p1, 1), side_mm(wide + w2, p2 + boxes, 1))
        - max(side_mm(wide + w1, p1, -1), side_mm(wide + w2, p2 + boxes, -1))
        - (leg + steel)
        for w1, w2, p1, p2, boxes, steel in product(
            (-0.1, 0.1), (-0.1, 0.1), (-0.2, 0.2), (-0.2, 0.2), (-1.0, 1.0), (-1.0, 1.0)
        )
    )
    made = replace(CONSTRUCTION, angle_clearance_mm=(wide - leg) / 2)
    message = said(stacks(example(made=made))["stack-angle-slot"])
    assert f"{wide - leg - least:.3g} mm at worst" in message


@pytest.mark.parametrize(("gap_mm", "severity"), [(0.9, OK), (0.7, WARN), (0.5, FAIL)])
@pytest.mark.parametrize("hand", list(Hand))
def test_a_table_with_little_play_between_the_decks(
    gap_mm: float, severity: Severity, hand: Hand
) -> None:
    """By hand: bed to its mark 1.0, bench deck and table cut 0.2 each, one roll of band on three
    edges 0.3: 1.7 at worst, and the root of 1 + .04 + .04 + .09 is 1.082.
    """
    set_down = set_sizes(deck_held=DeckHold.SCREWED)
    found = stacks(example(replace(set_down, butt_gap_mm=gap_mm), hand=hand))
    assert amiss(found) == ({} if severity is OK else {"stack-deck-table": severity})
    assert found["stack-deck-table"].measured == pytest.approx(2 * gap_mm - 1.17**0.5)
    assert "1.7 mm at worst" in said(found["stack-deck-table"])
    assert ("place of the bed" in advised(found["stack-deck-table"])) == (severity is not OK)


@pytest.mark.parametrize(("play_mm", "severity"), [(2.5, OK), (2.0, WARN), (1.4, FAIL)])
def test_a_groove_hardly_higher_than_the_lips(play_mm: float, severity: Severity) -> None:
    """By hand: two plates off the level line 1.0 each, lip 0.3, groove 0.1: 2.4, and 1.449."""
    room_set = example()
    worked = machining(room_set.assembly, ROUTING)
    panel = "wall panel/panel"
    features = tuple(
        replace(f, box=f.box.grown(Direction.Z_MINUS, play_mm - 6.0))
        if isinstance(f, Cutout)
        else f
        for f in worked.of(panel)
    )
    lower = Machining(features={**worked.features, panel: features})
    found = stacks(room_set, lower)
    assert amiss(found) == ({} if severity is OK else {"stack-groove": severity})
    assert found["stack-groove"].measured == pytest.approx(play_mm - 2.1**0.5)


@pytest.mark.parametrize(("gap_mm", "severity"), [(2.6, OK), (2.5, WARN), (1.4, FAIL)])
def test_a_panel_hung_close_over_the_deck(gap_mm: float, severity: Severity) -> None:
    """By hand: plates and bed off their level lines 1.0 each, groove 0.2, box 0.2, band 0.1, deck
    0.05: 2.55 at worst, and the root of 2 + .08 + .01 + .0025 is 1.447.
    """
    sizes = set_sizes()
    assert sizes.wall_panel is not None
    found = stacks(example(replace(sizes, wall_panel=replace(sizes.wall_panel, gap_mm=gap_mm))))
    assert amiss(found) == ({} if severity is OK else {"stack-panel-below": severity})
    assert found["stack-panel-below"].measured == pytest.approx(gap_mm - 2.0925**0.5)


@pytest.mark.parametrize(("clearance_mm", "severity"), [(0.16, OK), (0.13, WARN), (0.11, FAIL)])
def test_a_board_tight_in_its_groove(clearance_mm: float, severity: Severity) -> None:
    """By hand: board 0.05 and groove 0.1 make 0.15, and 0.112."""
    made = replace(CONSTRUCTION, housing_clearance_mm=clearance_mm)
    found = stacks(example(made=made))
    assert amiss(found) == ({} if severity is OK else {"stack-housing": severity})
    assert found["stack-housing"].measured == pytest.approx(clearance_mm - 0.0125**0.5)


@pytest.mark.parametrize("hand", list(Hand))
def test_a_bed_that_is_laid_against_the_table_leaves_nothing_to_close(hand: Hand) -> None:
    found = stacks(example(replace(set_sizes(), butt_gap_mm=0.0), hand=hand))
    assert "stack-deck-table" not in found
    assert amiss(found) == {}


@pytest.mark.parametrize(
    ("made", "missing", "codes"),
    [
        (
            replace(CONSTRUCTION, carcass=replace(CONSTRUCTION.carcass, thickness_tolerance=None)),
            "thickness of laminated both faces",
            {"stack-housing"},
        ),
        (
            replace(CONSTRUCTION, deck=replace(CONSTRUCTION.deck, thickness_tolerance=None)),
            "thickness of laminated one face",
            {"stack-panel-below"},
        ),
        (
            replace(CONSTRUCTION, band=replace(CONSTRUCTION.band, thickness_tolerance=None)),
            "thickness of band band",
            {"stack-panel-below"},
        ),
        (
            replace(CONSTRUCTION, angle=replace(CONSTRUCTION.angle, leg_tolerance=None)),
            "leg of L2x2x1/4",
            {"stack-angle-slot", "stack-angle-height"},
        ),
        (
            replace(
                CONSTRUCTION,
                wall_plate=replace(CONSTRUCTION.wall_plate, thickness_tolerance=None),
            ),
            "thickness of wall plate",
            {"stack-groove"},
        ),
    ],
)
def test_a_tolerance_that_nobody_gives_is_told_by_name(
    made: Construction, missing: str, codes: set[str]
) -> None:
    found = stacks(example(made=made))
    assert amiss(found) == dict.fromkeys(codes, WARN)
    for code in codes:
        assert missing in said(found[code])
        assert f"in the library for: {missing}" in advised(found[code])


def test_a_careless_installer_closes_what_a_careful_one_does_not() -> None:
    rough = SettingOut(place=usual(4.0), level=usual(1.0))
    assert amiss(stacks(example(), setting_out=rough)) == {"stack-angle-slot": FAIL}
    set_down = example(set_sizes(deck_held=DeckHold.SCREWED))
    assert amiss(stacks(set_down, setting_out=rough)) == {
        "stack-angle-slot": FAIL,
        "stack-deck-table": FAIL,
    }


def test_the_sources_of_the_tolerances_are_told() -> None:
    leg = Tolerance(plus_minus_mm=1.0, source="the mill's list")
    made = replace(CONSTRUCTION, angle=replace(CONSTRUCTION.angle, leg_tolerance=leg))
    source = stacks(example(made=made))["stack-angle-slot"].source
    assert source == "tolerances: the mill's list; common practice, no source"


def run(
    measured: Measured,
    fitting: Fitting,
    hand: Hand = Hand.RIGHT,
    held: DeckHold = DeckHold.BONDED,
) -> Finding:
    room_set = example(set_sizes(deck_held=held), hand=hand)
    fit = fit_room("31", room_set, measured, (), fitting, Units.MM)
    (finding,) = run_findings(room_set, (fit,), fitting, ROUTING)
    return finding


@pytest.mark.parametrize(("spare_mm", "severity"), [(2.5, OK), (2.0, WARN), (1.1, FAIL)])
@pytest.mark.parametrize("hand", list(Hand))
def test_a_room_hardly_wider_than_its_run(spare_mm: float, severity: Severity, hand: Hand) -> None:
    """By hand, from the corner to the free end: bench deck, table and bed deck cut 0.2 each, one
    roll of band on five edges 0.5, opening measured 1.0: 2.1 at worst, and the root of
    3 x .04 + .25 + 1 is 1.1705.
    """
    seat_mm = run_mm(example()) + spare_mm
    measured = Measured(opening_at_seat_mm=seat_mm, opening_at_panel_mm=seat_mm + 50.0)
    found = run(measured, Fitting(least_gap_mm=0.0), hand)
    assert found.severity is severity
    assert found.measured == pytest.approx(spare_mm - 1.37**0.5)
    assert "2.1 mm at worst" in said(found)
    assert "room 31, at the seat: gap beyond bed/deck" in said(found)


@pytest.mark.parametrize("hand", list(Hand))
def test_a_room_hardly_wider_than_a_set_with_its_bed_at_a_mark(hand: Hand) -> None:
    """By hand: bed to its mark 1.0, opening measured 1.0, deck 0.2, band on its two edges 0.2: 2.4
    at worst, and the root of 1 + 1 + .04 + .04 is 1.442.
    """
    seat_mm = run_mm(example()) + 2.0
    measured = Measured(opening_at_seat_mm=seat_mm, opening_at_panel_mm=seat_mm + 50.0)
    found = run(measured, Fitting(least_gap_mm=0.0), hand, DeckHold.SCREWED)
    assert found.measured == pytest.approx(2.0 - 2.08**0.5)
    assert "2.4 mm at worst" in said(found)


def test_a_room_that_refuses_its_set_is_not_told_twice() -> None:
    narrow = Measured(opening_at_seat_mm=run_mm(example()) + 1.0)
    found = run(narrow, Fitting(least_gap_mm=3.0))
    assert found.severity is OK
    assert "least gap (fitting)" in said(found)


@pytest.mark.parametrize(("least_gap_mm", "severity"), [(3.0, OK), (2.0, WARN), (0.0, WARN)])
def test_where_nobody_measured_the_gap_that_is_asked_for_counts(
    least_gap_mm: float, severity: Severity
) -> None:
    found = run(Measured(), Fitting(least_gap_mm=least_gap_mm))
    assert found.severity is severity
    assert found.measured == pytest.approx(least_gap_mm - 1.37**0.5)


def test_a_set_without_table_angle_or_panel_has_none_to_keep_open() -> None:
    alone = replace(set_sizes(), table=None, wall_panel=None, angle=None, bench=None)
    assert stacks(example(alone)) == {}
