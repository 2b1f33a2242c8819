"""Strength: each check passes, warns and fails as one size or load is changed, and warns without
data. The formulas behind it are checked against their sources in `tests/outside`.
"""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.deck_plate import Fineness, deck_plate
from parametric.findings.deck_strength import deck_strength_findings
from parametric.findings.finding import Basis, Finding, Sense, Severity
from parametric.findings.measure import borne
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, Joint, Screwed, Seated
from parametric.joints.machining import machining
from parametric.primitives.decked_box import DeckHold
from parametric.sets.room_set import build_set
from parametric.shapes.board import Board, Show
from parametric.shapes.mass import total_kg
from parametric.steps.step_findings import step_findings
from parametric.stock.construction import Construction
from parametric.stock.hardware import MadeFor
from parametric.stock.materials import (
    BoardKind,
    BoardStrength,
    Figures,
    PulledHead,
    PulledScrew,
    SheetMaterial,
)
from parametric.strength.board_rules import Climate
from parametric.strength.loads import SEAT_TESTS, Loads, Use
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.row import Row
from tests.told import said

OK, WARN, FAIL = Severity.OK, Severity.WARN, Severity.FAIL
STRONG = BoardStrength(
    bending_n_mm2=40.0,
    elasticity_n_mm2=4000.0,
    source="made up, strong enough for everything",
    figures=Figures.CHARACTERISTIC,
    internal_bond_n_mm2=2.0,
    in_plane_n_mm2=60.0,
    screw=PulledScrew(pull_n=4000.0, diameter_mm=4.2, bite_mm=15.0),
    head=PulledHead(pull_n=4000.0, diameter_mm=10.0, board_mm=19.0),
)
PLAIN_LOADS = Loads(blocking_mm=70.0)  # two boards thick, for the example's long screws


def strong(made: Construction, **changes: object) -> Construction:
    """The construction with boards that bear everything, but for the changes."""
    strength = replace(STRONG, **changes)

    def board(material: SheetMaterial) -> SheetMaterial:
        return replace(material, strength=strength, kind=BoardKind.PARTICLEBOARD)

    return replace(
        made,
        deck=board(made.deck),
        base_panel=board(made.base_panel),
        rail=board(made.rail),
        bearer=board(made.bearer),
        carcass=board(made.carcass),
        wall_panel=board(made.wall_panel),
        leg=replace(made.leg, tube_wall_mm=2.0),
        screw_wall=replace(made.screw_wall, length_mm=4 * INCH),
    )


def checked(
    sizes: Row, made: Construction, loads: Loads = PLAIN_LOADS, hand: Hand = Hand.RIGHT
) -> tuple[Finding, ...]:
    room_set = build_set(sizes, hand, made, ROUTING, TRIM_MM)
    return check_strength("set", room_set.assembly, loads)


def worst(found: tuple[Finding, ...]) -> dict[str, Severity]:
    order = (OK, WARN, FAIL)
    by_code: dict[str, Severity] = {}
    for finding in found:
        by_code[finding.code] = max(
            finding.severity, by_code.get(finding.code, OK), key=order.index
        )
    return by_code


def amiss(found: tuple[Finding, ...]) -> dict[str, Severity]:
    return {code: severity for code, severity in worst(found).items() if severity is not OK}


def example(deck_held: DeckHold | None = None) -> Row:
    """The example with its angle under the table's centre of mass: what sits behind it levers."""
    sizes = set_sizes(deck_held=deck_held)
    assert sizes.angle is not None
    return replace(sizes, angle=replace(sizes.angle, from_wall_mm=5.75 * INCH))


def bench_overhang(inches: float) -> Row:
    sizes = example()
    assert sizes.bench is not None
    return replace(sizes, bench=replace(sizes.bench, overhang_mm=inches * INCH))


def bed_overhang(inches: float) -> Row:
    """The bed alone, its legs as far in as its base."""
    sizes = example()
    assert sizes.bed is not None
    bed = replace(sizes.bed, side_overhang_mm=inches * INCH, leg_inset_mm=8 * INCH)
    return replace(sizes, bed=bed, bench=None, table=None, wall_panel=None, angle=None)


def wall_screw(length_in: float) -> Construction:
    made = strong(CONSTRUCTION)
    return replace(made, screw_wall=replace(made.screw_wall, length_mm=length_in * INCH))


def angle_thickness(inches: float) -> Construction:
    made = strong(CONSTRUCTION)
    return replace(made, angle=replace(made.angle, thickness_mm=inches * INCH))


def angle_leg(inches: float) -> Construction:
    made = strong(CONSTRUCTION)
    return replace(made, angle=replace(made.angle, leg_mm=inches * INCH))


def tube_wall(wall_mm: float) -> Construction:
    made = strong(CONSTRUCTION)
    return replace(made, leg=replace(made.leg, tube_wall_mm=wall_mm))


