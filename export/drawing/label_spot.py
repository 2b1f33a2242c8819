"""Where a part number goes on a part: as large as fits, clear of what is cut, level where it can.

A text is taken for a box as wide as its height for each character, which is more than common
single-stroke fonts need, with a margin all round.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import product

from export.drawing.primitives import Label, clean
from parametric.geometry.outline import Bounds, Outline, Vertex, arc_centre
from parametric.shapes.panel import FlatPanel

HEIGHTS_MM = (50.0, 40.0, 32.0, 25.0, 20.0, 16.0, 12.0, 10.0, 8.0, 6.0, 5.0, 4.0, 3.0)
"""Heights that are tried, the largest first."""

MARGIN_OF_HEIGHT = 0.4
"""Clear space round a text, as a share of its height."""

_UPRIGHT_SHARE = 0.6  # a text that reads from the right counts as so much of its height

_STEP_DEG = 15.0
_ACROSS = (0.5, 0.3, 0.7, 0.1, 0.9, 0.02, 0.98)  # 0 and 1 would touch the edge
_SPOTS = sorted(product(_ACROSS, _ACROSS), key=lambda at: math.dist(at, (0.5, 0.5)))

Line = tuple[tuple[float, float], tuple[float, float]]


def label_on(panel: FlatPanel, text: str, layer: str) -> Label:
    """Return the text on the panel, in the panel's frame: level, or reading from the right.

    Tried in turn: clear of every cut, clear of what goes right through, anywhere within the
    outline. A part too small for any of these has the text in the middle of its bounding
    rectangle, small enough to stay inside it.
    """
    within = _Shape.of(panel.outline)
    through = [_Shape.of(outline) for outline in panel.openings]
    through += [
        _Shape.of(Outline.circle(bore.x, bore.y, bore.diameter_mm))
        for bore in panel.bores
        if bore.depth_mm is None
    ]
    blind = [_Shape.of(pocket.outline) for pocket in panel.pockets]
    blind += [
        _Shape.of(Outline.circle(bore.x, bore.y, bore.diameter_mm))
        for bore in panel.bores
        if bore.depth_mm is not None
    ]
    box = panel.outline.bounds
    for obstacles in (through + blind, through, []):
        for height, reading in _SIZES:
            spot = _free_spot(within, obstacles, box, _text_size(text, height, reading))
            if spot is not None:
                return _label(text, layer, spot, height, reading)
    return _squeezed(text, layer, box)


class _Reading(Enum):
    """How a text lies; the value is its angle in degrees."""

    LEVEL = 0.0
    UPRIGHT = 90.0


_SIZES = sorted(
    product(HEIGHTS_MM, _Reading),
    key=lambda size: -size[0] * (1.0 if size[1] is _Reading.LEVEL else _UPRIGHT_SHARE),
)


@dataclass(frozen=True, slots=True)
class _Shape:
    """A closed shape flattened to straight lines, with its bounds."""

    lines: tuple[Line, ...]
    bounds: Bounds

    @classmethod
    def of(cls, outline: Outline) -> _Shape:
        points = [point for a, b in outline.segments() for point in _flattened(a, b)]
        lines = tuple(zip(points, points[1:] + points[:1], strict=True))
        return cls(lines, outline.bounds)

    def touches(self, box: Bounds) -> bool:
        """Return whether the shape's edge comes into the box."""
        return _meet(self.bounds, box) and any(_crosses(line, box) for line in self.lines)

    def holds(self, x: float, y: float) -> bool:
        """Return whether a point lies inside (even-odd)."""
        inside = False
        for (ax, ay), (bx, by) in self.lines:
            if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
                inside = not inside
        return inside


def _free_spot(
    within: _Shape, obstacles: Iterable[_Shape], box: Bounds, size: tuple[float, float]
) -> Bounds | None:
    room_x, room_y = box.x1 - box.x0 - size[0], box.y1 - box.y0 - size[1]
    if room_x < 0 or room_y < 0:
        return None
    for across, up in _SPOTS:
        x, y = box.x0 + across * room_x, box.y0 + up * room_y
        spot = Bounds(x, y, x + size[0], y + size[1])
        middle = (x + size[0] / 2, y + size[1] / 2)
        if within.touches(spot) or not within.holds(*middle):
            continue
        if not any(shape.touches(spot) or shape.holds(*middle) for shape in obstacles):
            return spot
    return None


def _text_size(text: str, height_mm: float, reading: _Reading) -> tuple[float, float]:
    margin = 2 * MARGIN_OF_HEIGHT * height_mm
    along, across = len(text) * height_mm + margin, height_mm + margin
    return (along, across) if reading is _Reading.LEVEL else (across, along)


def _label(text: str, layer: str, spot: Bounds, height_mm: float, reading: _Reading) -> Label:
    margin = MARGIN_OF_HEIGHT * height_mm
    # A text that reads from the right has its baseline on the right side of its box.
    x = spot.x0 + margin if reading is _Reading.LEVEL else spot.x1 - margin
    return Label(
        layer=layer,
        text=text,
        x=clean(x),
        y=clean(spot.y0 + margin),
        height_mm=height_mm,
        angle_deg=reading.value,
    )


def _squeezed(text: str, layer: str, box: Bounds) -> Label:
    length, width = box.x1 - box.x0, box.y1 - box.y0
    reading = _Reading.UPRIGHT if width > length else _Reading.LEVEL
    per_height = _text_size(text, 1.0, reading)
    height = clean(min(length / per_height[0], width / per_height[1], HEIGHTS_MM[-1]))
    size = _text_size(text, height, reading)
    x, y = box.x0 + (length - size[0]) / 2, box.y0 + (width - size[1]) / 2
    return _label(text, layer, Bounds(x, y, x + size[0], y + size[1]), height, reading)


def _flattened(a: Vertex, b: Vertex) -> Iterator[tuple[float, float]]:
    """Yield points from the start of a segment up to, not including, its end."""
    yield a.x, a.y
    if not a.bulge:
        return
    x, y, radius = arc_centre(a, b)
    start, sweep = math.atan2(a.y - y, a.x - x), 4 * math.atan(a.bulge)
    steps = math.ceil(abs(math.degrees(sweep)) / _STEP_DEG)
    for step in range(1, steps):
        angle = start + sweep * step / steps
        yield x + radius * math.cos(angle), y + radius * math.sin(angle)


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.x0 <= b.x1 and b.x0 <= a.x1 and a.y0 <= b.y1 and b.y0 <= a.y1


def _crosses(line: Line, box: Bounds) -> bool:
    """Return whether a straight line has a point in the box, by clipping it (Liang-Barsky)."""
    (ax, ay), (bx, by) = line
    enter, leave = 0.0, 1.0
    for start, step, low, high in ((ax, bx - ax, box.x0, box.x1), (ay, by - ay, box.y0, box.y1)):
        if step == 0:
            if not low <= start <= high:
                return False
            continue
        first, last = sorted(((low - start) / step, (high - start) / step))
        enter, leave = max(enter, first), min(leave, last)
        if enter > leave:
            return False
    return True
