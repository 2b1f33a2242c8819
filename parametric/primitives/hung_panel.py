"""Hung panel: a panel on wall plates, screwed to the wall along its lower edge."""

from __future__ import annotations

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.spacing import Interval, spread
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Hung
from parametric.shapes.board import Band, Board, Show
from parametric.shapes.members import WallPlate
from parametric.stock.construction import Construction

# Where things go on the panel: common practice, no source.
PLATE_FROM_TOP_MM = 75.0
PLATE_END_MM = 60.0  # from the panel's end to the first plate
GROOVE_STOP_MM = 25.0  # the groove stops short of the ends, so that it does not show
LIFT_MM = 6.0  # room under the lips to lift the panel on
TIP_MM = 1.0  # room beyond the lips' tips
SCREW_FROM_EDGE_MM = 25.0
SCREW_END_MM = 100.0
SCREW_MOST_MM = 800.0


def hung_panel(
    unit: str, run_x: Interval, run_z: Interval, plates: int, construction: Construction
) -> Assembly:
    """Return a panel over the given run of the head wall, with its plates and screws."""
    hardware = construction.wall_plate
    thickness = construction.wall_panel.thickness_mm
    stand_off = hardware.thickness_mm
    width = run_x[1] - run_x[0]
    panel = Board(
        name=f"{unit}/panel",
        unit=unit,
        description=unit,
        material=construction.wall_panel,
        box=Box.spanning(run_x, (stand_off, stand_off + thickness), run_z),
        grain=Axis.X,
        facing=Direction.Y_PLUS,
        show=Show.FRONT,
        bands=tuple(
            Band(edge, construction.band)
            for edge in (Direction.X_MINUS, Direction.X_PLUS, Direction.Z_MINUS, Direction.Z_PLUS)
        ),
    )
    first = PLATE_END_MM + hardware.length_mm / 2
    step = (width - 2 * first) / (plates - 1)
    hangers = tuple(
        wall_plate(
            f"{unit}/plate {index + 1}",
            Point(run_x[0] + first + index * step, 0.0, run_z[1] - PLATE_FROM_TOP_MM),
            construction,
        )
        for index in range(plates)
    )
    joints = [
        Hung(
            panel=panel.name,
            plates=tuple(hanger.name for hanger in hangers),
            lift_mm=LIFT_MM,
            bottom_mm=TIP_MM,
            stop_mm=GROOVE_STOP_MM,
        )
    ]
    plate_screws = [joint for hanger in hangers for joint in fixed_plate(hanger)]
    edge_screws = [
        FixedToWall(
            screw=construction.screw_panel,
            head=Point(run_x[0] + x, panel.box.high.y, run_z[0] + SCREW_FROM_EDGE_MM),
            direction=Direction.Y_MINUS,
            through=panel.name,
            cap=construction.cap,
        )
        for x in spread(width, SCREW_END_MM, SCREW_MOST_MM)
    ]
    return Assembly(boards=(panel,), members=hangers, joints=(*joints, *plate_screws, *edge_screws))


def wall_plate(name: str, top_centre: Point, construction: Construction) -> WallPlate:
    """Return a plate on the head wall, the top of its lip at `top_centre`."""
    hardware = construction.wall_plate
    half = hardware.length_mm / 2
    x, _, z = top_centre
    return WallPlate(
        name=name,
        unit=name.split("/", maxsplit=1)[0],
        description="wall plate",
        hardware=hardware,
        box=Box.spanning(
            (x - half, x + half),
            (0.0, hardware.thickness_mm + hardware.lip_mm),
            (z - hardware.height_mm, z),
        ),
        out=Direction.Y_PLUS,
    )


def fixed_plate(hanger: WallPlate) -> tuple[FixedToWall, ...]:
    """Return the two screws that fix a plate to the wall, in the middle of its clear height."""
    plate = hanger.plate
    half = hanger.hardware.hole_spacing_mm / 2
    z = (plate.low.z + hanger.lip.low.z) / 2
    return tuple(
        FixedToWall(
            screw=hanger.hardware.screw,
            head=Point(plate.centre.x + shift, plate.high.y, z),
            direction=hanger.out.opposite,
            through=hanger.name,
        )
        for shift in (-half, half)
    )
