"""From joints to features, on boards of the tests' own."""

import pytest

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Hung, Screwed
from parametric.joints.machining import machining
from parametric.primitives.hung_panel import wall_plate
from parametric.shapes.board import Board, Show
from parametric.shapes.features import Cutout, Hole
from parametric.solids.board_solid import board_solid
from parametric.solids.flatten import flatten
from tests.example_set import CONSTRUCTION, INCH, NO_6_WIDE, RAW, ROUTING

T = RAW.thickness_mm


def board(name: str, box: Box, grain: Axis, facing: Direction) -> Board:
    return Board(
        name=name,
        unit="test",
        description=name,
        material=RAW,
        box=box,
        grain=grain,
        facing=facing,
        show=Show.NONE,
    )


def corner() -> Assembly:
    """A shelf screwed through the side it butts against: into its edge."""
    side = board("side", Box.spanning((0, T), (0, 400), (0, 600)), Axis.Z, Direction.X_MINUS)
    shelf = board(
        "shelf", Box.spanning((T, 700), (0, 400), (300, 300 + T)), Axis.X, Direction.Z_PLUS
    )
    screw = Screwed(
        screw=NO_6_WIDE,
        head=Point(0.0, 100.0, 300 + T / 2),
        direction=Direction.X_PLUS,
        through="side",
        into="shelf",
    )
    return Assembly(boards=(side, shelf), joints=(screw,))


def test_a_screw_into_an_edge_makes_an_edge_bore() -> None:
    assembly = corner()
    worked = machining(assembly, ROUTING)
    side, shelf = (
        flatten(
            b.name,
            board_solid(b, worked.of(b.name), ROUTING),
            front=b.facing.vector,
            length=Direction((b.grain, 1)).vector,
        ).panel
        for b in assembly.boards
    )
    (clearance,) = side.bores
    assert clearance.depth_mm is None
    assert clearance.diameter_mm == pytest.approx(NO_6_WIDE.clearance_diameter_mm, abs=1e-6)
    assert shelf.bores == ()
    (bore,) = shelf.edge_bores
    assert bore.depth_mm == pytest.approx(NO_6_WIDE.length_mm - T, abs=1e-5)
    assert bore.z_mm == pytest.approx(T / 2, abs=1e-5)
    assert (bore.direction_x, bore.direction_y) == pytest.approx((1.0, 0.0), abs=1e-5)


def test_a_screw_too_short_makes_no_pilot_hole() -> None:
    assembly = corner()
    (joint,) = assembly.joints
    assert isinstance(joint, Screwed)
    far = Screwed(
        screw=joint.screw,
        head=joint.head.along(Direction.X_MINUS, 60.0),
        direction=joint.direction,
        through=joint.through,
        into=joint.into,
    )
    worked = machining(Assembly(boards=assembly.boards, joints=(far,)), ROUTING)
    assert worked.of("shelf") == ()
    assert [type(feature) for feature in worked.of("side")] == [Hole]


def test_a_screw_as_long_as_the_board_comes_out() -> None:
    assembly = corner()
    (joint,) = assembly.joints
    assert isinstance(joint, Screwed)
    down = Screwed(
        screw=joint.screw,
        head=Point(300.0, 100.0, 300 + T),
        direction=Direction.Z_MINUS,
        through="side",
        into="shelf",
    )
    (pilot,) = machining(Assembly(boards=assembly.boards, joints=(down,)), ROUTING).of("shelf")
    assert isinstance(pilot, Hole)
    assert pilot.depth_mm is None


@pytest.mark.parametrize("plates", [1, 2, 3])
def test_a_groove_hangs_on_as_many_plates_as_there_are(plates: int) -> None:
    """By hand: plates of 3/16 in with their tops at 1500 and lips that stand out 3/8 in; the groove
    from the panel's back to 1 mm beyond the tips, 6 mm of lift below the lips, 25 mm short of the
    ends. A narrow panel hangs on one plate alone.
    """
    thickness, lip = 3 * INCH / 16, 3 * INCH / 8
    panel = board(
        "panel",
        Box.spanning((0, 1200), (thickness, thickness + T), (900, 1575)),
        Axis.X,
        Direction.Y_PLUS,
    )
    hangers = tuple(
        wall_plate(f"panel/plate {n}", Point(300.0 * n, 0.0, 1500.0), CONSTRUCTION)
        for n in range(1, plates + 1)
    )
    hung = Hung(
        panel="panel",
        plates=tuple(hanger.name for hanger in hangers),
        lift_mm=6.0,
        bottom_mm=1.0,
        stop_mm=25.0,
    )
    assembly = Assembly(boards=(panel,), members=hangers, joints=(hung,))
    (groove,) = machining(assembly, ROUTING).of("panel")
    assert isinstance(groove, Cutout)
    assert tuple(groove.box.low) == pytest.approx((25.0, thickness, 1500 - thickness - 6.0))
    assert tuple(groove.box.high) == pytest.approx((1175.0, thickness + lip + 1.0, 1500.0))
