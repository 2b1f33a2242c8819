"""Overall sizes: a line with two arrowheads beyond the running dimensions."""

from __future__ import annotations

from export.dimensions.content import (
    ARROW_MM,
    CAPITAL_MM,
    CHARACTER_MM,
    Arrow,
    Dimension,
    Line,
    Measure,
    Reading,
    Text,
)
from export.dimensions.running import CLEAR_MM, Side, view_edge
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

_OVER_MM = 1.0  # how far the lines from the part run beyond the arrowheads
_TAIL_MM = 4.0
_LEAST_MM = 3.0  # from the view to the text, where no distances stand between


def overall_reach_mm(distances_mm: float) -> float:
    """Return how far out of the view an overall size reaches, beyond the distances there."""
    return max(distances_mm, _LEAST_MM) + 2 * CLEAR_MM + CAPITAL_MM + _OVER_MM


def beyond_mm(text: str, extent_mm: float) -> float:
    """Return how far an overall size sticks out at the far end of its line: its text does where
    there is too little room between the arrowheads.
    """
    long = CHARACTER_MM * len(text)
    return 0.0 if _fits(long, extent_mm) else _TAIL_MM + 2 * CLEAR_MM + long


def _fits(long_mm: float, extent_mm: float) -> bool:
    return extent_mm >= long_mm + 2 * ARROW_MM + 2 * CLEAR_MM


def overall(value_mm: float, text: str, side: Side, view: Bounds, distances_mm: float) -> Dimension:
    """Return the overall size that is written at a side of a view."""
    level = side.along == 0
    low, high = (view.x0, view.x1) if level else (view.y0, view.y1)
    edge, sign = view_edge(view, side), side.value[1 - side.along]
    out, text_out = overall_reach_mm(distances_mm) - _OVER_MM, -CLEAR_MM - CAPITAL_MM / 2
    if side is Side.ABOVE:  # where the text stands on its line too, which is nearer to the view
        out, text_out = out - CLEAR_MM - CAPITAL_MM, -text_out

    def point(along: float, out_mm: float) -> Point2:
        across = edge + sign * out_mm
        return (along, across) if level else (across, along)

    way = (1.0, 0.0) if level else (0.0, 1.0)
    back = (-way[0], -way[1])
    long = CHARACTER_MM * len(text)
    feet: list[Line] = [(point(end, CLEAR_MM), point(end, out + _OVER_MM)) for end in (low, high)]
    if _fits(long, high - low):
        middle = point((low + high) / 2, out + text_out)
        lines = [(point(low, out), point(high, out))]
        arrows = (Arrow(point(low, out), back), Arrow(point(high, out), way))
    else:
        middle = point(high + _TAIL_MM + CLEAR_MM + long / 2, out)
        lines = [
            (point(low - _TAIL_MM, out), point(low, out)),
            (point(high, out), point(high + _TAIL_MM, out)),
        ]
        arrows = (Arrow(point(low, out), way), Arrow(point(high, out), back))
    return Dimension(
        measure=Measure.LENGTH if level else Measure.WIDTH,
        value_mm=value_mm,
        text=Text(text, middle, Reading.LEVEL if level else Reading.UPRIGHT),
        points=(point(low, 0.0), point(high, 0.0), point(low, out)),
        lines=(*feet, *lines),
        arrows=arrows,
    )
