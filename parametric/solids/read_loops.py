"""Reading a wire of the kernel as an exact outline in the panel's plane."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import cadquery as cq

from parametric.geometry.outline import Outline, Vertex
from parametric.solids.kernel_errors import NotFlat

PlanePoint = tuple[float, float]
ToPlane = Callable[[cq.Vector], PlanePoint]

JOIN_MM = 1e-4  # ends of neighbouring edges closer than this meet
STRAIGHT_SINE = 1e-7  # two lines that turn by less are one


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    x: float
    y: float
    diameter_mm: float

    def outline(self) -> Outline:
        """Return the circle as two half circles."""
        return Outline.circle(self.x, self.y, self.diameter_mm)


@dataclass(frozen=True, slots=True)
class _Segment:
    start: PlanePoint
    middle: PlanePoint
    end: PlanePoint
    arc: bool

    def reversed(self) -> _Segment:
        return _Segment(self.end, self.middle, self.start, self.arc)

    @property
    def bulge(self) -> float:
        """tan(angle / 4): twice the arc's height over its chord, positive counter-clockwise."""
        if not self.arc:
            return 0.0
        chord_x, chord_y = self.end[0] - self.start[0], self.end[1] - self.start[1]
        away_x, away_y = self.middle[0] - self.start[0], self.middle[1] - self.start[1]
        chord = math.hypot(chord_x, chord_y)
        height = (chord_x * away_y - chord_y * away_x) / chord
        return -2 * height / chord


def read_loop(name: str, wire: cq.Wire, to_plane: ToPlane) -> Outline | Circle:
    """Return the closed wire as a counter-clockwise outline, or as a circle if it is one.

    Raises:
        NotFlat: an edge is neither a straight line nor a circular arc.
    """
    edges = list(wire)
    for edge in edges:
        if edge.geomType() not in ("LINE", "CIRCLE"):
            where = ", ".join(f"{value:.2f}" for value in edge.Center().toTuple())
            raise NotFlat(
                name,
                f"an outline edge at ({where}) is a {edge.geomType().lower()} curve, "
                "only lines and circular arcs can be read",
            )
    circle = read_circle(edges, to_plane)
    if circle is not None:
        return circle
    segments = chained(name, [segment(edge, to_plane) for edge in edges])
    vertices = [Vertex(s.start[0], s.start[1], s.bulge) for s in segments]
    outline = Outline(tuple(without_straight_joints(vertices)))
    return outline if outline.signed_area_mm2 > 0 else outline.reversed()


def read_circle(edges: list[cq.Edge], to_plane: ToPlane) -> Circle | None:
    """Return the circle that the edges together make, or None."""
    if any(edge.geomType() != "CIRCLE" for edge in edges):
        return None
    arcs = [(to_plane(edge.arcCenter()), edge.radius(), edge.Length()) for edge in edges]
    (x, y), radius, _ = arcs[0]
    same = all(
        math.dist(centre, (x, y)) < JOIN_MM and abs(r - radius) < JOIN_MM for centre, r, _ in arcs
    )
    if not same or abs(math.fsum(length for *_, length in arcs) - 2 * math.pi * radius) > JOIN_MM:
        return None
    return Circle(x, y, 2 * radius)


def segment(edge: cq.Edge, to_plane: ToPlane) -> _Segment:
    """Return the edge in the plane, run as the kernel parametrises it."""
    start, middle, end = (to_plane(edge.positionAt(share)) for share in (0.0, 0.5, 1.0))
    return _Segment(start, middle, end, edge.geomType() == "CIRCLE")


def chained(name: str, segments: list[_Segment]) -> list[_Segment]:
    """Return the segments, which follow one another, each turned to run the same way round.

    Raises:
        NotFlat: they do not close.
    """
    first = segments[0]
    if len(segments) > 1:
        ends = (segments[1].start, segments[1].end)
        if min(math.dist(first.end, p) for p in ends) > min(
            math.dist(first.start, p) for p in ends
        ):
            first = first.reversed()
    chain = [first]
    for each in segments[1:]:
        forward = math.dist(chain[-1].end, each.start) <= math.dist(chain[-1].end, each.end)
        if len(segments) == 2:  # both ends meet both ends: the second must lead back
            forward = math.dist(chain[-1].end, each.start) < JOIN_MM
        chain.append(each if forward else each.reversed())
    for a, b in zip(chain, chain[1:] + chain[:1], strict=True):
        if math.dist(a.end, b.start) > JOIN_MM:
            raise NotFlat(name, f"an outline does not close at ({a.end[0]:.2f}, {a.end[1]:.2f})")
    return chain


def without_straight_joints(vertices: list[Vertex]) -> list[Vertex]:
    """Return the vertices without those in the middle of a straight run."""
    kept = []
    for index, vertex in enumerate(vertices):
        before, after = vertices[index - 1], vertices[(index + 1) % len(vertices)]
        if before.bulge == 0 and vertex.bulge == 0:
            ax, ay = vertex.x - before.x, vertex.y - before.y
            bx, by = after.x - vertex.x, after.y - vertex.y
            turn = (ax * by - ay * bx) / (math.hypot(ax, ay) * math.hypot(bx, by))
            if abs(turn) < STRAIGHT_SINE and ax * bx + ay * by > 0:
                continue
        kept.append(vertex)
    return kept
