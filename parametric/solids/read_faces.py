"""Sorting the faces of a solid by how they stand to a panel's normal."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.gp import gp_Cylinder

from parametric.geometry.space import Point, dot
from parametric.solids.read_loops import NotFlat

PARALLEL = 1 - 1e-9  # cosine above which two unit vectors are one direction
SQUARE = 1e-6  # cosine below which they stand square to each other


@dataclass(frozen=True, slots=True)
class LevelFace:
    """A plane face square to the normal, at `height_mm` above the lowest face of the solid."""

    face: cq.Face
    height_mm: float


@dataclass(frozen=True, slots=True)
class CrossCylinder:
    """A cylindrical face whose axis lies in the plane of the panel."""

    face: cq.Face
    axis_point: Point
    axis: Point
    radius_mm: float


@dataclass(frozen=True, slots=True)
class SortedFaces:
    """The faces of a panel: those that look along the normal, against it, and cross cylinders."""

    base_mm: float
    thickness_mm: float
    up: tuple[LevelFace, ...]
    down: tuple[LevelFace, ...]
    cross: tuple[CrossCylinder, ...]


def panel_normal(name: str, solid: cq.Solid) -> Point:
    """Return the direction, either way, in which the most plane face area looks.

    Raises:
        NotFlat: the solid has no plane faces.
    """
    areas: dict[tuple[float, ...], float] = defaultdict(float)
    exact: dict[tuple[float, ...], Point] = {}
    for face in solid.Faces():
        if face.geomType() == "PLANE":
            normal = Point(*face.normalAt().toTuple())
            key = one_way(normal)
            areas[key] += face.Area()
            exact.setdefault(key, normal)
    if not areas:
        raise NotFlat(name, "it has no plane face")
    return exact[max(areas, key=lambda key: (round(areas[key], 3), key))]


def one_way(normal: Point) -> tuple[float, ...]:
    """Return the normal or its opposite, whichever leads with a positive coordinate, rounded."""
    rounded = tuple(round(value, 6) + 0.0 for value in normal)
    lead = next(value for value in rounded if value)
    return rounded if lead > 0 else tuple(0.0 - value for value in rounded)


def sort_faces(name: str, solid: cq.Solid, normal: Point) -> SortedFaces:
    """Return the faces sorted by how they stand to `normal`.

    Raises:
        NotFlat: a face is neither level, upright nor a round bore.
    """
    up, down, cross = [], [], []
    for face in solid.Faces():
        kind = face.geomType()
        if kind == "PLANE":
            along = dot(face.normalAt().toTuple(), normal)
            height = dot(face.Center().toTuple(), normal)
            if along > PARALLEL:
                up.append(LevelFace(face, height))
            elif along < -PARALLEL:
                down.append(LevelFace(face, height))
            elif abs(along) > SQUARE:
                raise NotFlat(name, f"a plane face at {place(face)} is {tilt(along)} off square")
        elif kind == "CYLINDER":
            # The adaptor also sees through trimmed surfaces, which the surface itself does not.
            cylinder = BRepAdaptor_Surface(face.wrapped).Cylinder()
            axis = cylinder_axis(cylinder)
            along = abs(dot(axis, normal))
            if along < SQUARE:
                location = cylinder.Axis().Location()
                start = Point(location.X(), location.Y(), location.Z())
                cross.append(CrossCylinder(face, start, axis, cylinder.Radius()))
            elif along < PARALLEL:
                raise NotFlat(name, f"a round face at {place(face)} stands askew")
        else:
            raise NotFlat(name, f"a face at {place(face)} is a {kind.lower()} surface")
    if not up or not down:
        raise NotFlat(name, "it has no two opposite faces")
    base = min(level.height_mm for level in down)
    top = max(level.height_mm for level in up)
    return SortedFaces(
        base_mm=base,
        thickness_mm=top - base,
        up=tuple(LevelFace(level.face, level.height_mm - base) for level in up),
        down=tuple(LevelFace(level.face, level.height_mm - base) for level in down),
        cross=tuple(cross),
    )


def cylinder_axis(cylinder: gp_Cylinder) -> Point:
    """Return the unit vector of the cylinder's axis."""
    direction = cylinder.Axis().Direction()
    return Point(direction.X(), direction.Y(), direction.Z())


def place(face: cq.Face) -> str:
    """Return where the face is, for a message."""
    return "(" + ", ".join(f"{value:.2f}" for value in face.Center().toTuple()) + ")"


def tilt(cosine: float) -> str:
    """Return the angle between the face's normal and the nearer of level and upright."""
    angle = math.degrees(math.acos(min(1.0, abs(cosine))))
    return f"{min(angle, 90 - angle):.2f} degrees"
