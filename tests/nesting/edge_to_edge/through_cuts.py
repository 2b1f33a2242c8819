"""Whether boxes come apart by through cuts, and what a sheet can hold: by trying everything."""

from collections.abc import Sequence
from functools import cache

Box = tuple[int, int, int, int]
"""Left, bottom, right, top, in the grown frame: a cut has no width."""

Size = tuple[int, int, bool]
"""Length, width, whether it may be turned."""


def comes_apart(boxes: Sequence[Box], stages: int | None) -> bool:
    """Try every single cut that hits no box, on both sides of every cut before it.

    A cut in the direction of the one before on the same piece belongs to the same stage. Cuts that
    only take waste off one box are free.
    """
    most = len(boxes) if stages is None else stages

    @cache
    def apart(group: frozenset[Box], direction: int, left: int) -> bool:
        if len(group) <= 1:
            return True
        if left == 0:
            return False
        for place in sorted({box[direction] for box in group}):
            low = frozenset(box for box in group if box[direction + 2] <= place)
            high = frozenset(box for box in group if box[direction] >= place)
            if low and high and len(low) + len(high) == len(group):
                return apart(low, direction, left) and apart(high, direction, left)
        return apart(group, 1 - direction, left - 1)

    if len(set(boxes)) < len(boxes):
        return False
    return any(apart(frozenset(boxes), direction, most) for direction in (0, 1))


def most_value(
    length: int,
    width: int,
    sizes: Sequence[Size],
    values: Sequence[float],
    stages: int | None,
) -> float:
    """Return the most that pieces of one sheet can be worth: every set, every whole-number cut."""
    most = len(sizes) if stages is None else stages

    @cache
    def holds(room: tuple[int, int], chosen: int, direction: int, left: int) -> bool:
        pieces = [size for n, size in enumerate(sizes) if chosen >> n & 1]
        if sum(piece[0] * piece[1] for piece in pieces) > room[0] * room[1]:
            return False
        if len(pieces) == 1:
            return _fits(pieces[0], room)
        if left == 0:
            return False
        for place in range(1, room[direction]):
            low, high = list(room), list(room)
            low[direction], high[direction] = place, room[direction] - place
            for part in _real_parts(chosen):
                if holds((low[0], low[1]), part, direction, left) and holds(
                    (high[0], high[1]), chosen & ~part, direction, left
                ):
                    return True
        return holds(room, chosen, 1 - direction, left - 1)

    return max(
        (
            sum(value for n, value in enumerate(values) if chosen >> n & 1)
            for chosen in range(1, 1 << len(sizes))
            if any(holds((length, width), chosen, direction, most) for direction in (0, 1))
        ),
        default=0,
    )


def free_value(length: int, width: int, sizes: Sequence[Size], values: Sequence[float]) -> float:
    """Return the most that pieces of one sheet can be worth when they may lie anywhere."""

    def holds(chosen: list[Size], taken: list[Box]) -> bool:
        if not chosen:
            return True
        for along, across in _turns(chosen[0]):
            for x in range(length - along + 1):
                for y in range(width - across + 1):
                    box = (x, y, x + along, y + across)
                    if all(_clear(box, other) for other in taken) and holds(
                        chosen[1:], [*taken, box]
                    ):
                        return True
        return False

    return max(
        sum(value for n, value in enumerate(values) if chosen >> n & 1)
        for chosen in range(1 << len(sizes))
        if holds([size for n, size in enumerate(sizes) if chosen >> n & 1], [])
    )


def _turns(piece: Size) -> set[tuple[int, int]]:
    length, width, turnable = piece
    return {(length, width), (width, length)} if turnable else {(length, width)}


def _clear(one: Box, other: Box) -> bool:
    return one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]


def _fits(piece: Size, room: tuple[int, int]) -> bool:
    length, width, turnable = piece
    straight = length <= room[0] and width <= room[1]
    return straight or (turnable and width <= room[0] and length <= room[1])


def _real_parts(chosen: int) -> list[int]:
    return [part for part in range(1, chosen) if part & chosen == part]
