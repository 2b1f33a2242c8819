"""When two cuts are one: wherever a path starts, whichever way it runs; nothing else (by hand)."""

from dataclasses import replace

import pytest

from export.expected_cuts import PathCut, RoundCut
from export.same_cut import same_place_and_shape
from parametric.geometry.outline import Vertex

CORNERS = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0))
RECTANGLE = PathCut(
    layer="A", vertices=tuple(Vertex(x, y, 0.0) for x, y in CORNERS), area_mm2=5000.0
)
HOLE = RoundCut(layer="A", x=10.0, y=20.0, diameter_mm=8.0, drilled=True)


def path(*corners: tuple[float, float, float]) -> PathCut:
    """A path whose third numbers are the bulges of the segments that begin there."""
    return replace(RECTANGLE, vertices=tuple(Vertex(*corner) for corner in corners))


def test_a_path_may_start_anywhere_and_run_either_way():
    for start in range(4):
        run = RECTANGLE.vertices[start:] + RECTANGLE.vertices[:start]
        assert same_place_and_shape(RECTANGLE, replace(RECTANGLE, vertices=run))
        assert same_place_and_shape(RECTANGLE, replace(RECTANGLE, vertices=run[::-1]))


def test_an_arc_run_back_bends_the_other_way():
    there = path((0, 0, 0.5), (100, 0, 0.0), (100, 50, -0.25), (0, 50, 0.0))
    back = path((0, 0, 0.0), (0, 50, 0.25), (100, 50, 0.0), (100, 0, -0.5))
    assert same_place_and_shape(there, back)
    assert not same_place_and_shape(
        there, path((0, 0, 0.0), (0, 50, -0.25), (100, 50, 0.0), (100, 0, 0.5))
    )
    assert not same_place_and_shape(there, RECTANGLE)


@pytest.mark.parametrize(
    "other",
    [
        # The same area and all its corners, but one more, or one less.
        path((0, 0, 0), (50, 0, 0), (100, 0, 0), (100, 50, 0), (0, 50, 0)),
        path((0, 0, 0), (100, 0, 0), (100, 50, 0)),
        path((0, 0, 0), (100, 0, 0), (100, 50, 0), (0, 50.001, 0)),
        path((0, 0, 0), (100.001, 0, 0), (100, 50, 0), (0, 50, 0)),
        replace(RECTANGLE, area_mm2=5001.0),
        HOLE,
    ],
)
def test_what_is_another_path(other):
    assert not same_place_and_shape(RECTANGLE, other)
    assert not same_place_and_shape(other, RECTANGLE)


@pytest.mark.parametrize(
    "change", [{"x": 10.001}, {"y": 19.999}, {"diameter_mm": 8.001}, {"drilled": False}]
)
def test_what_is_another_hole(change):
    assert same_place_and_shape(HOLE, replace(HOLE, layer="B"))
    assert not same_place_and_shape(HOLE, replace(HOLE, **change))
