"""Poses as the kernel has them."""

from __future__ import annotations

import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.TopLoc import TopLoc_Location

from parametric.geometry.pose import Pose


def location(pose: Pose) -> cq.Location:
    """Return the pose as the kernel's location."""
    origin, x_axis, normal = (
        cq.Vector(*vector) for vector in (pose.origin, pose.x_axis, pose.z_axis)
    )
    plane = cq.Plane(origin, x_axis, normal)
    return cq.Location(plane)


def in_frame(solid: cq.Shape, pose: Pose) -> cq.Shape:
    """Return the solid, which stands in the room, in the frame that lies at `pose`.

    Its geometry itself is moved, from where its own location puts it: a shape with a mere location
    would be written as a nameless product inside the named one.
    """
    placed = solid.wrapped.Location().Transformation()
    motion = location(pose).inverse.wrapped.Transformation().Multiplied(placed)
    bare = solid.wrapped.Located(TopLoc_Location())
    return cq.Shape.cast(BRepBuilderAPI_Transform(bare, motion, True).Shape())
