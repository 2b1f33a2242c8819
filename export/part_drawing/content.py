"""A part's drawing, apart from any file format: what is drawn, and where it stands on the page.

Places are millimetres of the page, y up. A dimension keeps the measured value beside its text, so
that a file can carry the real size and people read a rounded one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum

from export.papers.blocks import Row
from export.svg.elements import Point2
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds, Outline
from parametric.shapes.panel import Face

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


class Kind(Enum):
    """What an edge bounds."""

    PART = "part"
    OPENING = "opening"
    GROOVE = "groove"


@dataclass(frozen=True, slots=True)
class Edge:
    """A closed edge that is drawn."""

    kind: Kind
    outline: Outline


@dataclass(frozen=True, slots=True)
class Round:
    """A hole that is drawn: its middle and radius."""

    middle: Point2
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A letter that names something in a table, and the line that leads from it to that thing."""

    text: Text
    leader: Line = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A part seen square to one of its faces. `corner` is the one that all is measured from."""

    face: Face
    title: Text
    corner: Point2
    edges: tuple[Edge, ...]
    holes: tuple[Round, ...]
    dimensions: tuple[Dimension, ...]
    marks: tuple[Mark, ...]
    strokes: tuple[Line, ...]
    bands: tuple[Line, ...]
    arrows: tuple[Arrow, ...]

    @property
    def texts(self) -> tuple[Text, ...]:
        """All texts of the view."""
        of_dimensions = [dimension.text for dimension in self.dimensions]
        return (self.title, *of_dimensions, *(mark.text for mark in self.marks))


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A table with its heads; beside one of what is for one `hand` only stands the plan of that."""

    title: str
    heads: Row
    rows: tuple[Row, ...]
    hand: Hand | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDrawing:
    """The drawing of a part at 1 : `scale`, in a picture of `size_mm`; `room` tells which of the
    rooms that its page offers it is drawn for, `times` how many times as large that must be.
    """

    number: str
    title: str
    room: int
    scale: float
    size_mm: tuple[float, float]
    times: float
    views: tuple[View, ...]
    facts: Grid
    cuts: Grid
    holes: Grid
    edge_holes: Grid

    @property
    def grids(self) -> tuple[Grid, ...]:
        """The tables that have rows."""
        tables = (self.facts, self.cuts, self.holes, self.edge_holes)
        return tuple(table for table in tables if table.rows)
