"""Edge-to-edge cuts recognised on finished sheets, against trying every single cut in turn."""

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.cut_check import Box, fewest_stages

Cells = st.integers(0, 6)


def test_what_needs_no_cut_and_what_needs_one_stage():
    assert fewest_stages([], 3) == 0
    assert fewest_stages([(5, 5, 9, 9)], 3) == 0
    assert fewest_stages([(0, 0, 9, 5), (0, 8, 4, 9)], 3) == 1
    assert fewest_stages([(0, 0, 9, 5), (0, 7, 4, 9)], 3) is None


def test_four_parts_round_a_hole_lock_each_other():
    assert fewest_stages([(0, 0, 2, 1), (2, 0, 3, 2), (1, 2, 3, 3), (0, 1, 1, 3)], 0) is None


def test_hundreds_of_parts_that_nest_in_each_other_come_apart():
    # One strip off the bottom, one off the left of the rest, and so on: every stage frees one.
    boxes: list[Box] = []
    side = 400
    for n in range(0, 200, 2):
        boxes += [(n, n, side, n + 1), (n, n + 1, n + 1, side)]
        boxes += [(n + 1, n + 1, side, n + 2), (n + 1, n + 2, n + 2, side)]
    assert fewest_stages(boxes, 0) == len(boxes) - 1


@st.composite
def scattered(draw: st.DrawFn) -> list[Box]:
    boxes: list[Box] = []
    for _ in range(draw(st.integers(1, 6))):
        x, y = draw(st.integers(0, 6)), draw(st.integers(0, 6))
        box = (x, y, x + draw(st.integers(1, 4)), y + draw(st.integers(1, 4)))
        if all(_clear(box, other) for other in boxes):
            boxes.append(box)
    return boxes


@given(scattered(), st.integers(0, 2))
@settings(deadline=None, max_examples=300)
def test_stages_agree_with_trying_every_cut(boxes, kerf):
    assert fewest_stages(boxes, kerf) == by_every_cut(boxes, kerf)


@st.composite
def cut_up(draw: st.DrawFn, depth: int, kerf: int) -> tuple[list[Box], int]:
    """Parts made by cutting a sheet in `depth` stages, and a number of stages that surely does."""
    room = (0, 0, draw(st.integers(40, 200)), draw(st.integers(40, 200)))
    pieces, axis = [room], draw(st.sampled_from([0, 1]))
    for _ in range(depth):
        pieces = [part for piece in pieces for part in _cut(draw, piece, axis, kerf)]
        axis = 1 - axis
    return pieces, depth


def _cut(draw: st.DrawFn, box: Box, axis: int, kerf: int) -> list[Box]:
    low, high = int(box[axis]), int(box[axis + 2])
    if high - low < 2 + kerf or not draw(st.booleans()):
        return [box]
    at = draw(st.integers(low + 1, high - kerf - 1))
    first, second = list(box), list(box)
    first[axis + 2], second[axis] = at, at + kerf
    return [tuple(first), tuple(second)]


@given(st.data(), st.integers(0, 5), st.integers(0, 5))
@settings(deadline=None, max_examples=100)
def test_what_was_cut_is_recognised_with_no_more_stages(data, depth, kerf):
    boxes, stages = data.draw(cut_up(depth, kerf))
    boxes = data.draw(st.permutations(boxes))
    found = fewest_stages(boxes, kerf)
    assert found is not None
    assert found <= stages
    assert all(fewest_stages(boxes[:n], kerf) <= found for n in range(len(boxes)))


def by_every_cut(boxes: list[Box], kerf: int) -> int | None:
    """Any single cut at any moment; a stage ends when the direction changes on a piece."""

    @cache
    def stages(parts: frozenset[Box], axis: int) -> float:
        if len(parts) == 1:
            return 0
        best = float("inf")
        for way in (0, 1):
            for at in {box[way] for box in parts}:
                before = frozenset(box for box in parts if box[way + 2] + kerf <= at)
                after = frozenset(box for box in parts if box[way] >= at)
                if before and after and len(before) + len(after) == len(parts):
                    cost = max(stages(before, way), stages(after, way))
                    best = min(best, cost + (way != axis))
        return best

    found = stages(frozenset(boxes), -1)
    return None if found == float("inf") else int(found)


def _clear(one: Box, other: Box) -> bool:
    return one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]
