"""A view whose parts have numbers: balloons in columns at its sides, whose leaders never cross."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from export.dimensions.content import CAPITAL_MM, Line, Text, text_size
from export.dimensions.spread import spread
from export.papers.drawn import Fit, fitted, scale_filling
from export.set_drawing.content import NumberedView
from export.set_drawing.strokes import Stroke, Strokes
from export.site.content import Callout
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

BALLOON_MM = CAPITAL_MM + 2.0  # the height of a balloon
_APART_MM = BALLOON_MM + 0.8
_ROUND_MM = 1.4  # beside the text in its balloon
_GAP_MM = 7.0  # between balloons and the picture
_RIM_MM = 1.0  # over and under it


@dataclass(frozen=True, slots=True)
class Balloon:
    """A number in its balloon, and the line from that to a dot on the part."""

    text: Text
    leader: Line

    @property
    def box(self) -> Bounds:
        """The box of the balloon."""
        return balloon_box(self.text)


def balloon_box(text: Text) -> Bounds:
    """Return the box of the balloon round a text."""
    (x, y), (wide, _) = text.middle, text_size(text.text)
    half = wide / 2 + _ROUND_MM
    return Bounds(x - half, y - BALLOON_MM / 2, x + half, y + BALLOON_MM / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A view with its balloons, in millimetres of its picture."""

    title: str
    size_mm: tuple[float, float]
    strokes: Strokes
    balloons: tuple[Balloon, ...]


def numbered(view: NumberedView, room_mm: tuple[float, float]) -> Numbered:
    """Return a view as large as it has room, its balloons beside it, and no higher than it needs
    to be; it is higher than asked for where its balloons need that.

    Raises:
        ValueError: there is no line.
    """
    half = math.ceil(len(view.numbers) / 2)
    longest = max((text_size(each.label)[0] for each in view.numbers), default=0.0)
    column = longest + 2 * _ROUND_MM
    beside = column + _GAP_MM
    points = [point for line in (*view.lines, *view.threads) for point in line]
    most = Bounds(beside, _RIM_MM, room_mm[0] - beside, room_mm[1] - _RIM_MM)
    levels = [y for _, y in points]
    drawn_mm = scale_filling(points, most) * (max(levels) - min(levels))
    size = (room_mm[0], max(drawn_mm, half * _APART_MM) + 2 * _RIM_MM)
    fit = fitted(points, Bounds(beside, _RIM_MM, size[0] - beside, size[1] - _RIM_MM))
    strokes = Strokes()
    strokes.add(Stroke.THREAD, [tuple(line) for line in fit.lines(view.threads)])
    strokes.add(Stroke.OUTLINE, [tuple(line) for line in fit.lines(view.lines)])
    by_x = sorted(view.numbers, key=lambda each: each.at)
    left, right = by_x[: len(by_x) // 2], by_x[len(by_x) // 2 :]
    balloons = (
        *_column(left, fit, column / 2, size[1], out=-1.0),
        *_column(right, fit, size[0] - column / 2, size[1], out=1.0),
    )
    return Numbered(title=view.title, size_mm=size, strokes=strokes, balloons=balloons)


def _column(
    callouts: Sequence[Callout], fit: Fit, x: float, height_mm: float, *, out: float
) -> list[Balloon]:
    ends = sorted(((fit.at(each.at), each.label) for each in callouts), key=lambda e: e[0][1])
    rim = BALLOON_MM / 2 + 0.5
    levels = spread([end[1] for end, _ in ends], _APART_MM, rim, height_mm - rim)
    half = max((text_size(label)[0] for _, label in ends), default=0.0) / 2 + _ROUND_MM
    starts = [(x - out * half, level) for level in levels]
    order = _uncrossed(starts, [end for end, _ in ends])
    return [
        _balloon(Text(ends[at][1], (x, level)), ends[at][0])
        for level, at in zip(levels, order, strict=True)
    ]


def _uncrossed(starts: Sequence[Point2], ends: Sequence[Point2]) -> list[int]:
    """Return for each start which end it leads to: two whose lines cross change places until none
    do. Each change makes the lines shorter together, so that it comes to an end.
    """
    order = list(range(len(ends)))
    while True:
        for one, other in combinations(range(len(order)), 2):
            if _cross(starts[one], ends[order[one]], starts[other], ends[order[other]]):
                order[one], order[other] = order[other], order[one]
                break
        else:
            return order


def _cross(a: Point2, b: Point2, c: Point2, d: Point2) -> bool:
    def turn(p: Point2, q: Point2, r: Point2) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def _balloon(text: Text, end: Point2) -> Balloon:
    """Return a balloon with its leader from the side of it that looks to its end."""
    box = balloon_box(text)
    start = (box.x1 if end[0] > text.middle[0] else box.x0, text.middle[1])
    return Balloon(text, (start, end))
