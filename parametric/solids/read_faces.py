"""Sorting the faces of a solid by how they stand to a panel's normal."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field

import cadquery as cq

from parametric.geometry.pose import cross
from parametric.geometry.space import Point, dot
from parametric.solids.kernel_errors import NotFlat
from parametric.solids.plain_edges import plain_face
from parametric.solids.read_cones import ConeFace, Tip, tips_of
from parametric.solids.surfaces import (
    Conical,
    OtherSurface,
    Plane,
    Round,
    edge_points,
    place,
    surface_of,
)

PARALLEL = 1 - 1e-9  # cosine above which two unit vectors are one direction
SQUARE = 1e-6  # cosine below which they stand square to each other
ALIGNED_MM = 5e-3  # what a face may lean over its own extent: as much as parts of one sort differ


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
    hollow: bool


@dataclass(frozen=True, slots=True)
class SortedFaces:
    """The faces of a panel: those that look along the normal, against it, and cross cylinders.

    `tips` are the conical bottoms of bores, whose rims stand among the level faces; `leaning_mm3`
    is what all faces that lean a little may take or add.
    """

    base_mm: float
    thickness_mm: float
    up: tuple[LevelFace, ...]
    down: tuple[LevelFace, ...]
    cross: tuple[CrossCylinder, ...]
    tips: tuple[Tip, ...] = ()
    leaning_mm3: float = 0.0


@dataclass(slots=True)
class _Sorting:
    """Faces while they are sorted; heights are along the normal from the frame's origin."""

    up: list[LevelFace] = field(default_factory=list)
    down: list[LevelFace] = field(default_factory=list)
    cross: list[CrossCylinder] = field(default_factory=list)
    cones: list[ConeFace] = field(default_factory=list)
    leaning_mm3: list[float] = field(default_factory=list)


def panel_normal(name: str, solid: cq.Solid) -> Point:
    """Return the direction, either way, in which the most plane face area looks.

    Raises:
        NotFlat: the solid has no plane faces.
    """
    areas: dict[tuple[float, ...], float] = defaultdict(float)
    exact: dict[tuple[float, ...], Point] = {}
    for face in solid.Faces():
        surface = surface_of(face)
        if isinstance(surface, Plane):
            key = one_way(surface.normal)
            areas[key] += face.Area()
            exact.setdefault(key, surface.normal)
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
        NotFlat: a face is neither level, upright, a round bore nor its tip.
    """
    sorting = _Sorting()
    for face in solid.Faces():
        _sort(name, face, normal, sorting)
    tips = tips_of(name, sorting.cones)
    for tip in tips:
        along = dot(tip.inwards, normal)
        level = LevelFace(tip.rim_face(), dot(tip.rim, normal))
        if along < -PARALLEL:
            sorting.up.append(level)
        elif along > PARALLEL:
            sorting.down.append(level)
    if not sorting.up or not sorting.down:
        raise NotFlat(name, "it has no two opposite faces")
    base = min(level.height_mm for level in sorting.down)
    top = max(level.height_mm for level in sorting.up)
    return SortedFaces(
        base_mm=base,
        thickness_mm=top - base,
        up=tuple(LevelFace(level.face, level.height_mm - base) for level in sorting.up),
        down=tuple(LevelFace(level.face, level.height_mm - base) for level in sorting.down),
        cross=tuple(sorting.cross),
        tips=tips,
        leaning_mm3=math.fsum(sorting.leaning_mm3),
    )


def _sort(name: str, face: cq.Face, normal: Point, sorting: _Sorting) -> None:
    match surface_of(face):
        case Plane(outwards):
            along, off = dot(outwards, normal), math.hypot(*cross(outwards, normal))
            lean_mm = off * 2 * _radius_mm(face) if SQUARE < off < abs(along) else 0.0
            if abs(along) > PARALLEL or (abs(along) > off and lean_mm < ALIGNED_MM):
                sorting.leaning_mm3.append(face.Area() * lean_mm)
                level = LevelFace(plain_face(face), dot(face.Center().toTuple(), normal))
                (sorting.up if along > 0 else sorting.down).append(level)
            elif abs(along) > SQUARE:
                lean_mm = abs(along) * extent_mm(face, normal)
                if lean_mm > ALIGNED_MM:
                    raise NotFlat(
                        name, f"a plane face at {place(face)} is {tilt(along)} off square"
                    )
                sorting.leaning_mm3.append(face.Area() * lean_mm)
        case Round(axis_point, axis, radius_mm, hollow):
            along = abs(dot(axis, normal))
            if along < SQUARE or along * extent_mm(face, axis) < ALIGNED_MM:
                cylinder = CrossCylinder(face, axis_point, axis, radius_mm, hollow)
                sorting.cross.append(cylinder)
            elif along < PARALLEL:
                raise NotFlat(name, f"a round face at {place(face)} stands askew")
        case Conical() as cone:
            along = abs(dot(cone.axis, normal))
            if SQUARE <= along <= PARALLEL:
                raise NotFlat(name, f"a cone at {place(face)} stands askew")
            sorting.cones.append(ConeFace(face, cone))
        case OtherSurface(kind):
            raise NotFlat(name, f"a face at {place(face)} is a curved surface ({kind})")


def extent_mm(face: cq.Face, direction: Point) -> float:
    """Return how far the edges of a face reach along a direction."""
    along = [dot(point, direction) for point in edge_points(face)]
    return max(along) - min(along)


def _radius_mm(face: cq.Face) -> float:
    """Return how far the edges of a face reach from its centre."""
    centre = face.Center().toTuple()
    return max(math.dist(point, centre) for point in edge_points(face))


def tilt(cosine: float) -> str:
    """Return the angle between the face's normal and the nearer of level and upright."""
    upright = math.degrees(math.asin(min(1.0, abs(cosine))))
    return f"{min(upright, 90 - upright):.2g} degrees"
