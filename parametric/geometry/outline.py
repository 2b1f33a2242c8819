"""Exact closed outlines of straight lines and circular arcs, in the plane of a panel.

Glossary: the *bulge* of a segment is tan(angle / 4) of the arc it spans, positive when the arc runs
counter-clockwise, 0 for a straight line, 1 for a half circle.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple


class Vertex(NamedTuple):
    """A corner of an outline and the bulge of the segment that starts there."""

    x: float
    y: float
    bulge: float = 0.0


class Bounds(NamedTuple):
    """Least and greatest coordinates."""

    x0: float
    y0: float
    x1: float
    y1: float


@dataclass(frozen=True, slots=True)
class PlaneMotion:
    """A motion of the plane: first a mirror in the x axis if `mirrored`, then a turn by quarter
    turns counter-clockwise, then a shift. It is proper (no reflection) unless `mirrored`.
    """

    quarter_turns: int = 0
    mirrored: bool = False
    shift_x: float = 0.0
    shift_y: float = 0.0

    def apply(self, x: float, y: float) -> tuple[float, float]:
        """Return the image of a point."""
        if self.mirrored:
            y = -y
        for _ in range(self.quarter_turns % 4):
            x, y = -y, x
        return x + self.shift_x, y + self.shift_y


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline; the last vertex joins the first. Counter-clockwise unless said so."""

    vertices: tuple[Vertex, ...]

    @classmethod
    def rectangle(cls, length_mm: float, width_mm: float) -> Outline:
        """Return the rectangle from the origin to (length, width)."""
        return cls(
            (
                Vertex(0.0, 0.0),
                Vertex(length_mm, 0.0),
                Vertex(length_mm, width_mm),
                Vertex(0.0, width_mm),
            )
        )

    @classmethod
    def circle(cls, x: float, y: float, diameter_mm: float) -> Outline:
        """Return a full circle as two half circles."""
        radius = diameter_mm / 2
        return cls((Vertex(x - radius, y, 1.0), Vertex(x + radius, y, 1.0)))

    def segments(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Yield each segment as (start, end); the bulge is the start's."""
        for index, vertex in enumerate(self.vertices):
            yield vertex, self.vertices[(index + 1) % len(self.vertices)]

    @property
    def signed_area_mm2(self) -> float:
        """Enclosed area, exact for arcs; positive when counter-clockwise."""
        total = 0.0
        for a, b in self.segments():
            total += (a.x * b.y - b.x * a.y) / 2
            total += arc_segment_area(math.dist((a.x, a.y), (b.x, b.y)), a.bulge)
        return total

    @property
    def length_mm(self) -> float:
        """Length of the way round, exact for arcs."""
        return math.fsum(segment_length(a, b) for a, b in self.segments())

    @property
    def bounds(self) -> Bounds:
        """The bounding rectangle, arcs included."""
        points = [point for a, b in self.segments() for point in extreme_points(a, b)]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    def moved(self, motion: PlaneMotion) -> Outline:
        """Return the outline after `motion`, wound the same way as before."""
        moved = []
        for vertex in self.vertices:
            x, y = motion.apply(vertex.x, vertex.y)
            moved.append(Vertex(x, y, -vertex.bulge if motion.mirrored else vertex.bulge))
        outline = Outline(tuple(moved))
        return outline.reversed() if motion.mirrored else outline

    def reversed(self) -> Outline:
        """Return the same outline run the other way."""
        points = list(reversed(self.vertices))
        bulges = [-vertex.bulge for vertex in points[1:] + points[:1]]
        return Outline(tuple(Vertex(p.x, p.y, b) for p, b in zip(points, bulges, strict=True)))

    def started_lowest(self) -> Outline:
        """Return the same outline starting at its vertex of least (x, y)."""
        first = min(range(len(self.vertices)), key=lambda i: self.vertices[i][:2])
        return Outline(self.vertices[first:] + self.vertices[:first])


def segment_length(a: Vertex, b: Vertex) -> float:
    """Return the length of the straight or bulged segment from `a` to `b`."""
    chord = math.dist((a.x, a.y), (b.x, b.y))
    if not a.bulge:
        return chord
    half = 2 * math.atan(abs(a.bulge))
    return chord * half / math.sin(half)


def arc_segment_area(chord_mm: float, bulge: float) -> float:
    """Return the signed area between a chord and the arc of the given bulge."""
    if not bulge:
        return 0.0
    angle = 4 * math.atan(bulge)
    radius = chord_mm / (2 * math.sin(angle / 2))
    return radius * radius * (angle - math.sin(angle)) / 2


def arc_centre(a: Vertex, b: Vertex) -> tuple[float, float, float]:
    """Return (x, y, radius) of the circle that the bulged segment from `a` to `b` lies on.

    Raises:
        ValueError: the segment is straight.
    """
    if not a.bulge:
        raise ValueError("a straight segment has no centre")
    chord_x, chord_y = b.x - a.x, b.y - a.y
    height = (1 - a.bulge * a.bulge) / (4 * a.bulge)  # centre's distance from the chord / chord
    x = (a.x + b.x) / 2 - chord_y * height
    y = (a.y + b.y) / 2 + chord_x * height
    return x, y, math.dist((x, y), (a.x, a.y))


def extreme_points(a: Vertex, b: Vertex) -> Iterable[tuple[float, float]]:
    """Return the segment's ends and, on an arc, the points where it turns back in x or y."""
    points = [(a.x, a.y), (b.x, b.y)]
    if not a.bulge:
        return points
    x, y, radius = arc_centre(a, b)
    start = math.atan2(a.y - y, a.x - x)
    sweep = 4 * math.atan(a.bulge)
    for quarter in range(4):
        angle = quarter * math.pi / 2
        turned = (angle - start) % (2 * math.pi) if sweep > 0 else (start - angle) % (2 * math.pi)
        if turned < abs(sweep):
            points.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
    return points
