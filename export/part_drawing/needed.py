"""What must be known of a closed edge to draw it again: places, radii, nothing twice.

A corner that is rounded off between a level and an upright edge is told by where these edges meet
and by its radius. Any other end of an edge is told by its own place, any other arc by its radius,
and a full circle by its middle and its diameter. Edges are straight between places that are told.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from export.svg.elements import Point2
from parametric.geometry.outline import Outline, Vertex, arc_centre
from parametric.geometry.space import SAME_MM

_QUARTER = math.tan(math.pi / 8)  # bulge of a quarter of a circle
_SAME_BULGE = 1e-6


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc whose radius must be told: its centre, its middle, its radius."""

    centre: Point2
    middle: Point2
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Needed:
    """What tells an edge: places, rounded corners, other arcs, and the circle that it may be."""

    places: tuple[Point2, ...]
    rounded: tuple[Arc, ...]
    arcs: tuple[Arc, ...]
    circle: Arc | None = None


def needed(outline: Outline) -> Needed:
    """Return what must be told of an edge."""
    segments = list(outline.segments())
    bent = [_arc(a, b) for a, b in segments if a.bulge]
    if len(bent) == len(segments) and _one_circle(bent):
        return Needed(places=(bent[0].centre,), rounded=(), arcs=(), circle=bent[0])
    places: list[Point2] = []
    rounded: list[Arc] = []
    arcs: list[Arc] = []
    skipped: set[int] = set()
    count = len(segments)
    for index, (a, b) in enumerate(segments):
        if not a.bulge:
            continue
        corner = _corner(segments[index - 1], (a, b), segments[(index + 1) % count])
        if corner is None:
            arcs.append(_arc(a, b))
        else:
            rounded.append(_arc(a, b))
            places.append(corner)
            skipped |= {index, (index + 1) % count}
    places += [(a.x, a.y) for index, (a, _) in enumerate(segments) if index not in skipped]
    return Needed(places=tuple(places), rounded=tuple(rounded), arcs=tuple(arcs))


def _corner(
    before: tuple[Vertex, Vertex], arc: tuple[Vertex, Vertex], after: tuple[Vertex, Vertex]
) -> Point2 | None:
    """Return where the edges before and after a quarter of a circle meet; None if they are not one
    level and one upright, tangent to it.
    """
    (a, b), ways = arc, (_way(*before), _way(*after))
    if abs(abs(a.bulge) - _QUARTER) > _SAME_BULGE or None in ways or ways[0] == ways[1]:
        return None
    corner = (b.x, a.y) if ways[0] == "level" else (a.x, b.y)
    # A quarter that is not tangent has its centre at that corner instead.
    centre = arc_centre(a, b)
    return None if math.dist(corner, centre[:2]) < centre[2] else corner


def _way(a: Vertex, b: Vertex) -> str | None:
    if a.bulge:
        return None
    if abs(a.y - b.y) <= SAME_MM:
        return "level"
    return "upright" if abs(a.x - b.x) <= SAME_MM else None


def _arc(a: Vertex, b: Vertex) -> Arc:
    x, y, radius = arc_centre(a, b)
    # The middle lies off the middle of the chord by bulge times half of the chord, to its right.
    middle = (
        (a.x + b.x) / 2 + a.bulge * (b.y - a.y) / 2,
        (a.y + b.y) / 2 - a.bulge * (b.x - a.x) / 2,
    )
    return Arc((x, y), middle, radius)


def _one_circle(arcs: list[Arc]) -> bool:
    first = arcs[0]
    return all(
        math.dist(arc.centre, first.centre) <= SAME_MM
        and abs(arc.radius_mm - first.radius_mm) <= SAME_MM
        for arc in arcs
    )
