"""Pictures made of lines: what a hidden-line view of a set gives."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from export.svg.dimensions import PictureDimension, drawn_dimensions
from export.svg.elements import Point2, number, open_path_data, svg_document
from parametric.geometry.outline import Bounds

Polyline = Sequence[Point2]

_TEXT_SHARE = 1 / 50  # of the picture's diagonal
_LINE_SHARE = 1 / 900
_RIM_SHARE = 1 / 60


def lines_svg(
    visible: Iterable[Polyline],
    dimensions: Iterable[PictureDimension] = (),
    title: str = "line picture",
) -> str:
    """Return an SVG of polylines (mm, y up), fitted to them. Dimensions are drawn round them, each
    text upright and clear of the others.

    Raises:
        ValueError: there is no visible line, or a dimension measures nothing.
    """
    lines = tuple(visible)
    points = [point for line in lines for point in line]
    if not points:
        raise ValueError("a picture needs at least one line")
    box = _bounds(points)
    diagonal = math.dist(box[:2], box[2:]) or 1.0
    drawn = drawn_dimensions(dimensions, diagonal * _TEXT_SHARE)
    boxes = [box, *(dimension.bounds for dimension in drawn)]
    rim = diagonal * _RIM_SHARE
    frame = (
        min(b.x0 for b in boxes) - rim,
        min(b.y0 for b in boxes) - rim,
        max(b.x1 for b in boxes) + rim,
        max(b.y1 for b in boxes) + rim,
    )
    width = diagonal * _LINE_SHARE
    body = [_path(lines, "#111", width), *(dimension.svg for dimension in drawn)]
    return svg_document(frame, title, body)


def _path(lines: Iterable[Polyline], colour: str, width: float) -> str:
    return (
        f'<path d="{open_path_data(lines)}" fill="none" stroke="{colour}"'
        f' stroke-width="{number(width)}" stroke-linecap="round" stroke-linejoin="round"/>'
    )


def _bounds(points: Sequence[Point2]) -> Bounds:
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return Bounds(min(xs), min(ys), max(xs), max(ys))
