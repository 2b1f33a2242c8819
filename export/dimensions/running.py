"""Running dimensions (ISO 129-1): distances from one corner, written at the four sides of a view.

Each has a line from what it measures out of the view, and its text at the end of that line. Where
places are closer than texts the lines bend, so that texts stand clear of each other and of lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from export.dimensions.content import CAPITAL_MM, CHARACTER_MM, Dimension, Measure, Reading, Text
from export.dimensions.on_page import OnPage
from export.dimensions.spread import spread
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

APART_MM = CAPITAL_MM + 1.0  # from the middle of a text to that of the next
CLEAR_MM = 0.7  # between a line and what it leads to
_STRAIGHT_MM = 1.4  # how far a line leaves the view before it bends
_BEND_MM = 4.0
RIM_MM = 0.5  # from the lines of an overall size to the first text


class Side(Enum):
    """A side of a view, with the unit vector out of it."""

    BELOW = (0.0, -1.0)
    ABOVE = (0.0, 1.0)
    LEFT = (-1.0, 0.0)
    RIGHT = (1.0, 0.0)

    @property
    def along(self) -> int:
        """The coordinate that counts along the side: 0 for x, 1 for y."""
        return 0 if self.value[0] == 0.0 else 1

    @property
    def opposite(self) -> Side:
        """The side across the view."""
        return next(each for each in Side if each.value == (-self.value[0], -self.value[1]))


@dataclass(frozen=True, slots=True)
class Station:
    """A distance from the corner, its text, and the places of the part that have it."""

    value_mm: float
    text: str
    points: tuple[Point2, ...]
    along: int

    def nearest(self, side: Side) -> Point2:
        """Return the place that is nearest to a side."""
        out = side.value
        return max(self.points, key=lambda at: at[0] * out[0] + at[1] * out[1])


def reach_mm(listed: Sequence[Station]) -> float:
    """Return how far out of a view its distances at one side reach."""
    if not listed:
        return 0.0
    longest = max(len(station.text) for station in listed)
    return _STRAIGHT_MM + _BEND_MM + CLEAR_MM + CHARACTER_MM * longest


def sticks_out_mm(listed: Sequence[Station], room_mm: float) -> float:
    """Return how far the distances at one side need more room than the view has along it."""
    return max(0.0, (len(listed) - 1) * APART_MM + CAPITAL_MM + 2 * RIM_MM - room_mm)


def view_edge(view: Bounds, side: Side) -> float:
    """Return where a side of a view is, across it."""
    return {
        Side.BELOW: view.y0,
        Side.ABOVE: view.y1,
        Side.LEFT: view.x0,
        Side.RIGHT: view.x1,
    }[side]


def running_dimensions(
    listed: Sequence[Station], side: Side, view: Bounds, page: OnPage, corner: Point2
) -> list[Dimension]:
    """Return the distances at one side of a view; `view` is its box on the page, `corner` the one
    that they are measured from. More than have room stick out at the other end of the side.
    """
    axis = side.along
    low, high = (view.x0, view.x1) if axis == 0 else (view.y0, view.y1)
    over = sticks_out_mm(listed, high - low)
    if corner[axis] > (low + high) / 2:
        low -= over
    else:
        high += over
    ends = [page.at(station.points[0])[axis] for station in listed]
    rim = CAPITAL_MM / 2 + RIM_MM
    places = spread(ends, APART_MM, low + rim, high - rim)
    return [
        _dimension(station, side, view, page, corner, at)
        for station, at in zip(listed, places, strict=True)
    ]


def _dimension(
    station: Station, side: Side, view: Bounds, page: OnPage, corner: Point2, at: float
) -> Dimension:
    axis = side.along
    measured = page.at(station.nearest(side))
    edge, sign = view_edge(view, side), side.value[1 - axis]

    def point(along: float, out: float) -> Point2:
        across = edge + sign * out
        return (along, across) if axis == 0 else (across, along)

    inside = sign * (edge - measured[1 - axis])  # how far the place lies inside the view
    start = point(measured[axis], min(-inside + CLEAR_MM, CLEAR_MM))
    turn = point(measured[axis], _STRAIGHT_MM)
    end = point(at, _STRAIGHT_MM + _BEND_MM)
    long = CHARACTER_MM * len(station.text)
    middle = point(at, _STRAIGHT_MM + _BEND_MM + CLEAR_MM + long / 2)
    reading = Reading.UPRIGHT if axis == 0 else Reading.LEVEL
    return Dimension(
        measure=Measure.X if axis == 0 else Measure.Y,
        value_mm=station.value_mm,
        text=Text(station.text, middle, reading),
        points=(corner, measured, end),
        lines=((start, turn, end),),
    )
