"""What sizes in a drawing are made of: texts, arrows, dimensions, apart from any file format.

Places are millimetres of the page, y up. A dimension keeps the measured value beside its text, so
that a file can carry the real size and people read a rounded one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum

from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

CAPITAL_MM = 2.2
"""Height of the capitals in a drawing; ISO 3098 begins at 1.8."""

CHARACTER_MM = 1.8  # a place as wide as any digit or capital of that height

ARROW_MM = 2.2
ARROW_HALF_MM = 0.4

Line = tuple[Point2, ...]


class Reading(Enum):
    """How a text lies; the value is its angle in degrees."""

    LEVEL = 0.0
    UPRIGHT = 90.0


@dataclass(frozen=True, slots=True)
class Text:
    """A text of one line, in the middle of its box."""

    text: str
    middle: Point2
    reading: Reading = Reading.LEVEL

    @property
    def box(self) -> Bounds:
        """The box that the text keeps free."""
        x, y = self.middle
        across, up = text_size(self.text, self.reading)
        return Bounds(x - across / 2, y - up / 2, x + across / 2, y + up / 2)


def text_size(text: str, reading: Reading = Reading.LEVEL) -> tuple[float, float]:
    """Return width and height of the box of a text."""
    long = CHARACTER_MM * len(text)
    return (long, CAPITAL_MM) if reading is Reading.LEVEL else (CAPITAL_MM, long)


class Measure(StrEnum):
    """What a dimension tells."""

    X = "distance from the corner along the length"
    Y = "distance from the corner across"
    LENGTH = "length over all"
    WIDTH = "width over all"
    RADIUS = "radius"
    DIAMETER = "diameter"


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrowhead: its tip, and the unit vector it points along."""

    tip: Point2
    towards: Point2

    @property
    def head(self) -> tuple[Point2, Point2, Point2]:
        """The three corners of the head, its tip first."""
        (x, y), (dx, dy) = self.tip, self.towards
        bx, by = x - dx * ARROW_MM, y - dy * ARROW_MM
        sx, sy = -dy * ARROW_HALF_MM, dx * ARROW_HALF_MM
        return (x, y), (bx + sx, by + sy), (bx - sx, by - sy)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension. `points` are those that define it: of a distance the corner, what is measured,
    and the end of its line; of an overall size its two ends and a point on its line; of a radius
    the centre and a point of the arc; of a diameter two points of the circle.
    """

    measure: Measure
    value_mm: float
    text: Text
    points: Line
    lines: tuple[Line, ...]
    arrows: tuple[Arrow, ...] = ()
