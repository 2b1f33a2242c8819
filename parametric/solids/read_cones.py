"""Conical faces: the tip that a drill leaves at the bottom of a blind bore.

A tip is a whole cone whose apex points into the board. Anything else that is conical, such as a
countersink or a chamfer round a hole, is not what a cut file can hold, and is refused.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import cadquery as cq

from parametric.geometry.space import Point, dot
from parametric.solids.kernel_errors import NotFlat
from parametric.solids.surfaces import Conical, apart, edge_points, place

SAME_APEX_MM = 1e-3
WHOLE = 0.01  # share of its area that a cone may lack: areas of free-form faces are not exact


@dataclass(frozen=True, slots=True)
class ConeFace:
    """A conical face."""

    face: cq.Face
    cone: Conical


@dataclass(frozen=True, slots=True)
class Tip:
    """The conical bottom of a bore: the middle of its rim, the way the drill went, its size."""

    rim: Point
    inwards: Point
    radius_mm: float
    height_mm: float

    @property
    def volume_mm3(self) -> float:
        """What the drill took beyond the bore's full diameter."""
        return math.pi * self.radius_mm**2 * self.height_mm / 3

    @property
    def centre(self) -> Point:
        """The centre of that volume, a quarter of the height in."""
        quarter = self.height_mm / 4
        return Point(*(a + quarter * b for a, b in zip(self.rim, self.inwards, strict=True)))

    def rim_face(self) -> cq.Face:
        """Return the disc across the rim, where a flat bottom would lie."""
        circle = cq.Wire.makeCircle(self.radius_mm, cq.Vector(*self.rim), cq.Vector(*self.inwards))
        return cq.Face.makeFromWires(circle)


def tips_of(name: str, cones: Sequence[ConeFace]) -> tuple[Tip, ...]:
    """Return the tips that the conical faces make, several of them one where they share an apex.

    Raises:
        NotFlat: a cone is no tip.
    """
    groups: list[list[ConeFace]] = []
    for each in cones:
        same = (group for group in groups if _one_cone(group[0].cone, each.cone))
        group = next(same, None)
        if group is None:
            groups.append([each])
        else:
            group.append(each)
    return tuple(_tip(name, group) for group in groups)


def _one_cone(a: Conical, b: Conical) -> bool:
    return math.dist(a.apex, b.apex) < SAME_APEX_MM and dot(a.axis, b.axis) > 1 - 1e-6


def _tip(name: str, group: Sequence[ConeFace]) -> Tip:
    face, cone = group[0].face, group[0].cone
    along = [
        dot(apart(point, cone.apex), cone.axis)
        for each in group
        for point in edge_points(each.face)
    ]
    height = max(along)
    radius = cone.slope * height
    whole = math.pi * radius * math.hypot(radius, height)
    area = math.fsum(each.face.Area() for each in group)
    if not cone.hollow:
        raise NotFlat(name, f"a face at {place(face)} is a cone: an edge or a pin that tapers")
    if abs(area - whole) > WHOLE * whole:
        angle = 2 * math.degrees(math.atan(cone.slope))
        raise NotFlat(
            name,
            f"a face at {place(face)} is a cone of {angle:.1f} degrees: a countersink or a "
            "chamfer, which a cut file cannot hold",
        )
    rim = Point(*(a + height * b for a, b in zip(cone.apex, cone.axis, strict=True)))
    inwards = Point(*(0.0 - value for value in cone.axis))
    return Tip(rim, inwards, radius, height)
