"""One measured room against its set: what is refused, and what is made up for on site.

The example set is 24 + 16 + 60 in wide with two butt gaps of 1/16; its bench stands on a box of
16 x 36 in, 44 in deep at its deck. Limits are common practice, no source.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric.findings.finding import Severity
from parametric.geometry.hand import Hand
from parametric.geometry.walls import Wall
from parametric.rooms.fit import fit_room, run_mm
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.room_findings import room_findings
from parametric.rooms.room_fit import RoomFit
from parametric.rooms.wall_fixings import wall_fixings
from parametric.sets.room_set import RoomSet, build_set
from parametric.stock.lengths import Units
from tests.compositions import BUILT_FROM
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.parametric.test_desk import built, desk
from tests.parametric.test_other_walls import AWAY_MM, run
from tests.told import said

FITTING = Fitting(least_gap_mm=3.0, tight_gap_mm=6.0, most_scribe_mm=20.0, most_levelling_mm=15.0)
RUN_MM = (24 + 16 + 60 + 2 / 16) * INCH
DEEP_MM = 44 * INCH


def example(hand: Hand = Hand.RIGHT, bed_width: float = 60.0) -> RoomSet:
    sizes = set_sizes(bed_width=bed_width)
    return build_set(sizes, hand, CONSTRUCTION, ROUTING, TRIM_MM)


RIGHT, LEFT = example(), example(Hand.LEFT)
NARROW = example(bed_width=39.0)


def fit(measured: Measured, of: RoomSet = RIGHT, others: tuple[RoomSet, ...] = ()) -> RoomFit:
    return fit_room("31", of, measured, others, FITTING, Units.MM)


def codes(measured: Measured, of: RoomSet = RIGHT) -> dict[str, Severity]:
    return {f.code: f.severity for f in room_findings(fit(measured, of), FITTING)}


def test_the_set_reaches_as_far_as_its_sizes_say():
    assert run_mm(RIGHT) == pytest.approx(RUN_MM)


def test_nothing_is_assumed_of_a_room_that_nobody_has_measured():
    found = fit(Measured())
    assert found.fits
    assert (found.gaps, found.wedge, found.levelling) == ((), None, ())
    # What the set itself asks for: its bed stands off the wall, and the foot of its panel.
    assert {shim.where for shim in found.shims} == {
        "bed head panel to the head wall",
        "wall panel to the head wall",
    }
    assert (found.wall_base_cut_mm, found.missed, codes(Measured())) == (None, (), {})
    assert {"opening at the seat", "corner", "floor", "wall base", "studs"} <= set(found.unknown)


@pytest.mark.parametrize(
    ("spare_mm", "severity", "told"),
    [
        (400.0, Severity.OK, ""),
        (6.0, Severity.OK, ""),
        (4.0, Severity.WARN, ""),
        (2.0, Severity.FAIL, "only 2 mm to spare at the seat; it needs 3 mm"),
        (-7.0, Severity.FAIL, "7 mm too long at the seat"),
    ],
)
def test_the_opening_decides_whether_a_set_goes_in(spare_mm, severity, told):
    measured = Measured(opening_at_seat_mm=RUN_MM + spare_mm)
    assert fit(measured).refusal == told
    assert codes(measured) == {"room-fit": severity}


def test_the_narrowest_of_the_openings_counts():
    """At the floor only the base boxes stand, 8 in shorter."""
    base_mm = RUN_MM - 8 * INCH
    measured = Measured(
        opening_at_floor_mm=base_mm - 1.0,
        opening_at_seat_mm=RUN_MM + 50.0,
        opening_at_panel_mm=RUN_MM + 40.0,
    )
    assert [round(gap.gap_mm, 6) for gap in fit(measured).gaps] == [-1.0, 50.0, 40.0]
    assert "1 mm too long at the floor" in fit(measured).refusal


def test_a_refused_room_is_told_the_set_that_would_fit():
    """Of two that fit, the one whose length comes nearest, wherever it stands in the list."""
    measured = Measured(opening_at_seat_mm=RUN_MM - 100.0)
    tiny, narrow = replace(example(bed_width=36.0), name="tiny"), replace(NARROW, name="narrow")
    assert fit(measured, others=(tiny, narrow)).nearest == "narrow"
    assert fit(measured, others=(narrow, tiny)).nearest == "narrow"
    assert not fit(measured).nearest
    assert not fit(Measured(opening_at_seat_mm=RUN_MM + 100.0), others=(narrow,)).nearest


@pytest.mark.parametrize(
    ("per_1000", "wedge_mm", "where"),
    [(0.0, None, ""), (4.0, 4 * DEEP_MM / 1000, "in front"), (-4.0, 4 * DEEP_MM / 1000, "corner")],
)
def test_a_corner_out_of_square_leaves_a_wedge(per_1000, wedge_mm, where):
    wedge = fit(Measured(corner_out_of_square_per_1000=per_1000)).wedge
    assert (wedge is None) == (wedge_mm is None)
    if wedge is not None:
        assert wedge.gap_mm == pytest.approx(wedge_mm)
        assert where in wedge.where


def test_a_side_wall_that_leans_in_takes_from_the_opening():
    opening = RUN_MM + 30.0
    square = Measured(opening_at_seat_mm=opening, corner_out_of_square_per_1000=0.0)
    leaning = Measured(opening_at_seat_mm=opening, corner_out_of_square_per_1000=-10.0)
    less = fit(square).gaps[0].gap_mm - fit(leaning).gaps[0].gap_mm
    assert less == pytest.approx(10 * DEEP_MM / 1000)
    wider = Measured(opening_at_seat_mm=opening, corner_out_of_square_per_1000=10.0)
    assert fit(wider).gaps == fit(square).gaps


def test_shims_fill_the_wedge_at_each_screw_of_the_side_wall():
    """The wedge at a distance d from the corner is d times the lean; leaning in, the rest of it."""
    for per_1000, shift in ((5.0, 0.0), (-5.0, 5 * DEEP_MM / 1000)):
        shims = fit(Measured(corner_out_of_square_per_1000=per_1000)).shims
        places = sorted(
            abs(joint.head.y)
            for joint in RIGHT.assembly.joints
            if getattr(joint, "through", "") == "bench/side wall rail"
            and not hasattr(joint, "into")
            and hasattr(joint, "cap")
        )
        expected = sorted(shift + per_1000 / 1000 * place for place in places)
        at_side = [shim.most_mm for shim in shims if "the side wall" in shim.where]
        assert sorted(at_side) == pytest.approx(expected)
        # Screws are counted from the corner, so that each finds its shim.
        first = [shim for shim in shims if shim.screw == 1]
        nearest = shift + per_1000 / 1000 * min(places)
        assert [shim.most_mm for shim in first] == pytest.approx([nearest])


@pytest.mark.parametrize(
    ("per_1000", "severity"), [(10.0, Severity.OK), (17.0, Severity.OK), (19.0, Severity.FAIL)]
)
def test_a_wedge_wider_than_a_scribe_is_refused(per_1000, severity):
    """Of 44 in, 18 thousandths are 20.1 mm. It is scribed or it is not: there is no warning."""
    measured = Measured(corner_out_of_square_per_1000=per_1000)
    assert codes(measured) == {"room-corner": severity}
    assert fit(measured).fits == (severity is Severity.OK)


@pytest.mark.parametrize(("fall_mm", "severity"), [(14.0, Severity.OK), (16.0, Severity.FAIL)])
def test_a_floor_that_falls_is_levelled_up_to_a_limit(fall_mm, severity):
    measured = Measured(floor_high_mm=5.0, floor_low_mm=5.0 - fall_mm)
    found = fit(measured)
    assert codes(measured) == {"room-floor": severity}
    names = {packing.where for packing in found.levelling}
    assert {"bench base, each corner", "bed base, each corner", "bed leg 1"} <= names
    assert {packing.most_mm for packing in found.levelling} == {fall_mm}


def test_wall_base_is_cut_away_where_the_bench_stands():
    """Along the head wall 16 in, along the side wall 36 in; the bed stands clear by 5/8 in."""
    measured = Measured(wall_base_height_mm=100.0, wall_base_thickness_mm=15.0)
    assert fit(measured).wall_base_cut_mm == pytest.approx((16 + 36) * INCH)
    thick = Measured(wall_base_height_mm=100.0, wall_base_thickness_mm=17.0)
    head_panel = 60 - 2 * 8 - 2 * 0.75 + 2 * 0.75
    assert fit(thick).wall_base_cut_mm == pytest.approx((16 + 36 + head_panel) * INCH)
    none = Measured(wall_base_height_mm=0.0, wall_base_thickness_mm=0.0)
    assert fit(none).wall_base_cut_mm == 0.0


def wall_screws(of: RoomSet) -> list[tuple[float, float]]:
    """Distance from the corner and height of each screw into the head wall."""
    return [
        (abs(joint.head.x), joint.head.z)
        for joint in of.assembly.joints
        if type(joint).__name__ == "FixedToWall" and joint.direction.axis == 1
    ]


def test_blocking_at_every_height_misses_nothing():
    bands = tuple((z - 20.0, z + 20.0) for _, z in wall_screws(RIGHT))
    measured = Measured(blocking_mm=bands)
    assert fit(measured).missed == ()
    assert codes(measured) == {"wall-fixing-missed": Severity.OK}


def test_a_band_of_blocking_too_low_is_told_with_height_and_place():
    highest = max(z for _, z in wall_screws(RIGHT))
    bands = tuple((z - 20.0, z + 20.0) for _, z in wall_screws(RIGHT) if z < highest - 1.0)
    measured = Measured(blocking_mm=bands)
    missed = fit(measured).missed
    assert {round(each.height_mm, 3) for each in missed} == {round(highest, 3)}
    expected = sorted(x for x, z in wall_screws(RIGHT) if z > highest - 1.0)
    assert sorted(each.across_mm for each in missed) == pytest.approx(expected)
    assert codes(measured) == {"wall-fixing-missed": Severity.WARN}


def test_a_screw_in_a_stud_needs_no_blocking():
    """Studs as wide as their spacing leave nothing between them."""
    measured = Measured(first_stud_mm=0.0, stud_spacing_mm=16.0, blocking_mm=())
    assert fit(measured).missed == ()
    far = Measured(first_stud_mm=0.0, stud_spacing_mm=1200.0, blocking_mm=())
    reach = FITTING.stud_width_mm / 2 - FITTING.stud_edge_mm
    expected = [
        x for x, _ in wall_screws(RIGHT) if min(abs(x - k * 1200.0) for k in range(4)) > reach
    ]
    assert len(fit(far).missed) == len(expected) > 0


RAIL_MM = 0.6 * 13.25 * INCH
"""Height of the bench's wall screws: six tenths of its rails."""