def tube(diameter_in: float) -> Construction:
    made = strong(CONSTRUCTION)
    return replace(made, leg=replace(made.leg, tube_diameter_mm=diameter_in * INCH))


Case = tuple[Row, Construction, Loads]
Change = Callable[[float], Case]


def untied(height_in: float) -> Case:
    """The bed alone on legs and a box so high: no angle goes on to what is fixed to the wall."""
    sizes, made = bed_overhang(8.0), strong(CONSTRUCTION)
    leg = replace(made.leg, height_mm=height_in * INCH)
    high = replace(sizes, base_height_mm=height_in * INCH)
    return high, replace(made, leg=leg), PLAIN_LOADS


def pulled_out(pull_n: float) -> PulledScrew:
    assert STRONG.screw is not None
    return replace(STRONG.screw, pull_n=pull_n)


def pulled_through(pull_n: float) -> PulledHead:
    assert STRONG.head is not None
    return replace(STRONG.head, pull_n=pull_n)


def of_board(**changes: object) -> Case:
    return example(), strong(CONSTRUCTION, **changes), PLAIN_LOADS


def screwed_up(pull_n: float) -> Case:
    """A bed's deck that is screwed on from below all round, by screws that hold so much."""
    _, made, loads = of_board(screw=pulled_out(pull_n))
    return example(DeckHold.SCREWED), made, loads


CASES: dict[str, tuple[Change, float, float, float]] = {
    # What is changed, and values at which the code passes, warns and fails.
    "angle-bending": (lambda v: (example(), angle_leg(v), PLAIN_LOADS), 2.0, 1.55, 1.4),
    "angle-sag": (
        lambda v: (example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, spread_n_m2=v)),
        2394.0,
        80_000.0,
        120_000.0,
    ),
    "notch-bearing": (lambda v: of_board(in_plane_n_mm2=v), 60.0, 16.6, 14.5),
    "deck-bending": (lambda v: (bench_overhang(v), strong(CONSTRUCTION), PLAIN_LOADS), 8, 10, 12),
    "deck-test": (lambda v: of_board(bending_n_mm2=v), 40.0, 17.0, 14.0),
    "deck-sag": (lambda v: of_board(elasticity_n_mm2=v), 4000.0, 2000.0, 1500.0),
    "deck-hold": (lambda v: screwed_up(pull_n=v), 4000.0, 1180.0, 1000.0),
    "leg-load": (lambda v: (example(), tube(v), PLAIN_LOADS), 2.0, 0.5, 0.4),
    "leg-side": (untied, 24.0, 44.0, 50.0),
    "leg-wall": (lambda v: (example(), tube_wall(v), PLAIN_LOADS), 1.0, 0.57, 0.5),
    "seat-tip": (lambda v: (bed_overhang(v), strong(CONSTRUCTION), PLAIN_LOADS), 8.0, 14.0, 20.0),
    "wall-pull": (lambda v: (example(), wall_screw(v), PLAIN_LOADS), 4.0, 3.5, 3.0),
    "wall-head": (lambda v: of_board(head=pulled_through(v)), 4000.0, 2150.0, 1900.0),
    "plate-load": (
        lambda v: (example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, panel_n=v)),
        450.0,
        800.0,
        1200.0,
    ),
}


@pytest.mark.parametrize("code", CASES)
@pytest.mark.parametrize(("at", "expected"), [(1, OK), (2, WARN), (3, FAIL)])
def test_each_check_passes_warns_and_fails(code: str, at: int, expected: Severity) -> None:
    change, *values = CASES[code]
    sizes, made, loads = change(values[at - 1])
    found = worst(checked(sizes, made, loads))
    assert found[code] is expected


def test_a_strong_set_is_well_and_says_what_that_rests_on() -> None:
    found = checked(example(), strong(CONSTRUCTION))
    assert amiss(found) == {}
    assert {finding.code for finding in found} == CASES.keys() - {"leg-side"}  # the bed is tied
    for finding in found:
        assert finding.basis is not None
        assert finding.basis.method
        assert finding.basis.assumptions


def test_what_no_figure_is_known_for_is_a_warning_never_a_pass() -> None:
    """The example's boards have no strength, and its leg no wall: formulas for solid wood are not
    stretched to them.
    """
    long = replace(CONSTRUCTION.screw_wall, length_mm=4 * INCH)
    found = checked(example(), replace(CONSTRUCTION, screw_wall=long))
    unknown = {"notch-bearing", "deck-bending", "deck-test", "deck-hold", "leg-load", "wall-head"}
    assert amiss(found) == dict.fromkeys(unknown, WARN)
    assert all(f.limit == 0.0 and f.measured > 0 for f in found if f.code in unknown)


