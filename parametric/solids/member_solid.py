"""Solids of cleats, steel angles, legs and wall plates, where they stand in the room."""

from __future__ import annotations

from collections.abc import Iterable

import cadquery as cq

from parametric.geometry.space import Axis, Box, Point
from parametric.shapes.features import Feature
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle, WallPlate
from parametric.shapes.routing import Routing
from parametric.solids.board_solid import block_of, cut_all
from parametric.solids.kernel_errors import kernel_operation


def member_solid(member: Member, features: Iterable[Feature], routing: Routing) -> cq.Solid:
    """Return the member as one solid with its holes.

    Raises:
        KernelFailure: the kernel cannot build it.
    """
    with kernel_operation(member.name, "building"):
        match member:
            case Cleat():
                blank: cq.Shape = block_of(member.box)
            case SteelAngle():
                blank = block_of(member.flat_leg).fuse(block_of(member.upright_leg)).clean()
            case WallPlate():
                blank = block_of(member.plate).fuse(block_of(member.lip)).clean()
            case Leg():
                blank = leg_shape(member)
        return cut_all(member.name, blank, member.box, features, routing)


def leg_shape(leg: Leg) -> cq.Shape:
    """Return the tube, drawn solid, with its top plate."""
    hardware = leg.hardware
    under_plate = leg.box.high.z - hardware.plate_thickness_mm
    plate = block_of(Box(leg.box.low.at(Axis.Z, under_plate), leg.box.high))
    tube = cq.Solid.makeCylinder(
        hardware.tube_diameter_mm / 2,
        under_plate - leg.foot.z,
        cq.Vector(*leg.foot),
        cq.Vector(*Point(0.0, 0.0, 1.0)),
    )
    return plate.fuse(tube)
