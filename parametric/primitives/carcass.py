"""Carcass: an open box of top, bottom, sides, back and optional shelf, held by housed joints.

Top and bottom run the full width and depth; the sides stand in grooves set in from their ends and
stop short of their front edge, so that no groove shows in front. The back closes the rear, flush,
housed on all four sides. Glued, no fasteners.
"""

from __future__ import annotations

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Housed
from parametric.shapes.board import Band, Board, Show
from parametric.stock.construction import Construction

# What top and bottom project beyond the sides: leaves board beside the groove, and hides its end.
# Common practice, no source.
PROJECTION_MM = 12.7
SHELF_SETBACK_MM = 10.0


def carcass(
    unit: str, box: Box, shelf_height_mm: float | None, construction: Construction
) -> Assembly:
    """Return the carcass that fills `box`, open towards +y; the shelf's underside is
    `shelf_height_mm` above the bottom of the box.
    """
    thickness = construction.carcass.thickness_mm
    housed = construction.housing_depth_mm
    low, high = box.low, box.high

    def board(
        name: str, space: Box, facing: Direction, grain: Axis, edges: tuple[Direction, ...]
    ) -> Board:
        return Board(
            name=f"{unit}/{name}",
            unit=unit,
            description=f"{unit} {name}",
            material=construction.carcass,
            box=space,
            grain=grain,
            facing=facing,
            show=Show.BOTH,
            bands=tuple(Band(edge, construction.band) for edge in edges),
        )

    def level(name: str, z: float, facing: Direction) -> Board:
        space = Box(low.at(Axis.Z, z), high.at(Axis.Z, z + thickness))
        edges = (Direction.X_MINUS, Direction.X_PLUS, Direction.Y_PLUS)
        return board(name, space, facing, Axis.X, edges)

    bottom = level("bottom", low.z, Direction.Z_MINUS)
    top = level("top", high.z - thickness, Direction.Z_PLUS)
    upright = (bottom.box.high.z - housed, top.box.low.z + housed)
    front_y = high.y - PROJECTION_MM

    def side(name: str, x: float, facing: Direction) -> Board:
        space = Box(Point(x, low.y, upright[0]), Point(x + thickness, front_y, upright[1]))
        return board(name, space, facing, Axis.Z, (Direction.Y_PLUS,))

    low_side = side("side a", low.x + PROJECTION_MM, Direction.X_MINUS)
    high_side = side("side b", high.x - PROJECTION_MM - thickness, Direction.X_PLUS)
    clear_x = (low_side.box.high.x - housed, high_side.box.low.x + housed)
    back = board(
        "back",
        Box.spanning(clear_x, (low.y, low.y + thickness), upright),
        Direction.Y_PLUS,
        Axis.X,
        (),
    )
    boards = [bottom, top, low_side, high_side, back]
    pairs = [(side, level) for side in (low_side, high_side, back) for level in (bottom, top)]
    pairs += [(back, side) for side in (low_side, high_side)]
    if shelf_height_mm is not None:
        z = low.z + shelf_height_mm
        depth = (back.box.high.y, front_y - SHELF_SETBACK_MM)
        shelf = board(
            "shelf",
            Box.spanning(clear_x, depth, (z, z + thickness)),
            Direction.Z_PLUS,
            Axis.X,
            (Direction.Y_PLUS,),
        )
        boards.append(shelf)
        pairs += [(shelf, side) for side in (low_side, high_side)]
    return Assembly(
        boards=tuple(boards),
        joints=tuple(
            Housed(
                member=member.name,
                into=into.name,
                clearance_mm=construction.housing_clearance_mm,
                bottom_mm=construction.housing_clearance_mm,
            )
            for member, into in pairs
        ),
    )