def test_a_screw_that_nds_does_not_cover_is_a_warning_never_a_pass() -> None:
    """A screw of 8 mm: the rules for bearing and reduction change at 1/4 in."""
    made = strong(CONSTRUCTION)
    thick = replace(made.screw_wall, major_diameter_mm=8.0)
    plate = replace(made.wall_plate, screw=thick)
    found = amiss(checked(example(), replace(made, screw_wall=thick, wall_plate=plate)))
    assert found == {"wall-pull": WARN, "plate-load": WARN}


def test_a_screw_made_for_boards_is_a_warning_never_a_pass() -> None:
    made = strong(CONSTRUCTION)
    other = replace(made.screw_wall, made_for=MadeFor.BOARDS)
    plate = replace(made.wall_plate, screw=other)
    found = amiss(checked(example(), replace(made, screw_wall=other, wall_plate=plate)))
    assert found == {"wall-pull": WARN, "plate-load": WARN}


def test_somebody_who_sits_beside_a_notch_by_hand() -> None:
    """A table of 16 in between panels whose middles are 32 7/8 in apart, its edge 8 7/16 in from
    one: the pad's middle is 314.3 of 835.0 mm away, so that panel bears 0.6236 of 1112 N, and half
    of the table, on 1/4 in of steel across 3/4 in of board.
    """
    sits, empty = (
        next(
            finding.measured
            for finding in checked(
                example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, seat_n=seat_n)
            )
            if finding.code == "notch-bearing" and "sits" in said(finding)
        )
        for seat_n in (1112.0, 0.0)
    )
    bearing_mm2 = INCH / 4 * INCH * 3 / 4
    assert sits - empty == pytest.approx(0.6236 * 1112 / bearing_mm2, rel=1e-3)
    crushed = worst(
        checked(
            example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, seat_n=8000.0, spread_n_m2=1.0)
        )
    )
    assert crushed["notch-bearing"] is FAIL


# Code, end of the place, words of the message: what is measured and what is allowed. Boards bear 40
# N/mm2 and so on (STRONG), over 1.5 x 1.3 / k_mod: for particleboard .85 when somebody sits down,
# .65 for what lies on a floor, .45 for what is stored (EN 1995-1-1 table 3.1, from memory).
SHORT, MEDIUM, LONG = 1.95 / 0.85, 1.95 / 0.65, 1.95 / 0.45
ON_TABLE_N = 2394 * (16 * INCH / 1000) ** 2
# Table: two boards of 16 x 16, two of 15 1/2 x 10, back and shelf 14 1/4 by 10 and by 14 3/4 less
# 10 mm, all 3/4 in and of 720 kg/m3: 10.345 kg.
TABLE_N = 10.345 * 9.80665
# From middle to middle of the panels: 15 5/8 to 48 1/2 in. AISC, the older print: L2x2x1/4 has
# I .348 in4 and y .592 in; steel of 235 N/mm2, 0.80 of its modulus counts, over 1.67.
SPAN_MM, I_MM4 = 32.875 * INCH, 0.348 * INCH**4
S_MM3 = I_MM4 / (1.408 * INCH)
BY_HAND = {
    ("angle-bending", "steel angle", ""): (
        (1112 * SPAN_MM / 4 + TABLE_N * SPAN_MM / 8) / S_MM3,
        0.80 * 235 / 1.67,
    ),
    ("angle-sag", "steel angle", ""): (
        (5 * TABLE_N / 384 + ON_TABLE_N / 48) * SPAN_MM**3 / (200_000 * I_MM4),
        SPAN_MM / 144,
    ),
    # Half of it on 1/4 in of steel across 3/4 in of board.
    ("notch-bearing", "bench/side panel", "lying on the table"): (
        (TABLE_N + ON_TABLE_N) / 2 / (0.25 * 0.75 * INCH**2),
        60 / LONG,
    ),
    ("notch-bearing", "bench/side panel", "sits down"): (None, 60.0),  # an accident: 1.0
    ("deck-bending", "bench/deck", "under 1110 N"): (None, 40 / SHORT),
    ("deck-bending", "bench/deck", "two loads of 1110 N"): (None, 40 / SHORT),
    ("deck-bending", "bench/deck", "2390 N/m2"): (None, 40 / MEDIUM),
    ("deck-test", "bench/deck", "1600 N"): (None, 40.0),  # a test is passed once: 1.0
    ("deck-hold", "bench/deck", "glued"): (None, 2.0 / SHORT),
    # A No. 10, 1/2 in deep, by the test of a 4.2 mm screw 15 deep: sqrt(D) (L - D/3)^1.25.
    ("deck-hold", "bed/deck 1", "screw"): (
        None,
        4000 * (4.826 / 4.2) ** 0.5 * ((12.7 - 1.609) / 13.6) ** 1.25 / SHORT,
    ),
    # Heads of .385 in on 3/4 in of board, by the test of 10 mm on 19.
    ("wall-head", "bench/head wall rail", ""): (None, 4000 * 9.779 * 19.05 / 190 / SHORT),
    # The foot half of the deck, 60 x 40 in, on four legs, and somebody over one of them.
    ("leg-load", "bed/deck 2", ""): (1112 + 2394 * 60 * 40 * (INCH / 1000) ** 2 / 4, None),
    # 4 in through 3/4 of rail and 15.9 of lining: 66.65 mm, less than the two thirds of a screw
    # that are threaded. NDS 12.2-2: 2850 x .42^2 x .190 = 95.5 lb for each inch.
    ("wall-pull", "bench", "66.7 mm of thread"): (None, 95.52 * 4.44822 / INCH * 66.65),
    # A panel of 60 x 30 in, 15.93 kg, and 450 N on two plates of two screws; the middle of the lip
    # stands 3/8 in off the wall, the screws 1 13/16 / 2 in over the plate's lower edge.
    ("plate-load", "wall panel/panel", ""): (
        (15.928 * 9.80665 + 450) / 4 * (1 + (0.375 / 0.90625) ** 2) ** 0.5,
        None,
    ),
}


