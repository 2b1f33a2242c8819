"""Parts reach their places: moved as solids, and blocked as soon as one size is wrong.

`step-path` has no warning: a part in the way is in the way.
"""

import math
from dataclasses import replace
from itertools import pairwise

import cadquery as cq
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.findings.finding import Severity
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing
from parametric.joints.machining import machining
from parametric.primitives.decked_box import DeckHold
from parametric.primitives.steel_angle import steel_angle
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.board import Board, Show
from parametric.solids.set_model import model_set
from parametric.steps.order import ordered
from parametric.steps.part_boxes import boxes_of, without
from parametric.steps.step_findings import step_findings, ways_in
from parametric.steps.straight_way import least_in_the_way
from parametric.steps.tasks import Kind
from parametric.steps.tilted_way import Obstacle, tilted_way
from parametric.stock.construction import Construction
from tests.example_set import CONSTRUCTION, INCH, RAW, ROUTING, TRIM_MM, set_sizes
from tests.row import Row

WARN, FAIL = Severity.WARN, Severity.FAIL


def built(sizes: Row, hand: Hand = Hand.RIGHT, made: Construction = CONSTRUCTION) -> RoomSet:
    return build_set(sizes, hand, made, ROUTING, TRIM_MM)


def amiss(room_set: RoomSet) -> dict[str, Severity]:
    found = step_findings("set", room_set.assembly, machining(room_set.assembly, ROUTING))
    return {f.code: f.severity for f in found if f.severity is not Severity.OK}


def boards_of_density(factor: float) -> Construction:
    names = ("deck", "base_panel", "rail", "bearer")
    boards = {name: getattr(CONSTRUCTION, name) for name in names}
    denser = {
        name: replace(board, density_kg_m3=board.density_kg_m3 * factor)
        for name, board in boards.items()
    }
    return replace(CONSTRUCTION, **denser)


def with_bearing(bearing_in: float) -> Row:
    sizes = set_sizes(deck_held=DeckHold.SCREWED)
    assert sizes.angle is not None
    return replace(sizes, angle=replace(sizes.angle, bearing_mm=bearing_in * INCH))


@pytest.mark.parametrize(("bearing_in", "expected"), [(6.0, None), (6.45, WARN), (6.55, FAIL)])
def test_an_angle_too_long_to_bring_in(bearing_in: float, expected: Severity | None) -> None:
    """By hand, level and with the deck away, 32 1/8 in between the bases and a bench box of 16 in:
    the angle is let down between the cleat on the far rail and the bed's panel, 32 1/8 + 16 -
    2 x 3/4 = 46 5/8 in, and is 32 1/8 + 2 x (3/4 + bearing) long: 1 in is spare at 6 in, and 2 go
    with each inch of bearing. Tilting it under the bed's deck can only take away from that.
    """
    room_set = built(with_bearing(bearing_in))
    worked = machining(room_set.assembly, ROUTING)
    found = [f for f in step_findings("set", room_set.assembly, worked) if f.code == "angle-entry"]
    (finding,) = found
    assert finding.severity is (expected or Severity.OK)
    level_mm = (1 - 2 * (bearing_in - 6)) * INCH
    assert level_mm - 1.0 < finding.measured <= level_mm


@pytest.mark.parametrize(("gap_mm", "expected"), [(4.0, None), (-1.0, FAIL)])
def test_a_wall_panel_that_meets_the_deck_has_no_way_in(
    gap_mm: float, expected: Severity | None
) -> None:
    sizes = set_sizes()
    assert sizes.wall_panel is not None
    found = amiss(built(replace(sizes, wall_panel=replace(sizes.wall_panel, gap_mm=gap_mm))))
    assert found.get("step-path") is expected


