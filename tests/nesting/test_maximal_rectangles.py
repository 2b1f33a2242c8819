"""The largest empty rectangles, against shapely and against trying every rectangle."""

from itertools import product

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.question.maximal_rectangles import Rectangle, maximal_rectangles

LENGTH, WIDTH = 9, 7
# Some lie partly or wholly outside, as defects grown by the gap do.
BLOCKS = st.lists(
    st.builds(
        Rectangle,
        x=st.integers(-2, LENGTH),
        y=st.integers(-2, WIDTH),
        length=st.integers(1, 5),
        width=st.integers(1, 5),
    ),
    max_size=5,
)


def shape(rectangle: Rectangle) -> shapely.Polygon:
    x, y, length, width = rectangle
    return shapely.box(x, y, x + length, y + width)


@given(BLOCKS)
@settings(max_examples=150)
def test_together_they_are_all_that_is_empty(blocks):
    found = maximal_rectangles(LENGTH, WIDTH, blocks)
    empty = shapely.box(0, 0, LENGTH, WIDTH) - shapely.union_all([shape(b) for b in blocks])
    covered = shapely.union_all([shape(rectangle) for rectangle in found])
    assert covered.symmetric_difference(empty).area == 0
    assert all(empty.covers(shape(rectangle)) for rectangle in found)
    assert list(found) == sorted(set(found))


@given(BLOCKS)
@settings(max_examples=60)
def test_they_are_all_empty_rectangles_that_no_other_contains(blocks):
    empty = [
        (x0, y0, x1, y1)
        for x0, y0 in product(range(LENGTH), range(WIDTH))
        for x1, y1 in product(range(x0 + 1, LENGTH + 1), range(y0 + 1, WIDTH + 1))
        if not any(
            x0 < b.x + b.length and b.x < x1 and y0 < b.y + b.width and b.y < y1 for b in blocks
        )
    ]
    known = set(empty)
    widest = {
        Rectangle(x0, y0, x1 - x0, y1 - y0)
        for x0, y0, x1, y1 in empty
        if not known & {(x0 - 1, y0, x1, y1), (x0, y0 - 1, x1, y1)}
        and not known & {(x0, y0, x1 + 1, y1), (x0, y0, x1, y1 + 1)}
    }
    assert set(maximal_rectangles(LENGTH, WIDTH, blocks)) == widest


def test_a_room_without_extent_has_no_place():
    assert maximal_rectangles(0, 5, []) == ()
    assert maximal_rectangles(5, 5, [Rectangle(-1, -1, 7, 7)]) == ()
