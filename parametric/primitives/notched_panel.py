"""Notched panel: a panel that a steel angle runs through."""

from __future__ import annotations

from parametric.geometry.space import Axis
from parametric.geometry.spacing import Interval
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing
from parametric.shapes.board import Board
from parametric.shapes.members import SteelAngle
from parametric.stock.construction import Construction


def passed_through(panel: Board, angle: SteelAngle, construction: Construction) -> Assembly:
    """Return the joint by which `angle` runs through `panel` and bears on it."""
    return Assembly(
        joints=(
            Passing(
                member=angle.name,
                through=panel.name,
                clearance_mm=construction.angle_clearance_mm,
                packing_mm=construction.angle_packing_mm,
            ),
        )
    )


def angle_gap(angle: SteelAngle, construction: Construction) -> Interval:
    """Return the interval across the angle that level cleats leave free for it."""
    room_mm = construction.angle_clearance_mm + construction.cleat.thickness_mm / 2
    return (angle.box.low[Axis.Y] - room_mm, angle.box.high[Axis.Y] + room_mm)
