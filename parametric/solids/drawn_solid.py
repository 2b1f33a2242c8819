"""Whether a solid drawn elsewhere has the proportions of a board, before its faces are read."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cadquery as cq

from parametric.geometry.pose import cross
from parametric.geometry.space import Point, dot
from parametric.solids.check_read import mass_of
from parametric.solids.flatten import Reading, read_drawn
from parametric.solids.kernel_errors import KernelFailure, NotFlat, kernel_operation
from parametric.solids.read_faces import one_way
from parametric.solids.surfaces import Plane, edge_points, surface_of

ROUGH_MM = 1e-5  # what each face may be off: the last decimal of usual STEP files, and our own
SAME_MM = 1e-3
_DIRECTIONS = 36  # in which the sizes of an outline are measured, besides those of its edges
_STEPS = 64  # along an edge
_UPRIGHT = 0.1  # cosine to the normal below which a face stands rather than lies
_BAR = 2.0  # times the walls of a square are its side: what is less than the thickness is no board


@dataclass(frozen=True, slots=True)
class DrawnSolid:
    """A solid that may be a panel: the unit normal of its faces, and its sizes over all."""

    name: str
    solid: cq.Solid
    normal: Point
    thickness_mm: float
    width_mm: float
    length_mm: float

    @property
    def size(self) -> str:
        """The sizes in words."""
        sizes = (self.thickness_mm, self.width_mm, self.length_mm)
        return " x ".join(f"{round(size, 2):g}" for size in sizes) + " mm over all"

    @property
    def volume_mm3(self) -> float:
        """The volume that it takes."""
        return mass_of(self.solid)[0]

    def read(self) -> Reading:
        """Return the panel that the solid is.

        Raises:
            NotFlat: it is none; the reason names the face.
        """
        try:
            return read_drawn(self.name, self.solid, self.normal, ROUGH_MM)
        except KernelFailure:
            raise NotFlat(
                self.name, f"its faces make no panel that can be read; {self.size}"
            ) from None


def drawn_solid(name: str, solid: cq.Solid) -> DrawnSolid:
    """Return the solid lying as a panel would: its least size is its thickness.

    Raises:
        NotFlat: it is no closed body, hollow, or has the proportions of a bar, a tube, a block or a
            bracket.
    """
    try:
        with kernel_operation(name, "measuring"):
            found = _measured(name, solid)
    except KernelFailure:
        raise NotFlat(name, "it is a body that cannot be measured") from None
    if isinstance(found, NotFlat):
        raise found
    return found


def _measured(name: str, solid: cq.Solid) -> DrawnSolid | NotFlat:
    if not solid.isValid():
        return NotFlat(name, "it is a body that is not closed, or that crosses itself")
    if len(solid.Shells()) > 1:
        return NotFlat(name, "it is hollow inside")
    points = [point for face in solid.Faces() for point in edge_points(face, _STEPS)]
    normals = _normals(solid)
    if not normals:
        return NotFlat(name, "it has no plane face")
    thickness, normal = min(
        ((_extent(points, each), each) for each in normals), key=lambda found: round(found[0], 4)
    )
    across = _axis_across(normal, points, normals)
    along = cross(normal, across)
    width, length = sorted((_extent(points, across), _extent(points, along)))
    drawn = DrawnSolid(name, solid, normal, thickness, width, length)
    if thickness > width - SAME_MM:
        return NotFlat(
            name, f"{drawn.size}, as thick as it is wide: a bar, tube, block or bent part"
        )
    walls_mm = _walls_mm(solid, normal)
    if _BAR * walls_mm < thickness:
        walls = f"its walls are about {walls_mm:.1f} mm"
        return NotFlat(name, f"{drawn.size}, but {walls}: a bracket, tube or bent part")
    return drawn


def _normals(solid: cq.Solid) -> list[Point]:
    """Return the directions in which plane faces look, either way, the largest areas first."""
    areas: dict[tuple[float, ...], float] = {}
    exact: dict[tuple[float, ...], tuple[float, Point]] = {}
    for face in solid.Faces():
        surface = surface_of(face)
        if isinstance(surface, Plane):
            key, area = one_way(surface.normal), face.Area()
            areas[key] = areas.get(key, 0.0) + area
            if area > exact.get(key, (0.0, surface.normal))[0]:
                exact[key] = area, surface.normal
    return [exact[key][1] for key in sorted(areas, key=lambda key: -areas[key])]


def _axis_across(normal: Point, points: list[Point], normals: list[Point]) -> Point:
    """Return a side's direction of the least rectangle in the plane that holds the points."""
    start = min(
        ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), key=lambda a: abs(dot(a, normal))
    )
    x_axis = _unit(cross(normal, Point(*start)))
    y_axis = cross(normal, x_axis)
    turns = (math.pi * step / _DIRECTIONS for step in range(_DIRECTIONS))
    directions = [
        Point(
            *(math.cos(turn) * a + math.sin(turn) * b for a, b in zip(x_axis, y_axis, strict=True))
        )
        for turn in turns
    ]
    directions += [
        _unit(cross(cross(normal, each), normal))
        for each in normals
        if abs(dot(each, normal)) < _UPRIGHT
    ]

    def covered(direction: Point) -> float:
        sides = _extent(points, direction), _extent(points, cross(normal, direction))
        return round(sides[0] * sides[1], 3)

    return min(directions, key=covered)


def _walls_mm(solid: cq.Solid, normal: Point) -> float:
    """Return about how far the upright faces stand apart: of a long strip its width."""
    upright = math.fsum(face.Area() for face in solid.Faces() if not _lies(face, normal))
    return 2 * mass_of(solid)[0] / upright if upright else math.inf


def _lies(face: cq.Face, normal: Point) -> bool:
    surface = surface_of(face)
    return isinstance(surface, Plane) and abs(dot(surface.normal, normal)) > _UPRIGHT


def _extent(points: list[Point], direction: Point) -> float:
    along = [dot(point, direction) for point in points]
    return max(along) - min(along)


def _unit(vector: Point) -> Point:
    length = math.hypot(*vector)
    return Point(*(value / length for value in vector))
