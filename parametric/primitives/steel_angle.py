"""Steel angle: runs through panels, carries what lies on it, and is screwed to it from below."""

from __future__ import annotations

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.spacing import Interval
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Screwed
from parametric.shapes.board import Board
from parametric.shapes.members import SteelAngle
from parametric.stock.construction import Construction


def steel_angle(
    name: str,
    run_x: Interval,
    from_wall_mm: float,
    top_mm: float,
    construction: Construction,
) -> SteelAngle:
    """Return an angle along the head wall, its flat leg on top, its upright leg to the wall."""
    leg_mm = construction.angle.leg_mm
    return SteelAngle(
        name=name,
        unit=name.split("/", maxsplit=1)[0],
        description="steel angle",
        section=construction.angle,
        box=Box.spanning(run_x, (from_wall_mm, from_wall_mm + leg_mm), (top_mm - leg_mm, top_mm)),
        along=Axis.X,
        upright=Direction.Y_MINUS,
    )


QUARTERS, MIDDLE = (0.25, 0.75), (0.5,)
"""Where screws stand in the interval that they have."""


def screwed_up(
    angle: SteelAngle,
    board: Board,
    free_x: Interval,
    construction: Construction,
    shares: tuple[float, ...] = QUARTERS,
) -> Assembly:
    """Return the screws up through the angle's flat leg into `board`, in the `free_x` interval.

    They stand in the middle of the leg's clear width, at these shares of the interval.
    """
    flat = angle.flat_leg
    inner = angle.section.thickness_mm
    y = (flat.low.y + inner + flat.high.y) / 2
    low, high = free_x
    return Assembly(
        joints=tuple(
            Screwed(
                screw=construction.screw_angle,
                head=Point(low + (high - low) * share, y, flat.low.z),
                direction=Direction.Z_PLUS,
                through=angle.name,
                into=board.name,
            )
            for share in shares
        )
    )