@pytest.mark.parametrize(("code", "place", "words"), BY_HAND)
def test_what_the_example_bears_by_hand(code: str, place: str, words: str) -> None:
    (found,) = (
        finding
        for finding in checked(example(), strong(CONSTRUCTION))
        if finding.code == code and finding.where.endswith(place) and words in said(finding)
    )
    measured, allowed = BY_HAND[code, place, words]
    if measured is not None:
        assert found.measured == pytest.approx(measured, rel=3e-3)
    if allowed is not None:
        assert found.limit == pytest.approx(allowed, rel=3e-3)


def test_what_is_sat_on_is_pulled_by_who_sits_and_the_rest_by_who_holds_on() -> None:
    """The bench by the seat load, the table, which is no seat, by the load on panels as well: it
    stands on the angle, where a seat load counts too.
    """

    def pull(where: str, seat_n: float, panel_n: float) -> float:
        loads = replace(PLAIN_LOADS, seat_n=seat_n, panel_n=panel_n)
        found = checked(example(), strong(CONSTRUCTION), loads)
        return next(f.measured for f in found if f.code == "wall-pull" and f.where.endswith(where))

    assert (
        pull("bench", 1112.0, 450.0) == pull("bench", 1112.0, 0.0) > 2 * pull("bench", 0.0, 450.0)
    )
    assert pull("bedside table", 0.0, 900.0) > 1.5 * pull("bedside table", 0.0, 450.0) > 0


def on_rails(*joints: Joint) -> Assembly:
    """A deck of 800 x 900 mm, 19 thick, on two rails of 20 mm whose middles are 200 and 600."""

    def board(name: str, box: Box, facing: Direction) -> Board:
        return Board(
            name=name,
            unit="seat",
            description=name,
            material=replace(CONSTRUCTION.deck, strength=STRONG, kind=BoardKind.PARTICLEBOARD),
            box=box,
            grain=Axis.Y,
            facing=facing,
            show=Show.NONE,
        )

    deck = board("deck", Box(Point(0, 0, 300), Point(800, 900, 319)), Direction.Z_PLUS)
    rails = (
        board("one", Box(Point(190, 0, 0), Point(210, 900, 300)), Direction.X_PLUS),
        board("other", Box(Point(590, 0, 0), Point(610, 900, 300)), Direction.X_PLUS),
    )
    seated = Seated(top="deck", on=("one", "other"))
    return Assembly(boards=(deck, *rails), joints=(seated, *joints))


SCREW = Screwed(
    screw=CONSTRUCTION.screw_cleat_wide,
    head=Point(200, 100, 280),
    direction=Direction.Z_PLUS,
    through="one",
    into="deck",
)


GLUE = Bonded(top="deck", on=("one", "other"))


@pytest.mark.parametrize(
    ("code", "words", "measured", "allowed"),
    [
        # An even load, as on a beam: w a2 / 2 over a rail, a = 200, which falls by w a on both
        # sides of it: the mean over 38 mm is a quarter of those, 19 w a / 2, below.
        (
            "deck-bending",
            "N/m2",
            6 * 2394e-6 * (200**2 / 2 - 19 * 200 / 2) / 19**2,
            40 / MEDIUM,
        ),
        # The tip: w a4 / 8 and a times the slope over the rail, w (a2 L / 4 - L3 / 24), L = 400:
        # 4.667e8 w / EI; three tenths for years at 2.25 (EN 1995-1-1 2.2.3). A wide plate cannot
        # bend the other way: 1 - 0.3^2 of that.
        (
            "deck-sag",
            "",
            (1 - 0.3**2) * 2394e-6 * 4.6667e8 / (4000 * 19**3 / 12) * 1.675,
            None,
        ),
    ],
)
def test_a_deck_that_overhangs_two_rails_by_hand(
    code: str, words: str, measured: float, allowed: float | None
) -> None:
    (found,) = (
        finding
        for finding in check_strength("set", on_rails(GLUE), PLAIN_LOADS)
        if finding.code == code and words in said(finding)
    )
    # Rails that give way and the free edges of the deck: no more than a tenth.
    assert found.measured == pytest.approx(measured, rel=0.1)
    if allowed is not None:
        assert found.limit == pytest.approx(allowed)


