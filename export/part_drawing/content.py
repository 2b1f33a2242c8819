"""A part's drawing, apart from any file format: what is drawn, and where it stands on the page.

Places are millimetres of the page, y up.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from export.dimensions.content import Arrow, Dimension, Line, Text
from export.papers.blocks import Row
from export.svg.elements import Point2
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Outline
from parametric.shapes.panel import Face


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
