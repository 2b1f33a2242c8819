"""Fit and handling: each check passes, warns and fails as one size is changed, alone.

`slot-line` and `plates-centred` have no warning: what they compare is made from one number, so that
any difference is a slip.
"""

from dataclasses import replace

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.driver_access import free_way_mm
from parametric.findings.finding import Finding, Severity
from parametric.geometry.hand import Hand
from parametric.geometry.space import Box, Direction
from parametric.joints.joints import FixedToWall
from parametric.joints.machining import Machining, machining
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.features import Cutout
from parametric.stock.construction import Construction
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.row import Row

WARN, FAIL = Severity.WARN, Severity.FAIL
Amiss = dict[str, Severity]
ANGLE_PANEL = "bed/near side panel"
HUNG_PANEL = "wall panel/panel"


def built(
    sizes: Row, hand: Hand = Hand.RIGHT, made: Construction = CONSTRUCTION
) -> tuple[RoomSet, Machining]:
    room_set = build_set(sizes, hand, made, ROUTING, TRIM_MM)
    return room_set, machining(room_set.assembly, ROUTING)


def checked(room_set: RoomSet, worked: Machining) -> tuple[Finding, ...]:
    return check_set(room_set, worked, ROUTING, TRIM_MM)


def amiss(found: tuple[Finding, ...]) -> Amiss:
    """Return the worst severity of each code that is not well."""
    worst: Amiss = {}
    for finding in found:
        if finding.severity is not Severity.OK and worst.get(finding.code) is not FAIL:
            worst[finding.code] = finding.severity
    return worst


def with_angle(**values: float) -> Row:
    sizes = set_sizes()
    assert sizes.angle is not None
    return replace(sizes, angle=replace(sizes.angle, **values))


@pytest.mark.parametrize(
    ("from_wall_mm", "expected"),
    [(73.0, {}), (60.0, {"notch-left-beside": WARN}), (35.0, {"notch-left-beside": FAIL})],
)
def test_a_notch_near_the_end_of_its_panel(from_wall_mm: float, expected: Amiss) -> None:
    """By hand: 5/8 in of wall clearance, 1/16 in of play and the overcut of a bit of 3/8 in take
    22.2 mm of it; 50 are wanted, 20 must be.
    """
    found = checked(*built(with_angle(from_wall_mm=from_wall_mm)))
    only = tuple(f for f in found if f.code == "notch-left-beside")
    assert amiss(only) == expected


@pytest.mark.parametrize("side", [Direction.Y_PLUS, Direction.Z_PLUS])
@pytest.mark.parametrize(("moved_mm", "expected"), [(0.0, {}), (0.2, {"slot-line": FAIL})])
def test_a_slot_that_was_moved(side: Direction, moved_mm: float, expected: Amiss) -> None:
    room_set, worked = built(set_sizes())
    features = tuple(
        replace(f, box=f.box.grown(side, moved_mm).grown(side.opposite, -moved_mm))
        if isinstance(f, Cutout)
        else f
        for f in worked.of(ANGLE_PANEL)
    )
    moved = Machining(features={**worked.features, ANGLE_PANEL: features})
    assert amiss(checked(room_set, moved)) == expected


@pytest.mark.parametrize(
    ("deck_width_in", "expected"),
    [(20.0, {}), (16.5, {"driver-access": WARN}), (14.0, {"driver-access": FAIL})],
)
def test_a_bench_too_narrow_for_a_driver(deck_width_in: float, expected: Amiss) -> None:
    """By hand: the box is 8 in less than the deck, and 2 x 3/4 in less inside."""
    sizes = set_sizes()
    assert sizes.bench is not None
    bench = replace(sizes.bench, deck_width_mm=deck_width_in * INCH)
    alone = replace(sizes, bench=bench, table=None, bed=None, wall_panel=None, angle=None)
    found = checked(*built(alone))
    only = tuple(f for f in found if f.code == "driver-access")
    assert amiss(only) == expected
    assert min(f.measured for f in only) == pytest.approx((deck_width_in - 9.5) * INCH)