def test_what_holds_a_deck_down_is_in_balance_with_what_lifts_it() -> None:
    """A load 100 mm beyond one rail lifts the deck off the other, 400 away, by a quarter of it; no
    part of it is pulled more than that.
    """
    plate = deck_plate(on_rails(GLUE), on_rails(GLUE).board("deck"))
    pulls = plate.solved().pulls
    assert 0 < max(pulls) <= 0.25
    (found,) = (
        f for f in check_strength("set", on_rails(GLUE), PLAIN_LOADS) if f.code == "deck-hold"
    )
    assert found.measured == pytest.approx(1112 * max(pulls) / (20 * 50))
    assert found.limit == pytest.approx(2.0 / SHORT)


@pytest.mark.parametrize("joints", [(), (SCREW,), (SCREW,) * 3])
def test_a_deck_that_nothing_holds_down_fails(joints: tuple[Joint, ...]) -> None:
    """It overhangs two rails by 200 mm; screws in one of them are no use beyond the same one."""
    found = worst(check_strength("set", on_rails(*joints), PLAIN_LOADS))
    assert found["deck-hold"] is FAIL
    assert "deck-bending" not in found


def test_screws_from_below_hold_a_deck_down() -> None:
    screws = [
        replace(SCREW, head=Point(x, y, 280), through=rail)
        for x, rail in ((200, "one"), (600, "other"))
        for y in (100, 450, 800)
    ]
    found = check_strength("set", on_rails(*screws), PLAIN_LOADS)
    (held,) = (f for f in found if f.code == "deck-hold")
    # Statics: the three of a rail share 1112 x 150 / 400 at most, the pad's rim at the edge.
    assert 1112 / 4 / 3 < held.measured < 1112 * 100 / 400
    # A No. 6, 30.8 mm long beyond the rail: no deeper than the deck's 19.
    law = (3.505 / 4.2) ** 0.5 * ((19 - 1.168) / 13.6) ** 1.25
    assert held.limit == pytest.approx(4000 * law / SHORT, rel=1e-3)


@pytest.mark.parametrize(
    ("measured", "expected", "words"),
    [(0.85, OK, "85% used"), (0.95, WARN, "95% used"), (1.05, FAIL, "105% used")],
)
def test_what_may_be_borne_and_the_share_of_it_are_told(
    measured: float, expected: Severity, words: str
) -> None:
    found = borne(
        code="any",
        where="here",
        what="pull",
        measured=1000.0 * measured,
        allowed=1000.0,
        missing="",
        advice="less of it",
        source="",
        unit="N",
        basis=Basis("by hand", ("nothing",)),
        at=None,
    )
    assert found.severity is expected
    near = "1050 N" if expected is FAIL else f"{1000.0 * measured:.0f} N"
    assert said(found) == f"pull {near} (max 1000 N, {words})"
    assert found.limit == 1000.0


def test_a_seat_that_tips_by_hand() -> None:
    """Deck 9.850 kg and rails of 3.888 each stand on 190 to 610; a pad's middle at 100 levers by 90
    about the near rail's outer edge, the weight by 210.
    """
    (found,) = (f for f in check_strength("set", on_rails(), PLAIN_LOADS) if f.code == "seat-tip")
    assert found.measured == pytest.approx((9.850 + 2 * 3.888) * 9.80665 * 210 / 90, rel=1e-3)


def test_legs_carry_the_foot_of_a_deck_that_reaches_far_beyond_its_base() -> None:
    """Strips took 26 in beyond the base for a cantilever; between it and legs it is a span."""
    sizes = example()
    assert sizes.bed is not None
    far = replace(sizes, bed=replace(sizes.bed, foot_overhang_mm=26 * INCH), angle=None, table=None)
    made = strong(CONSTRUCTION, bending_n_mm2=15.0, elasticity_n_mm2=2500.0)
    found = checked(far, made)
    (even,) = (
        finding
        for finding in found
        if finding.where.endswith("bed/deck 2")
        and "2390 N/m2" in said(finding)
        and finding.code == "deck-bending"
    )
    assert even.severity is OK
    assert even.measured < 0.5 * even.limit
    sag = [f for f in found if f.code == "deck-sag" and f.where.endswith("bed/deck 2")]
    assert [finding.severity for finding in sag] == [OK]


UNITS = {
    "N": {"leg-load", "plate-load", "seat-tip", "wall-head", "wall-pull"},
    "N/mm2": {"angle-bending", "deck-bending", "deck-test", "notch-bearing"},
    "kg": {"board-mass", "unit-lift"},
    "D": {"cleat-edge", "cleat-end", "cleat-row"},  # in diameters of the screw
    "parts": {"step-path"},
    "screws": {"head-seat"},
    "tasks": {"step-order"},
}
SHOWN = {"D": "diameters", "parts": "in the way", "tasks": "tasks can be done in order"}