@pytest.mark.parametrize(
    ("low", "high", "met"),
    [(-8.0, 90.0, True), (-7.9, 90.0, False), (-90.0, 8.0, True), (-90.0, 7.9, False)],
)
@pytest.mark.parametrize("wall", ["head wall", "side wall"])
def test_a_screw_too_near_to_an_edge_of_blocking(low, high, met, wall):
    """8 mm from either edge, on the wall that the blocking is in; there is none in the other."""
    band = ((RAIL_MM + low, RAIL_MM + high),)
    head = wall == "head wall"
    measured = Measured(blocking_mm=band if head else (), side_blocking_mm=() if head else band)
    missed = {each.where for each in fit(measured).missed}
    assert (f"bench {wall} rail to the {wall}" not in missed) is met
    other = "side wall" if head else "head wall"
    assert f"bench {other} rail to the {other}" in missed


@pytest.mark.parametrize(
    ("first_mm", "spacing_mm", "met"),
    # Screws of the head wall rail at 109.05, 203.2 and 297.35 mm; a stud of 38 is met up to 11 from
    # its middle. One stud alone; studs every 94.15, as the screws; and every 188.3, as every other.
    [
        (109.05 + 10.9, None, {109.05}),
        (109.05 - 11.1, None, set()),
        (297.35 + 11.1, None, set()),
        (109.05 + 5.0, 94.15, {109.05, 203.2, 297.35}),
        (109.05 + 5.0, 188.3, {109.05, 297.35}),
        # No stud stands between the first one and the corner.
        (297.35, 94.15, {297.35}),
    ],
)
def test_which_screws_meet_a_stud(first_mm, spacing_mm, met):
    measured = Measured(first_stud_mm=first_mm, stud_spacing_mm=spacing_mm, blocking_mm=())
    missed = {
        round(each.across_mm, 3)
        for each in fit(measured).missed
        if each.where.startswith("bench head wall rail")
    }
    assert {109.05, 203.2, 297.35} - missed == met


