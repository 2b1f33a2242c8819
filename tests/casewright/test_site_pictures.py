"""How the pictures of steps are seen and lettered, without a solid to draw."""

import math

import pytest

from casewright.stages.models.model_stage import slanting
from casewright.stages.site.site_pictures import by_number, mark_label
from parametric.geometry.pose import cross
from parametric.geometry.space import Point, dot


@pytest.mark.parametrize(
    ("a", "b", "c"),
    [
        # Right-handed axes: x by y is z, and round in turn; the other way round it points back.
        ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
        ((0, 1, 0), (0, 0, 1), (1, 0, 0)),
        ((0, 0, 1), (1, 0, 0), (0, 1, 0)),
        ((0, 1, 0), (1, 0, 0), (0, 0, -1)),
        # By hand: (2 x 7 - 3 x 6, 3 x 5 - 1 x 7, 1 x 6 - 2 x 5).
        ((1, 2, 3), (5, 6, 7), (-4, 8, -4)),
    ],
)
def test_the_product_of_two_directions_stands_on_both(a, b, c) -> None:
    assert cross(Point(*a), Point(*b)) == c


@pytest.mark.parametrize("sideways", [-1.0, 1.0])
def test_pictures_are_seen_from_above_and_stand_upright(sideways: float) -> None:
    """What is seen is undistorted only if towards the viewer, right and up are unit vectors that
    stand on each other; up must point up, or a deck would hang below its base.
    """
    towards, right = slanting(sideways)
    up = Point(*cross(towards, right))
    for one, other in ((towards, right), (right, up), (up, towards)):
        assert dot(one, other) == pytest.approx(0.0, abs=1e-12)
    for each in (towards, right, up):
        assert math.hypot(*each) == pytest.approx(1.0)
    assert right.z == 0.0
    assert up.z > 0.5
    assert (towards.z > 0.0, towards.y < 0.0, towards.x * sideways > 0.0) == (True,) * 3


def test_marks_are_lettered_and_numbered_after_z() -> None:
    """As the docstring of the function and the papers have it: a to z, then a1 and so on."""
    labels = [mark_label(index) for index in (0, 1, 25, 26, 51, 52)]
    assert labels == ["a", "b", "z", "a1", "z1", "a2"]


def test_parts_of_one_number_are_told_together_in_their_order() -> None:
    numbers = {"left": "P002", "right": "P002", "back": "P001", "spare": "P009"}
    assert by_number(("left", "back", "right"), numbers) == {
        "P002": ["left", "right"],
        "P001": ["back"],
    }
    assert list(by_number(("left", "back"), numbers)) == ["P002", "P001"]
