"""Outlines of lines and arcs as polygons that enclose exactly the same area.

The inner corners of an arc's polygon lie so far outside the arc that its chords take as much as the
arc does; where the arc ends, its polygon ends. No point of either lies further from the other than
`LARGEST_DEVIATION_MM`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from parametric.geometry.outline import Outline, Vertex, arc_centre

LARGEST_DEVIATION_MM = 0.05

PlanePoint = tuple[float, float]


def polygon(outline: Outline) -> list[PlanePoint]:
    """Return the corners of the outline's polygon in order, millimetres, each once."""
    return [point for start, end in outline.segments() for point in _from(start, end)]


def _from(start: Vertex, end: Vertex) -> Iterator[PlanePoint]:
    """Yield where a segment starts and the corners in between."""
    yield start.x, start.y
    if not start.bulge:
        return
    x, y, radius = arc_centre(start, end)
    sweep = 4 * math.atan(start.bulge)
    chords, stretch = _chords(radius, abs(sweep))
    first = math.atan2(start.y - y, start.x - x)
    for chord in range(1, chords):
        angle = first + sweep * chord / chords
        yield x + radius * stretch * math.cos(angle), y + radius * stretch * math.sin(angle)


@lru_cache(maxsize=1024)
def _chords(radius_mm: float, sweep: float) -> tuple[int, float]:
    """Return the least number of chords for an arc, and how many radii from its middle they meet.

    A first and a last chord take r (stretch r) sin(step) / 2 each with the middle, those in between
    (stretch r)^2 sin(step) / 2, all together sweep r^2 / 2: a quadratic equation.
    """
    chords = 1
    while True:
        chords += 1
        sine = math.sin(sweep / chords)
        between, needed = chords - 2, sweep / sine
        stretch = needed / (1 + math.sqrt(1 + between * needed))
        if radius_mm * (stretch - 1) <= LARGEST_DEVIATION_MM:
            return chords, stretch
