"""Parts pushed along a sheet until they meet something. All boxes are grown by the gap."""

from collections.abc import Iterable, Sequence

from nesting.after.empty_space import Box

_MOST_ROUNDS = 100
"""Pushing along two axes in turn settles in a few rounds; the limit only guards against more."""

Push = tuple[int, bool]
"""An axis (0: x, 1: y), and whether parts are pushed towards its far end."""


def pushed(
    room: Box,
    fixed: Iterable[Box],
    boxes: Sequence[Box],
    rims: Sequence[int],
    pushes: Sequence[Push],
) -> list[Box]:
    """Return the boxes after pushing them along each axis in turn until nothing moves.

    `fixed` boxes stay; `rims` is how far each box keeps off the sides of the room. What overlaps
    nothing before overlaps nothing afterwards.
    """
    obstacles, now = list(fixed), list(boxes)
    for _ in range(_MOST_ROUNDS):
        before = list(now)
        for axis, far in pushes:
            now = _pushed_along(room, obstacles, now, rims, axis, far)
        if now == before:
            break
    return now


def _pushed_along(
    room: Box,
    fixed: Sequence[Box],
    boxes: Sequence[Box],
    rims: Sequence[int],
    axis: int,
    far: bool,
) -> list[Box]:
    if far:
        turned_round = _pushed_along(
            _mirrored(room, axis),
            [_mirrored(box, axis) for box in fixed],
            [_mirrored(box, axis) for box in boxes],
            rims,
            axis,
            False,
        )
        return [_mirrored(box, axis) for box in turned_round]
    settled = list(fixed)
    moved = list(boxes)
    for index in sorted(range(len(boxes)), key=lambda index: (boxes[index][axis], index)):
        box = boxes[index]
        stop = room[axis] + rims[index]
        for other in settled:
            beside = other[1 - axis] < box[3 - axis] and box[1 - axis] < other[3 - axis]
            if beside and other[axis + 2] <= box[axis]:
                stop = max(stop, other[axis + 2])
        moved[index] = _shifted(box, axis, min(stop, box[axis]) - box[axis])
        settled.append(moved[index])
    return moved


def _mirrored(box: Box, axis: int) -> Box:
    if axis == 0:
        return Box(-box.x1, box.y0, -box.x0, box.y1)
    return Box(box.x0, -box.y1, box.x1, -box.y0)


def _shifted(box: Box, axis: int, by: int) -> Box:
    if axis == 0:
        return box._replace(x0=box.x0 + by, x1=box.x1 + by)
    return box._replace(y0=box.y0 + by, y1=box.y1 + by)