@pytest.mark.parametrize(("density_factor", "expected"), [(0.6, None), (1.5, WARN), (4.0, FAIL)])
def test_a_box_is_turned_over_by_two_by_more_or_by_nobody(
    density_factor: float, expected: Severity | None
) -> None:
    sizes = set_sizes(deck_held=DeckHold.SCREWED)
    found = amiss(built(sizes, made=boards_of_density(density_factor)))
    assert found.get("unit-lift") is expected


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("held", DeckHold)
def test_the_angle_moved_as_a_solid_meets_nothing(held: DeckHold, hand: Hand) -> None:
    """The real solids, notches with their corner relief, moved by the CAD kernel (Open CASCADE)
    through every posture of the way that is found; at the last one, it also rises straight up.
    """
    model = model_set(built(set_sizes(deck_held=held), hand), ROUTING)
    assembly = model.room_set.assembly
    tasks = ordered(assembly)
    at = next(at for at, task in enumerate(tasks) if task.kind is Kind.ANGLE)
    names = [name for task in tasks[:at] for name in task.parts]
    angle = assembly.angles[0]
    there = {name: boxes_of(assembly.part(name), model.machining) for name in names}
    edge, towards, way = max(ways_in(assembly, angle, there), key=lambda found: found[2].spare_mm)
    assert way.spare_mm > 0
    solids = {**model.solids.boards, **model.solids.members}
    here = cq.Compound.makeCompound([solids[name] for name in names if name in solids])
    end = angle.box.side(towards)
    home = solids[angle.name].translate(cq.Vector(-end, 0.0, -edge.z))
    # Level into an open box, tilted under a deck that came with it.
    assert (len(way.postures) > 10) is (held is DeckHold.SCREWED)
    for posture in way.postures:
        turned = home.rotate(
            cq.Vector(0, 0, 0), cq.Vector(0, 1, 0), posture.tilt_deg * towards.sign
        )
        tilt = math.radians(posture.tilt_deg)
        moved = turned.translate(
            cq.Vector(
                edge.x + towards.sign * posture.reach_mm * math.cos(tilt),
                0.0,
                edge.z + posture.raised_mm - posture.reach_mm * math.sin(tilt),
            )
        )
        assert moved.intersect(here).Volume() == pytest.approx(0.0, abs=1.0), posture
    for rise_mm in range(25, 1500, 25):
        risen = moved.translate(cq.Vector(0.0, 0.0, rise_mm))
        assert risen.intersect(here).Volume() == pytest.approx(0.0, abs=1.0), rise_mm
    sunk = moved.translate(cq.Vector(0.0, 0.0, -posture.raised_mm - 50.0))
    assert sunk.intersect(here).Volume() > 1000.0, "the check would see a part in the way"


def test_a_member_is_let_down_level_where_nothing_lies_over_the_notches() -> None:
    """By hand: 1,000 mm between two stops that stand higher than it, with 30 mm to spare."""
    stops = [Obstacle((-400.0, -50.0), (-300.0, 80.0)), Obstacle((700.0, -50.0), (710.0, 80.0))]
    way = tilted_way(stops, 970.0, 50.0)
    assert way.spare_mm == pytest.approx(30.0, abs=0.1)
    assert way.tilt_deg == 0.0


def test_a_way_goes_by_one_degree_or_one_centimetre_at_a_time() -> None:
    """So that nothing in between is passed over. A member of 1,000 mm is too long to come up level
    between a stop behind the notch and a deck over its other end, 920 apart: it has to be tilted.
    """
    stops = [
        Obstacle((-400.0, -50.0), (-300.0, 80.0)),
        Obstacle((620.0, 60.0), (900.0, 80.0)),
        Obstacle((900.0, -50.0), (910.0, 80.0)),
    ]
    way = tilted_way(stops, 1000.0, 50.0)
    assert way.spare_mm > 0
    assert way.tilt_deg > 1
    assert (way.postures[0].tilt_deg, way.postures[0].raised_mm) == (0.0, 0.0)
    for one, then in pairwise(way.postures):
        tilted = abs(then.tilt_deg - one.tilt_deg)
        raised = abs(then.raised_mm - one.raised_mm) / 10
        assert sorted((tilted, raised)) == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize("from_wall_mm", [0.5, 30.0])
