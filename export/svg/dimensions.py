"""Dimensions of a picture: extension lines, a line with arrowheads, and an upright text.

Frame of the picture: millimetres, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from export.svg.elements import Point2, at, open_path_data, text_element
from parametric.geometry.outline import Bounds

CHARACTER_SHARE = 0.85
"""Width of a character as a share of a capital's height, wide enough for digits."""

_ARROW_LENGTH = 1.1  # all of these: shares of the text's height
_ARROW_HALF_WIDTH = 0.22
_OVERSHOOT = 0.5
_CLEAR_OF_POINT = 0.4
_CLEAR_OF_OBJECT = 0.9
_STEP_OUT = 1.8
_MOST_STEPS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureDimension:
    """A distance to show, from `start` to `end`, on a line shifted to the left by `offset_mm`,
    or further where the text would else lie on what is measured.

    Left is as seen along the way from start to end; a negative offset shifts to the right.
    """

    start: Point2
    end: Point2
    offset_mm: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnDimension:
    """SVG of one dimension, and the box (y up) that its text fills."""

    svg: str
    text_box: Bounds
    bounds: Bounds


def drawn_dimensions(
    dimensions: Iterable[PictureDimension], text_mm: float
) -> tuple[DrawnDimension, ...]:
    """Return the dimensions drawn with capitals `text_mm` high.

    Where a text would lie on an earlier one, its dimension moves further out until it is clear.

    Raises:
        ValueError: a dimension's start and end are one point.
    """
    drawn: list[DrawnDimension] = []
    for dimension in dimensions:
        layout = _Arrangement(dimension, text_mm, dimension.offset_mm)
        for step in range(1, _MOST_STEPS + 1):
            if not any(_meet(layout.text_box, other.text_box) for other in drawn):
                break
            outwards = math.copysign(step * _STEP_OUT * text_mm, dimension.offset_mm)
            layout = _Arrangement(dimension, text_mm, dimension.offset_mm + outwards)
        drawn.append(layout.drawn())
    return tuple(drawn)


class _Arrangement:
    """Where everything of one dimension goes for a given offset."""

    def __init__(self, dimension: PictureDimension, text_mm: float, offset_mm: float) -> None:
        self._dimension, self._text_mm = dimension, text_mm
        (ax, ay), (bx, by) = dimension.start, dimension.end
        self._length = math.dist(dimension.start, dimension.end)
        if not self._length:
            raise ValueError(f"dimension '{dimension.text}' measures between one point")
        self._along = ((bx - ax) / self._length, (by - ay) / self._length)
        self._left = (-self._along[1], self._along[0])
        width = len(dimension.text) * CHARACTER_SHARE * text_mm
        across = (abs(self._left[0]) * width + abs(self._left[1]) * text_mm) / 2
        # Far enough out for the text to stay clear of what is measured.
        least = across + _CLEAR_OF_OBJECT * text_mm
        offset_mm = math.copysign(max(abs(offset_mm), least), offset_mm)
        self._offset_mm = offset_mm
        self._from = _moved(dimension.start, self._left, offset_mm)
        self._to = _moved(dimension.end, self._left, offset_mm)
        reach = (abs(self._along[0]) * width + abs(self._along[1]) * text_mm) / 2
        arrow = _ARROW_LENGTH * text_mm
        self._fits = self._length >= 2 * (reach + 1.3 * arrow)
        # A text that does not fit between the arrowheads goes beyond the end of the line.
        shift = self._length / 2 if self._fits else self._length + 2.5 * arrow + reach
        self._middle = _moved(self._from, self._along, shift)
        x, y = self._middle
        rim = text_mm * 0.25
        self.text_box = Bounds(
            x - width / 2 - rim,
            y - text_mm / 2 - rim,
            x + width / 2 + rim,
            y + text_mm / 2 + rim,
        )

    def drawn(self) -> DrawnDimension:
        lines = [*self._extension_lines(), *self._dimension_lines()]
        heads = "".join(self._arrowheads())
        x, y = self._middle
        text = text_element(
            self._dimension.text,
            x,
            y - self._text_mm / 2,
            self._text_mm,
            anchor="middle",
            over_lines=True,
        )
        width = self._text_mm / 12
        svg = (
            f'<path d="{open_path_data(lines)}" fill="none" stroke="#333"'
            f' stroke-width="{width:.3f}"/><path d="{heads}" fill="#333"/>{text}'
        )
        points = [point for line in lines for point in line]
        box = self.text_box
        bounds = Bounds(
            min(box.x0, *(p[0] for p in points)),
            min(box.y0, *(p[1] for p in points)),
            max(box.x1, *(p[0] for p in points)),
            max(box.y1, *(p[1] for p in points)),
        )
        return DrawnDimension(svg=svg, text_box=box, bounds=bounds)

    def _extension_lines(self) -> list[tuple[Point2, Point2]]:
        sign = math.copysign(1.0, self._offset_mm)
        clear, over = _CLEAR_OF_POINT * self._text_mm, _OVERSHOOT * self._text_mm
        return [
            (_moved(point, self._left, sign * clear), _moved(end, self._left, sign * over))
            for point, end in (
                (self._dimension.start, self._from),
                (self._dimension.end, self._to),
            )
        ]

    def _dimension_lines(self) -> list[tuple[Point2, Point2]]:
        if not self._fits:
            tail = 2 * _ARROW_LENGTH * self._text_mm
            return [
                (_moved(self._from, self._along, -tail), self._from),
                (self._to, _moved(self._to, self._along, tail)),
            ]
        (ux, uy), box = self._along, self.text_box
        # The line stops short of the text on both sides.
        reach_x = (box.x1 - box.x0) / 2 / abs(ux) if ux else math.inf
        reach_y = (box.y1 - box.y0) / 2 / abs(uy) if uy else math.inf
        reach = min(reach_x, reach_y)
        return [
            (self._from, _moved(self._middle, self._along, -reach)),
            (_moved(self._middle, self._along, reach), self._to),
        ]

    def _arrowheads(self) -> Iterable[str]:
        inwards = 1.0 if self._fits else -1.0
        for tip, sign in ((self._from, inwards), (self._to, -inwards)):
            back = _moved(tip, self._along, sign * _ARROW_LENGTH * self._text_mm)
            half = _ARROW_HALF_WIDTH * self._text_mm
            one, other = _moved(back, self._left, half), _moved(back, self._left, -half)
            yield f"M{at(*tip)}L{at(*one)}L{at(*other)}Z"


def _moved(point: Point2, direction: Point2, distance_mm: float) -> Point2:
    return point[0] + direction[0] * distance_mm, point[1] + direction[1] * distance_mm


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.x0 < b.x1 and b.x0 < a.x1 and a.y0 < b.y1 and b.y0 < a.y1