def missing(measured: Measured) -> str:
    (found,) = (f for f in room_findings(fit(measured), FITTING) if f.code == "wall-fixing-missed")
    return said(found)


def test_screws_that_find_no_wood_are_counted_in_words():
    """How many there are, says the fit; why, the reasons, each once."""
    nowhere = Measured(blocking_mm=())
    number = len(fit(nowhere).missed)
    assert missing(nowhere) == f"{number} wall screws miss stud and blocking: " + ", ".join(
        dict.fromkeys(each.reason for each in fit(nowhere).missed)
    )
    bands = ((0.0, 3000.0),)
    assert missing(Measured(blocking_mm=bands)) == "no wall screw misses stud and blocking"
    thick = Measured(blocking_mm=bands, wall_lining_mm=60.0)
    assert missing(thick).endswith(
        " wall screws without enough hold: too little thread in the wood behind the lining"
    )


def test_a_thick_lining_leaves_too_little_thread():
    bands = ((0.0, 3000.0),)
    thin = Measured(blocking_mm=bands, wall_lining_mm=13.0)
    thick = Measured(blocking_mm=bands, wall_lining_mm=60.0)
    assert fit(thin).missed == ()
    assert {each.reason for each in fit(thick).missed} == {
        "too little thread in the wood behind the lining"
    }