@pytest.mark.parametrize("sign", [1, -1])
def test_the_side_wall_is_on_the_side_that_the_set_stands_off(
    sign: int, from_wall_mm: float
) -> None:
    """A right hand stands off the corner to one side, a left hand to the other. By hand: an angle
    of 900 mm is let down level between the wall and a box 950 off it, with 50 to spare.
    """

    def spanning(near: float, far: float, z: tuple[float, float]) -> Box:
        ends = sorted((sign * near, sign * far))
        return Box.spanning((ends[0], ends[1]), (0.0, 300.0), z)

    run = sorted((sign * from_wall_mm, sign * (from_wall_mm + 900.0)))
    angle = steel_angle("tie/angle", (run[0], run[1]), 100.0, 400.0, CONSTRUCTION)
    panels = tuple(
        Board(
            name=name,
            unit=name,
            description=name,
            material=RAW,
            box=spanning(at, at + RAW.thickness_mm, (0.0, 400.0)),
            grain=Axis.Z,
            facing=Direction.X_PLUS,
            show=Show.NONE,
        )
        for name, at in (("near", 100.0), ("far", 700.0))
    )
    passing = tuple(
        Passing(member=angle.name, through=panel.name, clearance_mm=1.5) for panel in panels
    )
    assembly = Assembly(boards=panels, members=(angle,), joints=passing)
    there = {"box": (spanning(950.0, 1000.0, (0.0, 600.0)),)}
    spare = [way.spare_mm for *_, way in ways_in(assembly, angle, there)]
    assert spare == pytest.approx([50.0, 50.0], abs=0.1)


def test_a_deck_over_the_open_notch_leaves_no_way() -> None:
    over = [Obstacle((-200.0, 60.0), (900.0, 80.0)), Obstacle((600.0, -50.0), (620.0, 50.0))]
    assert tilted_way(over, 500.0, 50.0).spare_mm == -500.0


boxes = st.builds(
    lambda low, size: Box(
        Point(*map(float, low)), Point(*(a + b for a, b in zip(low, size, strict=True)))
    ),
    st.tuples(*[st.integers(0, 8)] * 3),
    st.tuples(*[st.integers(1, 8)] * 3),
)


def volume(box: Box | None) -> float:
    return 0.0 if box is None else math.prod(box.size(axis) for axis in Axis)


@given(boxes, boxes)
def test_what_is_left_of_a_box_and_what_was_cut_make_the_whole(box: Box, cut: Box) -> None:
    left = without(box, cut)
    assert sum(map(volume, left)) == volume(box) - volume(box.overlap(cut))
    assert all(rest.overlap(cut) is None for rest in left)
    assert all(
        one.overlap(other) is None for at, one in enumerate(left) for other in left[at + 1 :]
    )


def test_a_straight_way_is_blocked_from_both_sides_or_it_is_free() -> None:
    def cube(x: float, y: float, z: float) -> Box:
        return Box(Point(x, y, z), Point(x + 10, y + 10, z + 10))

    coming = [cube(0, 0, 0)]
    above, before = cube(5, 5, 50), cube(5, -60, 5)
    behind = cube(5, 60, 5)
    assert least_in_the_way(coming, {"above": [above]}) == ()
    free = least_in_the_way(coming, {"one": [before]}), least_in_the_way(coming, {"one": [behind]})
    assert free == ((), ())
    blocked = [
        least_in_the_way(coming, {"above": [above], "side": [side]}) for side in (before, behind)
    ]
    # Only one of the two sides is the room's.
    assert sorted(map(len, blocked)) == [0, 1]


@pytest.mark.parametrize(
    ("deck_width_in", "expected"), [(24.0, Severity.OK), (18.0, WARN), (14.0, FAIL)]
)
def test_a_driver_reaches_the_screws_inside_a_box(deck_width_in: float, expected: Severity) -> None:
    """By hand: the bench's box is 8 in less than its deck and 2 x 3/4 in less inside; a screw goes
    through 1 1/2 in of its cleat, and another cleat as wide stands opposite.
    """
    sizes = set_sizes()
    assert sizes.bench is not None
    bench = replace(sizes.bench, deck_width_mm=deck_width_in * INCH)
    alone = built(replace(sizes, bench=bench, table=None, bed=None, wall_panel=None, angle=None))
    found = step_findings("set", alone.assembly, machining(alone.assembly, ROUTING))
    (finding,) = (f for f in found if f.code == "driver-access")
    assert finding.severity is expected
    assert finding.measured == pytest.approx((deck_width_in - 8 - 1.5 - 2 * 1.5) * INCH)
