"""Strength: each check passes, warns and fails as one size or load is changed, and warns without
data. The formulas behind it are checked against their sources in `tests/outside`.
"""

from collections.abc import Callable
from dataclasses import replace

import pytest

from parametric.assembly import Assembly
from parametric.board import Board, Show
from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.deck_strips import DeckStrips
from parametric.findings.finding import Finding, Severity
from parametric.hand import Hand
from parametric.joints import Bonded, Joint, Screwed, Seated
from parametric.machining import machining
from parametric.materials import BoardStrength, SheetMaterial
from parametric.room_set import build_set
from parametric.sizes import Construction, SetSizes
from parametric.space import Axis, Box, Direction, Point
from parametric.steps.step_findings import step_findings
from parametric.strength.loads import Loads
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes

OK, WARN, FAIL = Severity.OK, Severity.WARN, Severity.FAIL
STRONG = BoardStrength(
    bending_n_mm2=40.0,
    elasticity_n_mm2=4000.0,
    creep_factor=2.25,
    source="made up, strong enough for everything",
    internal_bond_n_mm2=2.0,
    in_plane_n_mm2=40.0,
    screw_face_n=4000.0,
    head_pull_n=4000.0,
)
PLAIN_LOADS = Loads()


def strong(made: Construction, **changes: object) -> Construction:
    """The construction with boards that bear everything, but for the changes."""
    strength = replace(STRONG, **changes)

    def board(material: SheetMaterial) -> SheetMaterial:
        return replace(material, strength=strength)

    return replace(
        made,
        deck=board(made.deck),
        base_panel=board(made.base_panel),
        rail=board(made.rail),
        bearer=board(made.bearer),
        carcass=board(made.carcass),
        wall_panel=board(made.wall_panel),
        leg=replace(made.leg, tube_wall_mm=2.0),
    )