MEASURED = st.builds(
    Measured,
    opening_at_floor_mm=st.none() | st.floats(1000, 4000),
    opening_at_seat_mm=st.none() | st.floats(1000, 4000),
    opening_at_panel_mm=st.none() | st.floats(1000, 4000),
    corner_out_of_square_per_1000=st.none() | st.floats(-30, 30),
    floor_high_mm=st.none() | st.floats(0, 20),
    floor_low_mm=st.none() | st.floats(-20, 0),
    wall_base_height_mm=st.none() | st.floats(0, 150),
    wall_base_thickness_mm=st.none() | st.floats(0, 25),
    first_stud_mm=st.none() | st.floats(0, 600),
    stud_spacing_mm=st.none() | st.floats(300, 600),
    blocking_mm=st.none() | st.just(((180.0, 230.0), (900.0, 1100.0))),
)


@given(MEASURED)
@settings(max_examples=60)
def test_a_mirrored_room_asks_for_the_same(measured):
    right, left = fit(measured, RIGHT), fit(measured, LEFT)
    assert right.refusal == left.refusal
    assert right.unknown == left.unknown
    for one, other in zip(
        (*right.gaps, *right.shims, *right.levelling, *right.missed),
        (*left.gaps, *left.shims, *left.levelling, *left.missed),
        strict=True,
    ):
        assert one.where == other.where
    assert [gap.gap_mm for gap in right.gaps] == pytest.approx([gap.gap_mm for gap in left.gaps])
    assert [shim.most_mm for shim in right.shims] == pytest.approx(
        [shim.most_mm for shim in left.shims]
    )
    assert right.wall_base_cut_mm == pytest.approx(left.wall_base_cut_mm)


@given(MEASURED)
@settings(max_examples=60)
def test_a_room_fails_exactly_when_it_is_refused(measured):
    failed = Severity.FAIL in codes(measured).values()
    assert failed != fit(measured).fits


