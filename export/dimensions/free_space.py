"""What is taken on a page: lines and texts, asked whether there is room for one more."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

_CELL_MM = 10.0

Segment = tuple[Point2, Point2]


class FreeSpace:
    """Lines and boxes by the cells of a coarse grid, so that only neighbours are looked at."""

    def __init__(self, page: Bounds) -> None:
        """Begin with an empty page; nothing that sticks out of it has room."""
        self._page = page
        self._lines: dict[tuple[int, int], list[Segment]] = {}
        self._boxes: dict[tuple[int, int], list[Bounds]] = {}

    def draw(self, line: Sequence[Point2]) -> None:
        """Take what a line covers."""
        for start, end in pairwise(line):
            for cell in _cells(_around(start, end)):
                self._lines.setdefault(cell, []).append((start, end))

    def write(self, box: Bounds) -> None:
        """Take the box of a text."""
        for cell in _cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def has_room(self, box: Bounds) -> bool:
        """Return whether no line and no text comes into the box."""
        page = self._page
        if box.x0 < page.x0 or box.y0 < page.y0 or box.x1 > page.x1 or box.y1 > page.y1:
            return False
        for cell in _cells(box):
            if any(boxes_meet(box, other) for other in self._boxes.get(cell, ())):
                return False
            if any(meets(box, *line) for line in self._lines.get(cell, ())):
                return False
        return True

    def is_clear(self, start: Point2, end: Point2) -> bool:
        """Return whether a line runs through no text."""
        return not any(
            meets(box, start, end)
            for cell in _cells(_around(start, end))
            for box in self._boxes.get(cell, ())
        )


def boxes_meet(a: Bounds, b: Bounds) -> bool:
    """Return whether two boxes have more than an edge in common."""
    return a.x0 < b.x1 and b.x0 < a.x1 and a.y0 < b.y1 and b.y0 < a.y1


def meets(box: Bounds, start: Point2, end: Point2) -> bool:
    """Return whether a line comes into a box (clipped side by side, after Liang and Barsky)."""
    (x, y), (dx, dy) = start, (end[0] - start[0], end[1] - start[1])
    first, last = 0.0, 1.0
    for way, room in ((-dx, x - box.x0), (dx, box.x1 - x), (-dy, y - box.y0), (dy, box.y1 - y)):
        if way == 0.0:
            if room < 0.0:
                return False
        elif way < 0.0:
            first = max(first, room / way)
        else:
            last = min(last, room / way)
        if first > last:
            return False
    return True


def grown(box: Bounds, by_mm: float) -> Bounds:
    """Return the box with so much more on each side."""
    return Bounds(box.x0 - by_mm, box.y0 - by_mm, box.x1 + by_mm, box.y1 + by_mm)


def _around(start: Point2, end: Point2) -> Bounds:
    (ax, ay), (bx, by) = start, end
    return Bounds(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _cells(box: Bounds) -> Iterator[tuple[int, int]]:
    for column in range(math.floor(box.x0 / _CELL_MM), math.floor(box.x1 / _CELL_MM) + 1):
        for row in range(math.floor(box.y0 / _CELL_MM), math.floor(box.y1 / _CELL_MM) + 1):
            yield column, row
