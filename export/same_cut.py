"""Whether two cuts are one and the same, wherever their paths start and whichever way they run."""

from __future__ import annotations

import math
from collections.abc import Sequence

from export.expected_cuts import Cut, PathCut, RoundCut
from parametric.geometry.outline import Vertex

PLACE_MM = 1e-6
"""How far two places may differ: float noise, far below a tick of the nest (0.01 mm)."""

BULGE = 1e-9
"""How far two bulges may differ. On an arc of 1 m chord this moves its middle by 0.0005 um."""

AREA_MM2 = 0.01
"""How far two areas may differ: `PLACE_MM` all round an outline of 10 m."""


def same_place_and_shape(a: Cut, b: Cut) -> bool:
    """Return whether two cuts have one shape in one place; their layers may differ."""
    if isinstance(a, RoundCut) and isinstance(b, RoundCut):
        near = math.dist((a.x, a.y), (b.x, b.y)) <= PLACE_MM
        return near and abs(a.diameter_mm - b.diameter_mm) <= PLACE_MM and a.drilled == b.drilled
    if isinstance(a, PathCut) and isinstance(b, PathCut):
        return abs(a.area_mm2 - b.area_mm2) <= AREA_MM2 and _same_path(a.vertices, b.vertices)
    return False


def _same_path(a: Sequence[Vertex], b: Sequence[Vertex]) -> bool:
    if len(a) != len(b):
        return False
    return any(
        _agree(a, run[start:] + run[:start])
        for run in (list(b), _run_back(b))
        for start in range(len(b))
        if _near(a[0], run[start])
    )


def _run_back(vertices: Sequence[Vertex]) -> list[Vertex]:
    """Return the path run the other way: each segment's bulge, negated, now starts at its end."""
    count = len(vertices)
    return [
        Vertex(vertices[-index].x, vertices[-index].y, -vertices[-index - 1].bulge)
        for index in range(1, count)
    ] + [Vertex(vertices[0].x, vertices[0].y, -vertices[-1].bulge)]


def _agree(a: Sequence[Vertex], b: Sequence[Vertex]) -> bool:
    return all(_near(p, q) and abs(p.bulge - q.bulge) <= BULGE for p, q in zip(a, b, strict=True))


def _near(a: Vertex, b: Vertex) -> bool:
    return abs(a.x - b.x) <= PLACE_MM and abs(a.y - b.y) <= PLACE_MM