def test_what_is_measured_has_its_unit() -> None:
    """Forces, stresses, masses; all else in a set is a length. A deck is held down by screws, a
    force on each, or by adhesive, a stress.
    """
    room_set = build_set(example(), Hand.RIGHT, strong(CONSTRUCTION), ROUTING, TRIM_MM)
    worked = machining(room_set.assembly, ROUTING)
    found = (
        *check_set(room_set, worked, ROUTING, TRIM_MM),
        *check_strength("set", room_set.assembly, PLAIN_LOADS),
        *step_findings("set", room_set.assembly, worked),
    )
    units: dict[str, set[str]] = {}
    for finding in found:
        units.setdefault(finding.code, set()).add(finding.unit)
        words = said(finding)
        assert f" {SHOWN.get(finding.unit, finding.unit)}" in words or "one screw" in words
    assert units.pop("deck-hold") == {"N", "N/mm2"}
    known = {code: {unit} for unit, codes in UNITS.items() for code in codes}
    assert known.keys() < units.keys()
    assert units == {code: known.get(code, {"mm"}) for code in units}


@pytest.mark.parametrize("fineness", Fineness)
def test_both_hands_bear_the_same_at_mirrored_places(fineness: Fineness) -> None:
    right, left = (
        check_strength(
            "set",
            build_set(example(), hand, strong(CONSTRUCTION), ROUTING, TRIM_MM).assembly,
            PLAIN_LOADS,
            fineness,
        )
        for hand in (Hand.RIGHT, Hand.LEFT)
    )
    assert len(right) == len(left)
    for one, other in zip(right, left, strict=True):
        assert (one.code, one.where, one.severity) == (other.code, other.where, other.severity)
        assert one.measured == pytest.approx(other.measured, rel=1e-9)
        assert one.at is not None and other.at is not None
        if not one.where.startswith("set: bed"):  # alike on both sides: either is the worst
            mirrored = (-other.at.x, other.at.y, other.at.z)
            assert tuple(one.at) == pytest.approx(mirrored, abs=1e-6)


def test_fast_findings_are_within_a_sixth_of_the_exact_ones() -> None:
    room_set = build_set(bench_overhang(7.0), Hand.RIGHT, strong(CONSTRUCTION), ROUTING, TRIM_MM)
    fast, exact = (
        check_strength("set", room_set.assembly, PLAIN_LOADS, fineness) for fineness in Fineness
    )
    assert [f.code for f in fast] == [f.code for f in exact]
    for one, other in zip(fast, exact, strict=True):
        # A screw beside glue is hardly pulled; of its pull only the order of size is known.
        near = 0.02 * other.limit if other.code == "deck-hold" else 0.0
        assert one.measured == pytest.approx(other.measured, rel=1 / 6, abs=near)


def test_a_load_is_told_where_it_stands() -> None:
    """A bench deck of 24 x 44 in in the corner of a right-hand set, 14 in high: a pad of 200 mm at
    the free corner stands 100 mm in from both edges.
    """
    found = checked(bench_overhang(7.0), strong(CONSTRUCTION))
    (seat,) = (
        f for f in found if f.where.endswith("bench/deck") and " mm in from the nearest" in said(f)
    )
    assert seat.at is not None
    place = (-(24 * INCH - 100), -(44 * INCH - 100), 14 * INCH)
    assert tuple(seat.at) == pytest.approx(place, abs=1e-6)


def test_an_angle_that_twists_carries_along_its_upright_leg_alone() -> None:
    """Statics: a wider flat leg in front of it bears nothing, so the wall screws hold as much."""
    narrow, wide = (
        next(
            f.measured
            for f in checked(example(), angle_leg(leg_in))
            if f.code == "wall-pull" and f.where.endswith("table")
        )
        for leg_in in (2.0, 3.0)
    )
    assert narrow == pytest.approx(wide, rel=1e-6)


def test_a_raised_load_says_so() -> None:
    found = checked(example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, seat_n=1500.0))
    told = [f.source for f in found if f.code in {"deck-bending", "wall-pull", "angle-bending"}]
    assert sum("raised by the job" in source for source in told) >= len(told) / 2
    plain = checked(example(), strong(CONSTRUCTION))
    assert not any("raised by the job" in f.source for f in plain)


# What an audit would send back: each by one slip, with the verdict that it must get.
def bare(inches: float) -> Case:
    """A bench of particleboard of which nobody knows what it bears."""
    made = strong(CONSTRUCTION)
    deck = replace(made.deck, strength=None)
    bench = replace(bench_overhang(inches), table=None, bed=None, wall_panel=None, angle=None)
    return bench, replace(made, deck=deck), PLAIN_LOADS


