"""The largest empty rectangles of a room between rectangles that are taken."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple


class Rectangle(NamedTuple):
    """A rectangle by its lower-left corner and its sides along x and y (ticks)."""

    x: int
    y: int
    length: int
    width: int


def maximal_rectangles(
    length: int, width: int, taken: Iterable[Rectangle]
) -> tuple[Rectangle, ...]:
    """Return all empty rectangles that none other contains, by rising corner; overlaps are usual.

    Every empty place of the room lies inside at least one of them.
    """
    free = [Rectangle(0, 0, length, width)] if length > 0 and width > 0 else []
    for block in taken:
        pieces = [part for rectangle in free for part in _around(rectangle, block)]
        free = [
            one
            for n, one in enumerate(pieces)
            if not any(_inside(one, other, n > m) for m, other in enumerate(pieces) if m != n)
        ]
    return tuple(sorted(free))


def _around(free: Rectangle, block: Rectangle) -> Iterator[Rectangle]:
    right, top = free.x + free.length, free.y + free.width
    block_right, block_top = block.x + block.length, block.y + block.width
    if block.x >= right or block_right <= free.x or block.y >= top or block_top <= free.y:
        yield free
        return
    if block.x > free.x:
        yield Rectangle(free.x, free.y, block.x - free.x, free.width)
    if block_right < right:
        yield Rectangle(block_right, free.y, right - block_right, free.width)
    if block.y > free.y:
        yield Rectangle(free.x, free.y, free.length, block.y - free.y)
    if block_top < top:
        yield Rectangle(free.x, block_top, free.length, top - block_top)


def _inside(one: Rectangle, other: Rectangle, later: bool) -> bool:
    """Return whether the other makes this one needless; of two equal ones the later is."""
    if one == other:
        return later
    return (
        other.x <= one.x
        and other.y <= one.y
        and one.x + one.length <= other.x + other.length
        and one.y + one.width <= other.y + other.width
    )
