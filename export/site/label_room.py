"""Where a picture has room for its texts: clear of each other, and of lines where that can be.
Millimetres of the page, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np

from export.papers.drawn import CAPITAL_MM, CHARACTER_MM
from export.svg.elements import Point2

CLEAR_MM = 0.5

Area = tuple[float, float, float, float]
Lines = Iterable[Sequence[Point2]]


class NoRoomError(Exception):
    """The texts do not fit on the picture."""


class LabelRoom:
    """What of a page is free for texts; texts that were given a place take it."""

    def __init__(self, page: Area, taken: Iterable[Area], lines: Lines) -> None:
        """Begin with what is taken already, and with the lines that are drawn."""
        self._page, self._taken = page, list(taken)
        ends = np.array(
            [(*start, *end) for line in lines for start, end in pairwise(line)], dtype=np.float64
        ).reshape(-1, 4)
        starts, far = ends[:, :2], ends[:, 2:]
        self._lines = np.hstack((starts, far - starts)).tolist()
        self._left, self._below = np.minimum(starts, far).T.copy()
        self._right, self._above = np.maximum(starts, far).T.copy()

    def free(self, text: str, places: Iterable[Point2]) -> Point2:
        """Return the first of the places where a text, middle on it, meets nothing that is there,
        not even a line; else no text; else the first place on the page that meets no text.

        Raises:
            NoRoomError: there is no such place.
        """
        on_lines: tuple[Point2, Area] | None = None
        for place in places:
            area = area_of(text, place)
            if not self._is_free(area):
                continue
            if not self._meets_line(area):
                self._taken.append(area)
                return place
            on_lines = on_lines or (place, area)
        place, area = on_lines or self._anywhere(text)
        self._taken.append(area)
        return place

    def _anywhere(self, text: str) -> tuple[Point2, Area]:
        x0, y0, x1, y1 = self._page
        wide, high = half_of(text)
        rows = math.ceil((y1 - y0) / CAPITAL_MM)
        for row in range(rows):
            for column in range(math.ceil((x1 - x0) / CAPITAL_MM)):
                place = (x0 + wide + column * CAPITAL_MM, y0 + high + row * CAPITAL_MM)
                area = area_of(text, place)
                if self._is_free(area):
                    return place, area
        raise NoRoomError

    def _is_free(self, area: Area) -> bool:
        x0, y0, x1, y1 = self._page
        left, below, right, above = area
        if left < x0 or below < y0 or right > x1 or above > y1:
            return False
        return not any(
            left < other[2] and other[0] < right and below < other[3] and other[1] < above
            for other in self._taken
        )

    def _meets_line(self, area: Area) -> bool:
        """Return whether a line, from point to point, runs through an area."""
        left, below, right, above = area
        near = (
            (self._left < right)
            & (self._right > left)
            & (self._below < above)
            & (self._above > below)
        )
        return any(_parts(self._lines[at], area) for at in np.flatnonzero(near).tolist())


def _parts(line: Sequence[float], area: Area) -> bool:
    """Return whether corners of an area lie on either side of a line, given by a point and its run
    and rise, without end both ways.
    """
    x, y, run, rise = line
    left, below, right, above = area
    sides = [run * (v - y) - rise * (u - x) for u in (left, right) for v in (below, above)]
    return min(sides) < 0 < max(sides)


def half_of(text: str) -> Point2:
    """Return half the width and half the height that a text takes."""
    return CHARACTER_MM * len(text) / 2 + CLEAR_MM, CAPITAL_MM * 0.75 + CLEAR_MM


def area_of(text: str, middle: Point2) -> Area:
    """Return what a text takes with its middle at a point."""
    wide, high = half_of(text)
    return middle[0] - wide, middle[1] - high, middle[0] + wide, middle[1] + high


def around(point: Point2, reach: float) -> Area:
    """Return the square about a point."""
    return point[0] - reach, point[1] - reach, point[0] + reach, point[1] + reach