def deck_screw(length_in: float) -> Case:
    made = strong(CONSTRUCTION, screw=pulled_out(1325.0))
    screw = replace(made.screw_cleat_wide, length_mm=length_in * INCH)
    return example(DeckHold.SCREWED), replace(made, screw_cleat_wide=screw), PLAIN_LOADS


def weak_deck() -> SheetMaterial:
    """A deck that holds screws as particleboard of grade M-2 does, 900 N by ASTM D1037."""
    strength = replace(STRONG, screw=PulledScrew(pull_n=900.0, diameter_mm=4.826, bite_mm=17.0))
    return replace(CONSTRUCTION.deck, strength=strength, kind=BoardKind.PARTICLEBOARD)


def walls(**changes: object) -> Case:
    return example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, **changes)


SLIPS: dict[str, tuple[str, Case, Severity]] = {
    "no figures, a usual overhang": ("deck-bending", bare(4), WARN),
    "no figures, more overhang than any particleboard bears": ("deck-bending", bare(9), FAIL),
    "a deck screw": ("deck-hold", deck_screw(2.0), OK),
    "a deck screw 2 mm too short": ("deck-hold", deck_screw(2.0 - 2 / INCH), FAIL),
    "a second layer of lining": ("wall-pull", walls(lining_mm=31.8), FAIL),
    "thin blocking": ("wall-pull", walls(blocking_mm=19.0), FAIL),
    "figures that are means": (
        "deck-bending",
        of_board(bending_n_mm2=29.0, figures=Figures.MEAN),
        FAIL,
    ),
    "the same ones as characteristic": ("deck-bending", of_board(bending_n_mm2=29.0), WARN),
    "24 in high, and nothing ties it": (
        "leg-side",
        (untied(24.0)[0], replace(untied(24.0)[1], deck=weak_deck()), PLAIN_LOADS),
        FAIL,
    ),
    "a damp room": ("deck-bending", walls(climate=Climate.HUMID, seat_n=1300.0), FAIL),
    "as much in a heated one": ("deck-bending", walls(seat_n=1300.0), OK),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_slips_get_the_verdict_that_they_deserve(slip: str) -> None:
    code, (sizes, made, loads), verdict = SLIPS[slip]
    found = [f for f in checked(sizes, made, loads) if f.code == code]
    if code == "deck-hold":
        found = [f for f in found if "screw" in said(f)]
    assert worst(tuple(found))[code] is verdict


@pytest.mark.parametrize("use", Use)
def test_what_a_dropped_weight_loses_in_height_is_in_its_springs(use: Use) -> None:
    """Energy: 25 kg fall by the drop and by as much as springs of 7 N/mm are pressed together."""
    test = SEAT_TESTS[use]
    pressed_mm = test.drop_n / 7.0
    lost_nmm = 25 * 9.80665 * (test.drop_mm + pressed_mm)
    assert 7.0 * pressed_mm**2 / 2 == pytest.approx(lost_nmm)
    assert test.drop_n < test.seat_n


def test_harder_use_is_tested_harder() -> None:
    stresses = [
        next(
            f.measured
            for f in checked(example(), strong(CONSTRUCTION), replace(PLAIN_LOADS, use=use))
            if f.code == "deck-test"
        )
        for use in (Use.HOME, Use.CONTRACT, Use.SEVERE)
    ]
    assert stresses == pytest.approx([stresses[0] * n / 1300 for n in (1300, 1600, 2000)])


def test_a_leg_is_a_lever_on_its_screws_by_hand() -> None:
    """Three tenths of the bed's weight at the feet, 24 in below two screws a spacing from the
    others.
    """
    sizes, made, loads = untied(24.0)
    assembly = build_set(sizes, Hand.RIGHT, made, ROUTING, TRIM_MM).assembly
    (found,) = (f for f in checked(sizes, made, loads) if f.code == "leg-side")
    weight_n = 9.80665 * total_kg((*assembly.boards, *assembly.members))
    foot_n = 0.3 * weight_n / len(assembly.legs)
    assert found.measured == pytest.approx(foot_n * 24 * INCH / made.leg.hole_spacing_mm / 2)


def test_what_no_board_of_its_kind_bears_says_so() -> None:
    (found, *_) = (f for f in checked(*bare(9)) if f.code == "deck-bending" and f.severity is FAIL)
    # The strongest particleboard, P7 of EN 312, has 20 N/mm2 (from memory).
    assert found.limit == pytest.approx(20 / SHORT)
    assert "even the best of its kind may bear only" in said(found)


def test_mdf_may_not_bear_what_lasts_in_a_damp_room() -> None:
    """EN 1995-1-1 table 3.1 has no factor for it (from memory)."""
    made = strong(CONSTRUCTION)
    damp = replace(PLAIN_LOADS, climate=Climate.HUMID)
    mdf = replace(made, deck=replace(made.deck, kind=BoardKind.MDF))
    lasting = [f for f in checked(example(), mdf, damp) if "2390 N/m2" in said(f)]
    bent = [f for f in lasting if f.code == "deck-bending"]
    assert {f.severity for f in bent} == {FAIL}
    assert all("nothing is allowed" in said(f) for f in bent)


changes = st.sampled_from(["thickness", "overhang"])


@settings(max_examples=12)
@given(changes, st.floats(1.0, 1.5), st.integers(150, 250))
def test_more_board_or_less_overhang_never_makes_a_deck_worse(
    change: str, factor: float, over: int
) -> None:
    """A deck on two rails with adhesive: thicker, or over less, it never bends nor sags more."""

    def bent(thickness: float, over_mm: float, span_mm: float) -> tuple[float, float]:
        deck = replace(on_rails().board("deck"), box=box(2 * over_mm + span_mm, thickness))
        rails = [
            replace(board, box=Box(Point(x - 10, 0, 0), Point(x + 10, 600, 300)))
            for board, x in zip(on_rails().boards[1:], (over_mm, over_mm + span_mm), strict=True)
        ]
        made = replace(on_rails(GLUE), boards=(deck, *rails))
        found = check_strength("set", made, PLAIN_LOADS)
        (seat,) = (f for f in found if f.code == "deck-bending" and "under 1110 N" in said(f))
        (sag,) = (f for f in found if f.code == "deck-sag")
        return seat.measured, sag.measured / sag.limit

    before = bent(19.0, over, 400.0)
    after = {
        "thickness": lambda: bent(19.0 * factor, over, 400.0),
        "overhang": lambda: bent(19.0, over / factor, 400.0),
    }[change]()
    # The mesh moves with the supports.
    assert after[0] <= before[0] * 1.03
    assert after[1] <= before[1] * 1.03 or change == "overhang"


def box(length_mm: float, thickness_mm: float) -> Box:
    return Box(Point(0, 0, 300), Point(length_mm, 600, 300 + thickness_mm))


def shares(sizes: Row, made: Construction) -> dict[tuple[str, str, int], float]:
    """How much of what is allowed each finding uses."""
    used: dict[tuple[str, str, int], float] = {}
    assembly = build_set(sizes, Hand.RIGHT, made, ROUTING, TRIM_MM).assembly
    for finding in check_strength("set", assembly, PLAIN_LOADS, Fineness.FAST):
        share = finding.measured / finding.limit
        if finding.sense is Sense.AT_LEAST:
            share = 1 / share
        number = sum(key[:2] == (finding.code, finding.where) for key in used)
        used[finding.code, finding.where, number] = share
    return used


def no_worse(
    after: dict[tuple[str, str, int], float], before: dict[tuple[str, str, int], float]
) -> None:
    assert after.keys() == before.keys()
    for key, share in after.items():
        assert share <= before[key] * (1 + 1e-6), key


SHARED = {"deck-hold", "notch-bearing"}  # a stiffer deck spreads its load over more of its supports


@given(st.floats(3.0, 9.0), st.floats(0.5, 8.0))
@settings(max_examples=12, deadline=None)
def test_a_thicker_deck_bears_no_less(overhang_in: float, thicker_mm: float) -> None:
    made = strong(CONSTRUCTION)
    thick = replace(made.deck, thickness_mm=made.deck.thickness_mm + thicker_mm)
    before, after = (
        shares(bench_overhang(overhang_in), of) for of in (made, replace(made, deck=thick))
    )
    for key, share in after.items():
        assert share <= before[key] * (1.005 if key[0] in SHARED else 1 + 1e-6), key


@given(
    st.sampled_from(("screw_cleat_thin", "screw_cleat_wide", "screw_wall", "screw_panel")),
    st.floats(0.5, 20.0),
)
@settings(max_examples=12, deadline=None)
def test_a_longer_screw_holds_no_less(role: str, longer_mm: float) -> None:
    made = strong(CONSTRUCTION)
    screw = getattr(made, role)
    long = replace(screw, length_mm=screw.length_mm + longer_mm)
    no_worse(shares(example(), replace(made, **{role: long})), shares(example(), made))


@given(st.floats(7.0, 10.0), st.floats(0.25, 2.0))
@settings(max_examples=8, deadline=None)
def test_a_closer_support_bears_no_less(overhang_in: float, closer_in: float) -> None:
    """Where the overhang is what bends the deck. The panels under it stand further apart then, and
    what spans between them bears more, as statics has it.
    """
    stresses = []
    for inches in (overhang_in - closer_in, overhang_in):
        room_set = build_set(
            bench_overhang(inches), Hand.RIGHT, strong(CONSTRUCTION), ROUTING, TRIM_MM
        )
        found = deck_strength_findings(
            "set", room_set.assembly, PLAIN_LOADS, Fineness.EXACT, only="bench/deck"
        )
        stresses.append(next(found).measured)
    assert stresses[0] < stresses[1]
