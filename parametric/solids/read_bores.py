"""Bores into the edges of a panel, from the cylindrical faces that are their walls.

A wall may be in several pieces: drawn as two half cylinders, or cut through by another bore.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

import cadquery as cq
from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector

from parametric.geometry.pose import reverse
from parametric.geometry.space import Point, dot
from parametric.solids.kernel_errors import NotFlat
from parametric.solids.read_faces import PARALLEL, CrossCylinder
from parametric.solids.surfaces import apart, place

SAME_LINE_MM = 1e-4
NUDGE_MM = 1e-3
WHOLE = 1e-3  # share of its wall that a bore may lack and count as whole
FAR_MM = 1e5
_STEPS = 32  # along an edge where two bores meet
_HALVINGS = 40  # of the way between two steps
_RING = 8  # places round a bore, and along it

HasMaterial = Callable[[cq.Vector], bool]


@dataclass(frozen=True, slots=True)
class CrossBore:
    """A bore into an edge, or right across: it reaches from `low` to `high` along its axis."""

    first: CrossCylinder
    low: float
    high: float

    def at(self, distance: float) -> cq.Vector:
        """Return the point of the axis at that distance from the axis point."""
        return _on_axis(self.first, distance)


@dataclass(frozen=True, slots=True)
class _Wall:
    """A piece of a wall and where it reaches along the axis."""

    cylinder: CrossCylinder
    low: float
    high: float


def cross_bores(
    name: str, cylinders: Iterable[CrossCylinder], material: HasMaterial
) -> list[CrossBore]:
    """Return the bores that the walls belong to, those on one axis together.

    Raises:
        NotFlat: a round face is no wall of a bore.
    """
    lines: list[list[CrossCylinder]] = []
    for each in cylinders:
        if not each.hollow:
            raise NotFlat(
                name, f"the round face at {place(each.face)} is not a whole bore: {_OVER}"
            )
        same = next((line for line in lines if _one_line(line[0], each)), None)
        if same is None:
            lines.append([each])
        else:
            same.append(each)
    return [bore for line in lines for bore in _on_line(name, line, material)]


_OVER = "an edge is rounded over, or the board is bent"


def mouth(
    name: str, bore: CrossBore, solid: cq.Solid, material: HasMaterial
) -> tuple[cq.Vector, Point]:
    """Return where the bit goes in, and the unit vector of its way.

    Raises:
        NotFlat: the bore has no mouth that a bit can come to from outside.
    """
    axis = bore.first.axis
    ends = ((bore.low, -NUDGE_MM, axis), (bore.high, NUDGE_MM, reverse(axis)))
    for end, outward, way in ends:
        if not material(bore.at(end + outward)) and _clear(solid, bore.at(end + outward), way):
            return bore.at(end), way
    raise NotFlat(name, f"the bore at {place(bore.first.face)} has no mouth")


def _clear(solid: cq.Solid, start: cq.Vector, way: Point) -> bool:
    """Return whether nothing of the solid stands where the bit comes from."""
    ray = gp_Lin(gp_Pnt(*start.toTuple()), gp_Dir(*reverse(way)))
    hits = IntCurvesFace_ShapeIntersector()
    hits.Load(solid.wrapped, 1e-7)
    hits.Perform(ray, 0.0, FAR_MM)
    return bool(hits.NbPnt() == 0)


def _one_line(a: CrossCylinder, b: CrossCylinder) -> bool:
    away = apart(b.axis_point, a.axis_point)
    along = dot(away, a.axis)
    off = math.dist(away, tuple(along * value for value in a.axis))
    return (
        abs(dot(a.axis, b.axis)) > PARALLEL
        and off < SAME_LINE_MM
        and abs(a.radius_mm - b.radius_mm) < SAME_LINE_MM
    )


def _on_line(
    name: str, line: Sequence[CrossCylinder], material: HasMaterial
) -> Iterator[CrossBore]:
    """Yield the bores on one axis: walls with nothing but air between them are one bore's.

    Raises:
        NotFlat: no ring round the axis is whole, so that it is a cove and no bore.
    """
    first = line[0]
    walls = sorted((_wall(each, first) for each in line), key=lambda wall: wall.low)
    bores = [[walls[0]]]
    for wall in walls[1:]:
        end = max(each.high for each in bores[-1])
        gap = wall.low - end
        if gap > NUDGE_MM and material(_on_axis(first, end + gap / 2)):
            bores.append([wall])
        else:
            bores[-1].append(wall)
    for pieces in bores:
        low, high = pieces[0].low, max(each.high for each in pieces)
        bore = CrossBore(first, low, high)
        area = math.fsum(each.cylinder.face.Area() for each in pieces)
        full = 2 * math.pi * first.radius_mm * (high - low)
        if abs(area - full) > WHOLE * full and not _has_ring(bore, material):
            where = place(pieces[0].cylinder.face)
            raise NotFlat(name, f"the round face at {where} is not a whole bore")
        yield bore


def _has_ring(bore: CrossBore, material: HasMaterial) -> bool:
    """Return whether there is wood all round the bore anywhere along it."""
    axis, radius = cq.Vector(*bore.first.axis), bore.first.radius_mm + NUDGE_MM
    plane = cq.Plane(cq.Vector(0, 0, 0), normal=axis)
    ring = [
        plane.xDir * (radius * math.cos(turn)) + plane.yDir * (radius * math.sin(turn))
        for turn in (math.tau * (step + 0.5) / _RING for step in range(_RING))
    ]
    shares = [(step + 0.5) / _RING for step in range(_RING)]
    return any(
        all(material(bore.at(bore.low + share * (bore.high - bore.low)) + away) for away in ring)
        for share in shares
    )


def _wall(cylinder: CrossCylinder, first: CrossCylinder) -> _Wall:
    along = [_along(vertex.Center(), first) for vertex in cylinder.face.Vertices()]
    low, high = min(along), max(along)
    full = 2 * math.pi * cylinder.radius_mm * (high - low)
    if abs(cylinder.face.Area() - full) > WHOLE * full:
        # Cut by another bore, its rim reaches furthest somewhere between its corners.
        low = min(_furthest(edge, first, -1) for edge in cylinder.face.Edges())
        high = max(_furthest(edge, first, 1) for edge in cylinder.face.Edges())
    return _Wall(cylinder, low, high)


def _furthest(edge: cq.Edge, first: CrossCylinder, sign: int) -> float:
    """Return how far along the axis, or with `sign` -1 against it, an edge reaches."""

    def reach(share: float) -> float:
        return sign * _along(edge.positionAt(min(max(share, 0.0), 1.0)), first)

    best = max((step / _STEPS for step in range(_STEPS + 1)), key=reach)
    low, high = best - 1 / _STEPS, best + 1 / _STEPS
    for _ in range(_HALVINGS):
        third = (high - low) / 3
        if reach(low + third) < reach(high - third):
            low += third
        else:
            high -= third
    return sign * max(reach(best), reach((low + high) / 2))


def _along(point: cq.Vector, first: CrossCylinder) -> float:
    return dot(apart(point, first.axis_point), first.axis)


def _on_axis(first: CrossCylinder, distance: float) -> cq.Vector:
    pairs = zip(first.axis_point, first.axis, strict=True)
    return cq.Vector(*(start + step * distance for start, step in pairs))
