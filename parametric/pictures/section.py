"""A set cut by a plane: what is left of its parts behind it, and the faces that the cut makes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from parametric.geometry.space import SAME_MM, Axis, Box, Direction, Point
from parametric.pictures.bodies import Block, Body, of_blocks


def left_in(blocks: Iterable[Block], within: Box) -> Body | None:
    """Return what of a part's blocks lies in a box, None of nothing."""
    left = [each for block in blocks if (each := _in_box(block, within)) is not None]
    return of_blocks(left) if left else None


def faces_cut(blocks: Iterable[Block], axis: Axis, at_mm: float) -> Iterator[Box]:
    """Yield the flat boxes in which a plane square to `axis` cuts blocks: two may touch. A round
    one is cut square to its outline, or along it where that makes a box.

    Raises:
        ValueError: the plane would cut a round outline out of a block.
    """
    for block in blocks:
        if not block.box.low[axis] + SAME_MM < at_mm < block.box.high[axis] - SAME_MM:
            continue
        box = Box(block.box.low.at(axis, at_mm), block.box.high.at(axis, at_mm))
        if block.axis is axis:
            raise ValueError("the section of a round outline is no box")
        if block.axis is not None:
            across = next(each for each in Axis if each not in (axis, block.axis))
            ends = [point[across] for point in _crossings(block.corners, axis, at_mm)]
            box = Box(box.low.at(across, min(ends)), box.high.at(across, max(ends)))
        yield box


def half_room(towards: Direction, at_mm: float, reach_mm: float) -> Box:
    """Return the box of all that a plane leaves behind it, seen from the side `towards`."""
    far = Box(Point(-reach_mm, -reach_mm, -reach_mm), Point(reach_mm, reach_mm, reach_mm))
    return far.grown(towards, at_mm * towards.sign - reach_mm)


def _in_box(block: Block, within: Box) -> Block | None:
    box = block.box.overlap(within)
    if box is None or block.axis is None:
        return None if box is None else Block(box)
    corners: Sequence[Point] = block.corners
    for side in Direction:
        if side.axis is not block.axis:
            corners = _cut_off(corners, side, within.side(side))
    level = [corner.at(block.axis, box.low[block.axis]) for corner in corners]
    return Block(box, block.axis, tuple(level)) if len(level) > 2 else None


def _cut_off(corners: Sequence[Point], side: Direction, at_mm: float) -> list[Point]:
    """Return a convex outline without what lies beyond a side (Sutherland and Hodgman's way)."""
    found: list[Point] = []
    beyond = [(corner[side.axis] - at_mm) * side.sign > 0 for corner in corners]
    for at, corner in enumerate(corners):
        if beyond[at - 1] is not beyond[at]:
            found.append(_between(corners[at - 1], corner, side.axis, at_mm))
        if not beyond[at]:
            found.append(corner)
    return [each for at, each in enumerate(found) if not _same(each, found[at - 1])]


def _crossings(corners: Sequence[Point], axis: Axis, at_mm: float) -> Iterator[Point]:
    for at, corner in enumerate(corners):
        before = corners[at - 1]
        if (before[axis] > at_mm) is not (corner[axis] > at_mm):
            yield _between(before, corner, axis, at_mm)


def _between(start: Point, end: Point, axis: Axis, at_mm: float) -> Point:
    share = (at_mm - start[axis]) / (end[axis] - start[axis])
    return Point(*(a + (b - a) * share for a, b in zip(start, end, strict=True)))


def _same(a: Point, b: Point) -> bool:
    return all(abs(one - other) <= SAME_MM for one, other in zip(a, b, strict=True))
