"""What surface a face lies on, also where it was drawn as a free-form surface.

Other programs write planes, cylinders and cones as B-splines, or as a line drawn out or turned
round. Each is taken for what it is where it departs from that by no more than `SAME_SURFACE_MM`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.gp import gp_Ax1, gp_Cone, gp_Cylinder, gp_Pln, gp_Pnt
from OCP.ShapeAnalysis import ShapeAnalysis_CanonicalRecognition

from parametric.geometry.space import Point, dot

SAME_SURFACE_MM = 1e-5  # ten times finer than what is told apart anywhere
_PLAIN = ("PLANE", "CYLINDER", "CONE")


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane; its unit normal points out of the solid."""

    normal: Point


@dataclass(frozen=True, slots=True)
class Round:
    """A cylinder; hollow where the solid lies round it, as round a bore."""

    axis_point: Point
    axis: Point
    radius_mm: float
    hollow: bool


@dataclass(frozen=True, slots=True)
class Conical:
    """A cone: its axis runs from the apex to where it is wider; `slope` is radius over height."""

    apex: Point
    axis: Point
    slope: float
    hollow: bool


@dataclass(frozen=True, slots=True)
class OtherSurface:
    """Any other surface, by the kernel's word for it."""

    kind: str


Surface = Plane | Round | Conical | OtherSurface


def surface_of(face: cq.Face) -> Surface:
    """Return the surface of a face."""
    kind = face.geomType()
    if kind in _PLAIN:
        # The adaptor also sees through trimmed surfaces, which the surface itself does not.
        adaptor = BRepAdaptor_Surface(face.wrapped)
        if kind == "PLANE":
            return Plane(_outward(face))
        return (
            _round(face, adaptor.Cylinder()) if kind == "CYLINDER" else _cone(face, adaptor.Cone())
        )
    found = ShapeAnalysis_CanonicalRecognition(face.wrapped)
    plane, cylinder, cone = gp_Pln(), gp_Cylinder(), gp_Cone()
    if found.IsPlane(SAME_SURFACE_MM, plane):
        return Plane(_same_way(_vector(plane.Axis()), _outward(face)))
    if found.IsCylinder(SAME_SURFACE_MM, cylinder):
        return _round(face, cylinder)
    if found.IsCone(SAME_SURFACE_MM, cone):
        return _cone(face, cone)
    return OtherSurface(kind.lower())


def is_plain(face: cq.Face) -> bool:
    """Return whether the kernel has formulas for the face's surface and for its edges."""
    return face.geomType() in _PLAIN and all(
        edge.geomType() in ("LINE", "CIRCLE") for edge in face.Edges()
    )


def apart(point: cq.Vector | Point, origin: Point) -> Point:
    """Return the vector from `origin` to `point`."""
    values = point.toTuple() if isinstance(point, cq.Vector) else point
    return Point(*(a - b for a, b in zip(values, origin, strict=True)))


def edge_points(face: cq.Face, steps: int = 16) -> list[Point]:
    """Return points along the edges of a face, their ends among them."""
    return [
        Point(*edge.positionAt(step / steps).toTuple())
        for edge in face.Edges()
        if edge.geomType() != "OTHER"  # the tip of a cone is an edge without a curve
        for step in range(steps + 1)
    ]


def place(face: cq.Face) -> str:
    """Return where the face is, for a message."""
    return "(" + ", ".join(f"{round(v, 2) + 0.0:.2f}" for v in face.Center().toTuple()) + ")"


def _outward(face: cq.Face) -> Point:
    return Point(*face.normalAt().toTuple())


def _same_way(vector: Point, other: Point) -> Point:
    return vector if dot(vector, other) > 0 else Point(*(0.0 - value for value in vector))


def _vector(axis: gp_Ax1) -> Point:
    direction = axis.Direction()
    return Point(direction.X(), direction.Y(), direction.Z())


def _point(point: gp_Pnt) -> Point:
    return Point(point.X(), point.Y(), point.Z())


def _middle(face: cq.Face) -> Point:
    """Return the point of the surface where `normalAt` looks."""
    u0, u1, v0, v1 = face._uvBounds()
    return _point(BRepAdaptor_Surface(face.wrapped).Value((u0 + u1) / 2, (v0 + v1) / 2))


def _round(face: cq.Face, cylinder: gp_Cylinder) -> Round:
    axis, start = _vector(cylinder.Axis()), _point(cylinder.Axis().Location())
    away = apart(_middle(face), start)
    along = dot(away, axis)
    outwards = Point(*(a - along * b for a, b in zip(away, axis, strict=True)))
    return Round(start, axis, cylinder.Radius(), dot(outwards, _outward(face)) < 0)


def _cone(face: cq.Face, cone: gp_Cone) -> Conical:
    apex = _point(cone.Apex())
    away = apart(_middle(face), apex)
    axis = _same_way(_vector(cone.Axis()), away)
    along = dot(away, axis)
    outwards = Point(*(a - along * b for a, b in zip(away, axis, strict=True)))
    return Conical(apex, axis, abs(math.tan(cone.SemiAngle())), dot(outwards, _outward(face)) < 0)
