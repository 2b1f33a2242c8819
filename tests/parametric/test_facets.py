"""Polygons of outlines: the same area, and never far from the arc."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.geometry.outline import Outline, Vertex, arc_centre
from parametric.meshes.facets import LARGEST_DEVIATION_MM, polygon

radii = st.floats(0.3, 600.0)
sweeps = st.floats(0.2, 2 * math.pi - 0.2)


def area_mm2(points: list[tuple[float, float]]) -> float:
    ring = zip(points, [*points[1:], points[0]], strict=True)
    return math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in ring) / 2


@given(diameter=radii.map(lambda radius: 2 * radius))
def test_a_circle_keeps_its_area(diameter: float) -> None:
    points = polygon(Outline.circle(30.0, -20.0, diameter))
    assert area_mm2(points) == pytest.approx(math.pi * diameter**2 / 4, rel=1e-9)


@given(radius=radii, sweep=sweeps, start=st.floats(0, 6))
def test_an_arc_keeps_its_area_and_ends_and_stays_near(
    radius: float, sweep: float, start: float
) -> None:
    ends = [
        (radius * math.cos(angle), radius * math.sin(angle)) for angle in (start, start + sweep)
    ]
    a, b = Vertex(*ends[0], math.tan(sweep / 4)), Vertex(*ends[1])
    outline = Outline((a, b))
    points = polygon(outline)
    assert points[0] == (a.x, a.y)
    assert points[-1] == (b.x, b.y)
    assert area_mm2(points) == pytest.approx(outline.signed_area_mm2, rel=1e-7, abs=1e-7)
    x, y, _ = arc_centre(a, b)
    for p, q in pairwise(points):
        for share in (0.0, 0.25, 0.5, 0.75):
            on = [u + (v - u) * share for u, v in zip(p, q, strict=True)]
            away = abs(math.dist(on, (x, y)) - radius)
            assert away <= LARGEST_DEVIATION_MM * 1.001


def test_straight_sides_are_left_as_they_are() -> None:
    corners = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)]
    assert polygon(Outline.rectangle(40.0, 20.0)) == corners


def test_a_screw_hole_takes_few_corners() -> None:
    """By hand: 14 corners of a 4 mm hole; seven chords of half a circle step 0.4488 rad each,
    stretch 1.0195 with the middle, 0.04 mm off; six would be 0.055 mm off."""
    assert len(polygon(Outline.circle(0.0, 0.0, 4.0))) == 14