def checked(
    sizes: SetSizes, made: Construction, loads: Loads = PLAIN_LOADS, hand: Hand = Hand.RIGHT
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


def example() -> SetSizes:
    """The example with its angle under the table's centre of mass: what sits behind it levers."""
    sizes = set_sizes()
    assert sizes.angle is not None
    return replace(sizes, angle=replace(sizes.angle, from_wall_mm=5.75 * INCH))


def bench_overhang(inches: float) -> SetSizes:
    sizes = example()
    assert sizes.bench is not None
    return replace(sizes, bench=replace(sizes.bench, overhang_mm=inches * INCH))


def bed_overhang(inches: float) -> SetSizes:
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


def tube(diameter_in: float) -> Construction:
    made = strong(CONSTRUCTION)
    return replace(made, leg=replace(made.leg, tube_diameter_mm=diameter_in * INCH))


Case = tuple[SetSizes, Construction, Loads]
Change = Callable[[float], Case]


def of_board(**changes: float) -> Case:
    return example(), strong(CONSTRUCTION, **changes), PLAIN_LOADS


CASES: dict[str, tuple[Change, float, float, float]] = {
    # What is changed, and values at which the code passes, warns and fails.
    "angle-bending": (lambda v: (example(), angle_leg(v), PLAIN_LOADS), 2.0, 1.55, 1.4),
    "angle-sag": (
        lambda v: (example(), strong(CONSTRUCTION), Loads(spread_n_m2=v)),
        2394.0,
        80_000.0,
        120_000.0,
    ),
    "notch-bearing": (lambda v: of_board(in_plane_n_mm2=v), 40.0, 10.5, 9.0),
    "deck-bending": (lambda v: (bench_overhang(v), strong(CONSTRUCTION), PLAIN_LOADS), 8, 17, 20),
    "deck-sag": (lambda v: of_board(elasticity_n_mm2=v), 4000.0, 1700.0, 1000.0),
    "deck-hold": (lambda v: of_board(screw_face_n=v), 4000.0, 1000.0, 500.0),
    "leg-load": (lambda v: (example(), tube(v), PLAIN_LOADS), 2.0, 0.5, 0.4),
    "seat-tip": (lambda v: (bed_overhang(v), strong(CONSTRUCTION), PLAIN_LOADS), 8.0, 14.0, 20.0),
    "wall-pull": (lambda v: (example(), wall_screw(v), PLAIN_LOADS), 3.0, 2.75, 2.5),
    "wall-head": (lambda v: of_board(head_pull_n=v), 4000.0, 1350.0, 1000.0),
    "plate-load": (
        lambda v: (example(), strong(CONSTRUCTION), Loads(panel_n=v)),
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
    assert {finding.code for finding in found} == set(CASES)
    for finding in found:
        assert finding.basis is not None
        assert finding.basis.method
        assert finding.basis.assumptions


def test_what_no_figure_is_known_for_is_a_warning_never_a_pass() -> None:
    """The example's boards have no strength, and its leg no wall: formulas for solid wood are not
    stretched to them.
    """
    found = checked(example(), CONSTRUCTION)
    unknown = {"notch-bearing", "deck-bending", "deck-hold", "leg-load", "wall-head"}
    assert amiss(found) == dict.fromkeys(unknown, WARN)
    assert all(f.limit == 0.0 and f.measured > 0 for f in found if f.code in unknown)


def test_a_screw_that_nds_does_not_cover_is_a_warning_never_a_pass() -> None:
    """A screw of 8 mm: the rules for bearing and reduction change at 1/4 in."""
    made = strong(CONSTRUCTION)
    thick = replace(made.screw_wall, major_diameter_mm=8.0)
    plate = replace(made.wall_plate, screw=thick)
    found = amiss(checked(example(), replace(made, screw_wall=thick, wall_plate=plate)))
    assert found == {"wall-pull": WARN, "plate-load": WARN}


def test_somebody_who_sits_beside_a_notch_by_hand() -> None:
    """A table of 16 in between panels whose middles are 32 7/8 in apart, its edge 8 7/16 in from
    one: the pad's middle is 314.3 of 835.0 mm away, so that panel bears 0.6236 of 1112 N, and half
    of the table, on 1/4 in of steel across 3/4 in of board.
    """
    sits, empty = (
        next(
            finding.measured
            for finding in checked(example(), strong(CONSTRUCTION), Loads(seat_n=seat_n))
            if finding.code == "notch-bearing" and "sits" in finding.message
        )
        for seat_n in (1112.0, 0.0)
    )
    bearing_mm2 = INCH / 4 * INCH * 3 / 4
    assert sits - empty == pytest.approx(0.6236 * 1112 / bearing_mm2, rel=1e-3)
    crushed = worst(checked(example(), strong(CONSTRUCTION), Loads(seat_n=8000.0, spread_n_m2=1.0)))
    assert crushed["notch-bearing"] is FAIL


# Code, end of the place, words of the message: what is measured and the limit, nine tenths of what
# is allowed. Boards bear 40 N/mm2 and so on (STRONG), over 1.5 x 1.3 / k_mod: k_mod .80 for
# somebody who sits down, .60 for what lies on a floor, .40 for what is stored (EN 1995-1-1 table
# 3.1, from memory).
SHORT, MEDIUM, LONG = 1.95 / 0.80, 1.95 / 0.60, 1.95 / 0.40
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
    ("notch-bearing", "bench/side panel", "what lies on it"): (
        (TABLE_N + ON_TABLE_N) / 2 / (0.25 * 0.75 * INCH**2),
        40 / LONG,
    ),
    ("notch-bearing", "bench/side panel", "sits down"): (None, 40.0),  # an accident: 1.0
    ("deck-bending", "bench/deck", "1112 N"): (None, 40 / SHORT),
    ("deck-bending", "bench/deck", "2394 N/m2"): (None, 40 / MEDIUM),
    ("deck-hold", "bench/deck", "glued"): (None, 2.0 / SHORT),
    ("deck-hold", "bed/deck 1", "screw"): (None, 4000 / SHORT),
    ("wall-head", "bench/head wall rail", ""): (None, 4000 / SHORT),
    # The foot half of the deck, 60 x 40 in, on four legs, and somebody over one of them.
    ("leg-load", "bed/deck 2", ""): (1112 + 2394 * 60 * 40 * (INCH / 1000) ** 2 / 4, None),
    # 3 in through 3/4 of rail and 15.9 of lining: 41.25 mm, less than the two thirds of a screw
    # that are threaded. NDS 12.2-2: 2850 x .42^2 x .190 = 95.5 lb for each inch.
    ("wall-pull", "bench", "41 mm of thread"): (None, 95.52 * 4.44822 / INCH * 41.25),
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
        if finding.code == code and finding.where.endswith(place) and words in finding.message
    )
    measured, allowed = BY_HAND[code, place, words]
    if measured is not None:
        assert found.measured == pytest.approx(measured, rel=3e-3)
    if allowed is not None:
        assert found.limit == pytest.approx(0.9 * allowed, rel=3e-3)


def test_what_is_sat_on_is_pulled_by_who_sits_and_the_rest_by_who_holds_on() -> None:
    """The bench by the seat load, the table, which is no seat, by the load on panels as well: it
    stands on the angle, where a seat load counts too.
    """

    def pull(where: str, seat_n: float, panel_n: float) -> float:
        loads = Loads(seat_n=seat_n, panel_n=panel_n)
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
            material=replace(CONSTRUCTION.deck, strength=STRONG),
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


@pytest.mark.parametrize(
    ("joints", "code", "words", "measured", "allowed"),
    [
        # A pad in the corner stands 100 mm beyond a rail, shared by 160 mm to one side and by what
        # there is, 100, to the other: M / (b t2 / 6).
        ((), "deck-bending", "1112 N", 6 * 1112 * 100 / (260 * 19**2), 40 / SHORT),
        # An even load: w a2 / 2 over a rail, a = 200.
        ((), "deck-bending", "N/m2", 6 * 2394e-6 * 200**2 / 2 / 19**2, 40 / MEDIUM),
        # The tip: w a4 / 8 and a times the slope over the rail, w (a2 L / 4 - L3 / 24), L = 400:
        # 4.667e8 w / EI; three tenths for years at 2.25 (EN 1995-1-1 2.2.3). Judged by 2 a.
        ((), "deck-sag", "", 2394e-6 * 4.6667e8 / (4000 * 19**3 / 12) * 1.675, 400 / 144),
        # A load 100 mm beyond one rail lifts the deck off the other, 400 away, by a quarter of it:
        # shared by two of its screws, or by adhesive on 20 mm of the rail's edge.
        ((SCREW,) * 3, "deck-hold", "screw", 1112 / 4 / 2, 4000 / SHORT),
        (
            (Bonded(top="deck", on=("one", "other")),),
            "deck-hold",
            "glued",
            1112 / 4 / (260 * 20),
            2.0 / SHORT,
        ),
    ],
)
def test_a_deck_that_overhangs_two_rails_by_hand(
    joints: tuple[Joint, ...], code: str, words: str, measured: float, allowed: float
) -> None:
    (found,) = (
        finding
        for finding in check_strength("set", on_rails(*joints), PLAIN_LOADS)
        if finding.code == code and words in finding.message
    )
    assert found.measured == pytest.approx(measured, rel=1e-3)
    assert found.limit == pytest.approx(0.9 * allowed)


def test_a_seat_that_tips_by_hand() -> None:
    """Deck 9.850 kg and rails of 3.888 each stand on 190 to 610; a pad's middle at 100 levers by 90
    about the near rail's outer edge, the weight by 210.
    """
    (found,) = (f for f in check_strength("set", on_rails(), PLAIN_LOADS) if f.code == "seat-tip")
    assert found.measured == pytest.approx((9.850 + 2 * 3.888) * 9.80665 * 210 / 90, rel=1e-3)


UNITS = {
    "N": {"leg-load", "plate-load", "seat-tip", "wall-head", "wall-pull"},
    "N/mm2": {"angle-bending", "deck-bending", "notch-bearing"},
    "kg": {"board-mass", "unit-lift"},
    "D": {"cleat-edge", "cleat-end", "cleat-row"},  # in diameters of the screw
    "parts": {"step-path"},
    "tasks": {"step-order"},
}


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
        assert f" {finding.unit}" in finding.message or finding.unit in {"parts", "tasks"}
    assert units.pop("deck-hold") == {"N", "N/mm2"}
    known = {code: {unit} for unit, codes in UNITS.items() for code in codes}
    assert known.keys() < units.keys()
    assert units == {code: known.get(code, {"mm"}) for code in units}


def test_both_hands_bear_the_same() -> None:
    right, left = (
        [
            (f.code, f.where, f.severity, round(f.measured, 6))
            for f in checked(example(), strong(CONSTRUCTION), hand=hand)
        ]
        for hand in Hand
    )
    assert right == left


def test_a_raised_load_says_so() -> None:
    found = checked(example(), strong(CONSTRUCTION), Loads(seat_n=1500.0))
    told = [f.source for f in found if f.code in {"deck-bending", "wall-pull", "angle-bending"}]
    assert sum("raised by the job" in source for source in told) >= len(told) / 2
    plain = checked(example(), strong(CONSTRUCTION))
    assert not any("raised by the job" in f.source for f in plain)


def box(x: tuple[float, float], y: tuple[float, float]) -> Box:
    return Box(Point(x[0], y[0], 0.0), Point(x[1], y[1], 19.0))


def test_a_deck_on_two_rails_by_hand() -> None:
    """800 wide, its rails' middles 200 and 600: in the middle P L / 4 = 100; a pad whose middle is
    100 from the edge stands 100 beyond a rail: P x 100 on 200 + 1.2 x 100 of width, held down by a
    quarter of the load at the other rail.
    """
    rails = (box((190.0, 210.0), (0.0, 900.0)), box((590.0, 610.0), (0.0, 900.0)))
    places = {
        found.place: found
        for found in DeckStrips(box((0.0, 800.0), (0.0, 900.0)), rails).at_places()
    }
    middle = places[400.0, 400.0]
    assert middle.moment_mm == pytest.approx(100.0)
    assert middle.width_mm == pytest.approx(200.0 + 2.24 * 100.0)
    assert middle.uplift == 0.0
    edge = places[100.0, 400.0]
    assert edge.moment_mm == pytest.approx(100.0)
    assert edge.width_mm == pytest.approx(320.0)
    assert edge.uplift == pytest.approx(0.25)
    corner = places[100.0, 100.0]
    assert corner.width_mm == pytest.approx(160.0 + 100.0), "less board beside it shares the load"


def test_a_corner_that_no_strip_reaches_is_a_lever() -> None:
    """A post of 400 mm square under a deck of 800: the pad stands 100 x 1.414 beyond its corner."""
    post = (box((200.0, 600.0), (200.0, 600.0)),)
    places = {
        found.place: found
        for found in DeckStrips(box((0.0, 800.0), (0.0, 800.0)), post).at_places()
    }
    corner = places[100.0, 100.0]
    assert corner.how.startswith("a corner 141 mm")
    assert corner.uplift == pytest.approx(100 * 2**0.5 / 400)


def test_an_even_load_on_a_corner_that_no_strip_reaches_by_hand() -> None:
    """The same post: from its corner to the far side of a pad in the deck's corner are 100 x 1.414
    and half a pad of 200. A cantilever a under w = 1: w a2 / 2, w a4 / 8 / EI, judged by 2 a.
    """
    post = (box((200.0, 600.0), (200.0, 600.0)),)
    strips = DeckStrips(box((0.0, 800.0), (0.0, 800.0)), post)
    places = [found.place for found in strips.at_places()]
    (spread,) = dict(zip(places, strips.spreads(), strict=True))[100.0, 100.0]
    out_mm = 100 * 2**0.5 + 100
    assert spread.moment == pytest.approx(out_mm**2 / 2)
    assert spread.sag == pytest.approx(out_mm**4 / 8)
    assert spread.span_mm == pytest.approx(2 * out_mm)


@pytest.mark.parametrize("over_mm", [0.0, 0.0001, 0.0004])
@pytest.mark.parametrize("along", [Axis.X, Axis.Y])
def test_a_deck_whose_length_is_no_whole_micrometre(along: Axis, over_mm: float) -> None:
    """Inches come to fractions of a micrometre, and a board that ends with the deck is no support
    a little short of its end, which nothing could be worked out for. By hand: supports at 200, 720
    and 1000; 100 beyond the first, -100 there and 32.5 over the second by the three-moment
    equation, 520 x -100 + 2 x 800 M = 0; it holds down with 132.5 / 520 + 32.5 / 280.
    """
    length_mm = 1000.0 + over_mm
    plan = (
        ((0.0, length_mm), (0.0, 400.0)),
        ((190.0, 210.0), (0.0, 400.0)),
        ((720.0, length_mm), (80.0, 120.0)),
    )
    deck, *holding = (box(x, y) if along is Axis.X else box(y, x) for x, y in plan)
    strips = DeckStrips(deck, tuple(holding))
    found = next(each for each in strips.at_places() if each.place == (100.0, 100.0))
    assert found.how == f"a strip along {along.name.lower()}, overhanging by 100 mm under the load"
    assert found.moment_mm == pytest.approx(100.0)
    assert found.uplift == pytest.approx(132.5 / 520 + 32.5 / 280, rel=1e-6)


@pytest.mark.parametrize("length_mm", [650.0, 1050.0, 2050.0, 2032.0])
@pytest.mark.parametrize("along", [Axis.X, Axis.Y])
def test_an_even_load_on_a_deck_a_little_longer(along: Axis, length_mm: float) -> None:
    """Less than half a micrometre more changes nothing of what an even load does to a deck on a
    rail at 200 and a board that ends with it.
    """

    def spreads(over_mm: float) -> list[tuple[float, float, float]]:
        end_mm = length_mm + over_mm
        plan = (
            ((0.0, end_mm), (0.0, 400.0)),
            ((190.0, 210.0), (0.0, 400.0)),
            ((length_mm - 280.0, end_mm), (80.0, 120.0)),
        )
        deck, *holding = (box(x, y) if along is Axis.X else box(y, x) for x, y in plan)
        told = DeckStrips(deck, tuple(holding)).spreads()
        return [(each.moment, each.sag, each.span_mm) for found in told for each in found]

    level = spreads(0.0)
    for over_mm in (0.0001, 0.0002, 0.0003, 0.0004):
        for found, wanted in zip(spreads(over_mm), level, strict=True):
            assert found == pytest.approx(wanted, rel=1e-4)  # places are rounded


@pytest.mark.parametrize("short_mm", [0.001, 0.002, 0.01, 0.05])
@pytest.mark.parametrize("at_start", [False, True])
def test_a_board_that_ends_just_short_of_its_deck_carries_its_end(
    at_start: bool, short_mm: float
) -> None:
    """As when 1 m is given as 39.37 in. By hand: a board from one end to 280 and a rail at 1,720 of
    2,000; a load at 1,900 stands 180 beyond the rail.
    """
    plan = (
        ((0.0, 2000.0), (0.0, 400.0)),
        ((1710.0, 1730.0), (0.0, 400.0)),
        ((short_mm, 280.0), (80.0, 120.0)),
    )
    deck, *holding = (box(x if at_start else (2000.0 - x[1], 2000.0 - x[0]), y) for x, y in plan)
    strips = DeckStrips(deck, tuple(holding))
    ends = (0.0, 280.0, 1720.0)
    wanted = ends if at_start else tuple(sorted(2000.0 - each for each in ends))
    assert strips.rests_mm(Axis.X, 100.0, strips.supports) == pytest.approx(wanted, abs=1e-9)
    beyond = (1900.0 if at_start else 100.0), 100.0
    found = next(each for each in strips.at_places() if each.place == beyond)
    assert found.moment_mm == pytest.approx(180.0)
    assert all(each.sag >= 0.0 for spread in strips.spreads() for each in spread)


def test_a_leg_never_holds_a_deck_down() -> None:
    """A panel on two legs at 100 and 500 and a rail at 900: a load beyond the rail would pull the
    far leg up, and so rests on nothing that holds it.
    """
    legs = (box((80.0, 120.0), (80.0, 120.0)), box((480.0, 520.0), (80.0, 120.0)))
    rail = (box((890.0, 910.0), (0.0, 200.0)),)
    strips = DeckStrips(box((0.0, 1200.0), (0.0, 600.0)), rail, legs)
    beyond = next(each for each in strips.at_places() if each.place == (1100.0, 100.0))
    assert beyond.how.startswith("a corner")
    between = next(each for each in strips.at_places() if each.place == (300.0, 100.0))
    assert between.moment_mm == pytest.approx(100.0)
