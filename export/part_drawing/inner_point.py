"""A place well inside a closed edge, for the end of a leader."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from export.dimensions.content import Line
from export.svg.elements import Point2


def inner_point(edges: Sequence[Line]) -> Point2:
    """Return a place inside an odd number of the edges (each a closed line), where they leave the
    most room in the directions of x and y.

    Raises:
        ValueError: they enclose nothing.
    """
    levels = sorted({round(y, 6) for edge in edges for _, y in edge})
    best, place = 0.0, None
    for low, high in pairwise(levels):
        y = (low + high) / 2
        crossed = sorted(x for edge in edges for x in crossings(edge, y))
        for left, right in zip(crossed[::2], crossed[1::2], strict=False):
            # Bands of arcs are narrow; what counts is that neither way is.
            room = min(right - left, high - low)
            if room > best * 1.000001:
                best, place = room, ((left + right) / 2, y)
    if place is None:
        raise ValueError("edges that enclose nothing")
    return place


def crossings(edge: Line, level: float) -> list[float]:
    """Return where a closed line crosses a level, in its own order."""
    return [
        ax + (level - ay) / (by - ay) * (bx - ax)
        for (ax, ay), (bx, by) in pairwise(edge)
        if (ay > level) != (by > level)
    ]