@pytest.mark.parametrize(("aside_mm", "free_mm"), [(5.9, 150.0), (6.1, 1000.0)])
@pytest.mark.parametrize("side", [Direction.X_MINUS, Direction.Z_PLUS])
def test_a_driver_is_12_mm_wide(side: Direction, aside_mm: float, free_mm: float) -> None:
    """A part 150 mm behind the head, beside the screw's axis; nothing is looked for beyond 1 m."""
    room_set, _ = built(set_sizes())
    joint = next(j for j in room_set.assembly.joints if isinstance(j, FixedToWall))
    there = joint.head.along(joint.direction.opposite, 150.0).along(side, aside_mm)
    part = Box(there, there).grown(side, 50.0).grown(joint.direction.opposite, 20.0)
    for way in (Direction.X_PLUS, Direction.Z_PLUS):
        if way.axis is not side.axis:
            part = part.grown(way, 30.0).grown(way.opposite, 30.0)
    assert free_way_mm(joint, [part]) == pytest.approx(free_mm)


@pytest.mark.parametrize(
    ("gap_mm", "expected"),
    [
        (4.0, {}),
        (2.0, {"panel-below": WARN, "stack-panel-below": WARN}),
        (-1.0, {"panel-below": FAIL, "stack-panel-below": FAIL}),
    ],
)
def test_a_panel_on_the_deck(gap_mm: float, expected: Amiss) -> None:
    sizes = set_sizes()
    assert sizes.wall_panel is not None
    found = checked(*built(replace(sizes, wall_panel=replace(sizes.wall_panel, gap_mm=gap_mm))))
    assert amiss(found) == expected


@pytest.mark.parametrize(
    ("less_mm", "expected"),
    [
        (2.0, {}),
        (4.0, {"panel-lift": WARN, "stack-groove": WARN}),
        (5.5, {"panel-lift": FAIL, "stack-groove": FAIL}),
    ],
)
def test_a_groove_too_low_to_lift_the_panel_on(less_mm: float, expected: Amiss) -> None:
    """The example's groove has 6 mm below the lips."""
    room_set, worked = built(set_sizes())
    features = tuple(
        replace(f, box=f.box.grown(Direction.Z_MINUS, -less_mm)) if isinstance(f, Cutout) else f
        for f in worked.of(HUNG_PANEL)
    )
    lower = Machining(features={**worked.features, HUNG_PANEL: features})
    assert amiss(checked(room_set, lower)) == expected


@pytest.mark.parametrize(("moved_mm", "expected"), [(2.0, {}), (6.0, {"plates-centred": FAIL})])
def test_plates_out_of_the_middle(moved_mm: float, expected: Amiss) -> None:
    """One of three plates moved by 6 mm moves their middle by 2."""
    room_set, worked = built(set_sizes())
    plate = room_set.assembly.wall_plates[0]
    side = Direction.X_PLUS
    there = replace(plate, box=plate.box.grown(side, moved_mm).grown(side.opposite, -moved_mm))
    members = tuple(there if m is plate else m for m in room_set.assembly.members)
    askew = replace(room_set, assembly=replace(room_set.assembly, members=members))
    assert amiss(checked(askew, worked)) == expected


@pytest.mark.parametrize(
    ("times", "expected"),
    [(1.0, {}), (1.5, {"board-mass": WARN}), (2.5, {"board-mass": FAIL})],
)
def test_a_deck_heavier_than_two_may_lift(times: float, expected: Amiss) -> None:
    deck = replace(CONSTRUCTION.deck, density_kg_m3=CONSTRUCTION.deck.density_kg_m3 * times)
    found = checked(*built(set_sizes(), made=replace(CONSTRUCTION, deck=deck)))
    assert amiss(found) == expected


def test_both_hands_are_told_the_same() -> None:
    told = []
    for hand in Hand:
        found = checked(*built(set_sizes(), hand))
        told.append(
            [
                (f.code, f.severity, f.where.replace(f"{hand} hand", ""), round(f.measured, 6))
                for f in found
            ]
        )
    assert told[0] == told[1]