def test_what_stands_along_the_side_wall_fills_that_opening_alone() -> None:
    """A desk from 300 to 1300 out: 25 mm are left of 1325, and nothing along the head wall."""
    room_set = built(desk())
    found = fit_room(
        "1",
        room_set,
        Measured(side_opening_mm=1325.0, opening_at_seat_mm=400.0),
        (),
        FITTING,
        Units.MM,
    )
    assert found.gaps == ()
    assert [(g.where, g.gap_mm, g.beyond) for g in found.side_gaps] == [
        ("along the side wall", pytest.approx(25.0), "desk/top")
    ]
    assert found.fits
    tight = fit_room("1", room_set, Measured(side_opening_mm=1301.0), (), FITTING, Units.MM)
    assert tight.refusal == "only 1 mm to spare along the side wall; it needs 3 mm"
    unknown = fit_room("1", room_set, Measured(), (), FITTING, Units.MM).unknown
    assert "opening along the side wall" in unknown
    foot = fit_room("1", built(desk(Wall.FOOT)), Measured(), (), FITTING, Units.MM)
    assert "foot wall" in foot.unknown
    assert "opening along the side wall" not in foot.unknown


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("wall", list(Wall))
def test_wall_screws_name_their_wall_and_count_from_its_corner(wall: Wall, hand: Hand) -> None:
    """The first screw of the cleat: 300 from the corner, the end 20 in, the first 60 further."""
    fixings = wall_fixings(built(desk(wall), hand).assembly)
    assert {fixing.wall for fixing in fixings} == {wall}
    assert min(fixing.across_mm for fixing in fixings) == pytest.approx(380.0)
    assert {fixing.where for fixing in fixings} == {f"desk wall cleat 1 to the {wall}"}


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize(("wall", "beside"), [(Wall.FAR, Wall.HEAD), (Wall.FOOT, Wall.SIDE)])
def test_what_stands_along_a_far_wall_counts_from_that_wall(
    wall: Wall, beside: Wall, hand: Hand
) -> None:
    """A table in its far corner, screwed to both walls of it: its screws in the wall beside its own
    are no further from there than it is deep; the blocking plan counts like that.
    """
    (own,) = run(wall).runs
    table = replace(own, units=(replace(own.units[-1], gap_mm=None), *own.units[:1]))
    sizes = replace(run(wall), runs=(table,), ties=(), hung=())
    of = build_set(sizes, hand, BUILT_FROM, ROUTING, TRIM_MM)
    measured = Measured(blocking_mm=(), side_blocking_mm=())
    missed = [each for each in fit(measured, of).missed if each.where.endswith(str(beside))]
    assert missed
    assert {each.corner_with for each in missed} == {wall}
    assert all(0 < each.across_mm < AWAY_MM / 4 for each in missed)
    near = fit(measured, RIGHT).missed
    assert {each.corner_with for each in near if each.where.endswith("head wall")} == {Wall.SIDE}


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize(
    ("off_mm", "way", "severity"),
    [(20.0, "", Severity.OK), (-20.0, "", Severity.OK), (21.0, "wider", Severity.FAIL)],
)
def test_a_room_as_wide_as_what_stands_along_its_far_wall_counts_on(
    hand: Hand, off_mm: float, way: str, severity: Severity
) -> None:
    """A set with a far wall knows how far off that is; the openings along the head wall say so."""
    sizes = replace(run(Wall.FAR), room_width_mm=AWAY_MM)
    far = build_set(sizes, hand, BUILT_FROM, ROUTING, TRIM_MM)
    measured = Measured(opening_at_floor_mm=AWAY_MM + off_mm, opening_at_seat_mm=AWAY_MM + 40.0)
    found = fit(measured, far)
    assert found.width_off_mm == pytest.approx(off_mm)
    assert found.fits == (not way)
    assert way in found.refusal
    (finding,) = (f for f in room_findings(found, FITTING) if f.code == "room-width")
    assert finding.severity is severity
    assert fit(measured, RIGHT).width_off_mm is None
    assert fit(Measured(), far).width_off_mm is None


@pytest.mark.parametrize("hand", list(Hand))
def test_a_room_is_measured_once_each_wall_that_the_set_stands_along_is(hand: Hand) -> None:
    """Sets along the head wall, along the side wall alone, and along both."""
    head, side = example(hand), build_set(run(Wall.SIDE), hand, BUILT_FROM, ROUTING, TRIM_MM)
    both = replace(head, walls=(*head.walls, ("bench", Wall.SIDE)))
    along_head, along_side = Measured(opening_at_seat_mm=4000.0), Measured(side_opening_mm=9000.0)
    told = [
        [fit(measured, of).measured for measured in (Measured(), along_head, along_side)]
        for of in (head, side, both)
    ]
    assert told == [[False, True, False], [False, False, True], [False, False, False]]
    assert fit(replace(along_head, side_opening_mm=9000.0), both).measured
