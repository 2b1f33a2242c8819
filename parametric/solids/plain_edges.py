"""Edges and level faces with lines and arcs in place of the free-form curves that are such."""

from __future__ import annotations

import math

import cadquery as cq

from parametric.solids.surfaces import SAME_SURFACE_MM, is_plain

_STEPS = 16  # where a curve is held against the line or circle it may be


def plain_face(face: cq.Face) -> cq.Face:
    """Return a plane face between lines and arcs, as far as its edges are such.

    The result may look the other way: its edges are what counts.
    """
    if is_plain(face):
        return face
    outer, inner = plain_wire(face.outerWire()), [plain_wire(wire) for wire in face.innerWires()]
    return cq.Face.makeFromWires(outer, inner)


def plain_wire(wire: cq.Wire) -> cq.Wire:
    """Return the closed wire with lines and arcs for curves that are such."""
    return cq.Wire.assembleEdges([plain_edge(edge) for edge in wire])


def plain_edge(edge: cq.Edge) -> cq.Edge:
    """Return the line or arc that the edge is, or the edge itself if it is neither."""
    if edge.geomType() in ("LINE", "CIRCLE"):
        return edge
    points = [edge.positionAt(step / _STEPS) for step in range(_STEPS + 1)]
    start, end = points[0], points[-1]
    closed = (start - end).Length < SAME_SURFACE_MM
    if not closed and _on_line(points):
        return cq.Edge.makeLine(start, end)
    centre = _centre(points[0], points[_STEPS // 3], points[2 * _STEPS // 3])
    if centre is None or not _on_circle(points, centre):
        return edge
    if closed:
        normal = (points[0] - centre).cross(points[_STEPS // 4] - centre)
        return cq.Edge.makeCircle((start - centre).Length, centre, normal)
    return cq.Edge.makeThreePointArc(start, points[_STEPS // 2], end)


def _on_line(points: list[cq.Vector]) -> bool:
    start, along = points[0], (points[-1] - points[0]).normalized()
    return all((p - start).cross(along).Length < SAME_SURFACE_MM for p in points)


def _on_circle(points: list[cq.Vector], centre: cq.Vector) -> bool:
    radius = (points[0] - centre).Length
    axis = (points[0] - centre).cross(points[_STEPS // 4] - centre)
    if axis.Length < SAME_SURFACE_MM:
        return False
    axis = axis.normalized()
    return all(
        abs((p - centre).Length - radius) < SAME_SURFACE_MM
        and abs((p - centre).dot(axis)) < SAME_SURFACE_MM
        for p in points
    )


def _centre(a: cq.Vector, b: cq.Vector, c: cq.Vector) -> cq.Vector | None:
    """Return the centre of the circle through three points, None if they lie on a line."""
    ab, ac = b - a, c - a
    normal = ab.cross(ac)
    twice = 2 * normal.Length**2
    if math.isclose(twice, 0.0, abs_tol=1e-18):
        return None
    towards = normal.cross(ab) * ac.Length**2 + ac.cross(normal) * ab.Length**2
    return a + towards * (1 / twice)
