"""Where parts lie on a sheet, and the empty rectangles between them.

Everything is grown by one gap to the right and upwards, so that "keep the gap" is "do not overlap":
a part, a defect, an offcut, and the room inside the trim. Ticks in the sheet's frame.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from nesting.answer.solution import Layout
from nesting.question.instance import Instance, Stock


class Box(NamedTuple):
    """A rectangle by its corners."""

    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def area(self) -> int:
        """Return the area in square ticks."""
        return (self.x1 - self.x0) * (self.y1 - self.y0)


def stock_of(instance: Instance, layout: Layout) -> Stock:
    """Return the stock that a layout is cut from.

    Raises:
        KeyError: the question has no such stock.
    """
    return instance.stock_of[layout.stock]


def room_of(instance: Instance, layout: Layout) -> Box:
    """Return the grown inside of the trim.

    Raises:
        KeyError: the question has no such stock.
    """
    stock, trim, gap = stock_of(instance, layout), instance.rules.trim, instance.rules.gap
    right, top = stock.length - trim.right, stock.width - trim.top
    return Box(trim.left, trim.bottom, right + gap, top + gap)


def part_boxes(instance: Instance, layout: Layout) -> list[Box]:
    """Return the grown parts, in the order of the placements.

    Raises:
        KeyError: the question has no such piece.
    """
    gap = instance.rules.gap
    boxes = []
    for placed in layout.placements:
        piece = instance.piece_of[placed.piece]
        along, across = piece.length, piece.width
        if placed.turned:
            along, across = across, along
        boxes.append(Box(placed.x, placed.y, placed.x + along + gap, placed.y + across + gap))
    return boxes


def defect_boxes(instance: Instance, layout: Layout) -> list[Box]:
    """Return the grown defects of the sheet.

    Raises:
        KeyError: the question has no such stock.
    """
    gap = instance.rules.gap
    return [
        Box(flaw.x, flaw.y, flaw.x + flaw.length + gap, flaw.y + flaw.width + gap)
        for flaw in stock_of(instance, layout).defects
    ]


def empty_rectangles(room: Box, blocks: Iterable[Box]) -> Iterator[Box]:
    """Yield empty rectangles of the room, among them every one that no other contains.

    The edges of the blocks span a grid. Row by row, each column is empty down to some row below;
    between columns that reach less deep stands a rectangle.
    """
    inside = [clipped for block in blocks if (clipped := _clipped(block, room)) is not None]
    xs = sorted({room.x0, room.x1, *(x for b in inside for x in (b.x0, b.x1))})
    ys = sorted({room.y0, room.y1, *(y for b in inside for y in (b.y0, b.y1))})
    column = {x: n for n, x in enumerate(xs)}
    row = {y: n for n, y in enumerate(ys)}
    taken = [bytearray(len(xs) - 1) for _ in range(len(ys) - 1)]
    for block in inside:
        first, last = column[block.x0], column[block.x1]
        for cells in taken[row[block.y0] : row[block.y1]]:
            cells[first:last] = b"\1" * (last - first)
    floors = [0] * (len(xs) - 1)
    for n, cells in enumerate(taken):
        for m, blocked in enumerate(cells):
            if blocked:
                floors[m] = n + 1
        for left, floor, right in _under(floors, n + 1):
            yield Box(xs[left], ys[floor], xs[right], ys[n + 1])


def _under(floors: Sequence[int], top: int) -> Iterator[tuple[int, int, int]]:
    """Yield the widest stretches of columns (first, floor, end) that are empty up to a row."""
    open_stretches: list[tuple[int, int]] = []
    for column, floor in enumerate((*floors, top)):
        start = column
        while open_stretches and open_stretches[-1][1] < floor:
            start, deep = open_stretches.pop()
            yield start, deep, column
        if floor < top and not (open_stretches and open_stretches[-1][1] == floor):
            open_stretches.append((start, floor))


def _clipped(block: Box, room: Box) -> Box | None:
    x0, y0 = max(block.x0, room.x0), max(block.y0, room.y0)
    x1, y1 = min(block.x1, room.x1), min(block.y1, room.y1)
    return Box(x0, y0, x1, y1) if x0 < x1 and y0 < y1 else None
