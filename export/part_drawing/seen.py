"""A panel as it is seen square to one face."""

from __future__ import annotations

import math
from dataclasses import dataclass

from export.dimensions.content import Line
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds, Outline, Vertex, arc_centre
from parametric.shapes.panel import Face, FlatPanel

_STEP_RAD = math.radians(15.0)
_SAG_MM = 0.1  # between an arc and its chord: less than is kept free round texts


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A panel turned so that `face` is towards the reader: for the lower face it is turned over
    about its length, and the corner that all is measured from comes to lie at the top.
    """

    panel: FlatPanel
    face: Face

    @classmethod
    def of(cls, panel: FlatPanel, face: Face) -> Seen:
        """Return the panel seen from that face."""
        return cls(panel=panel if face is Face.UP else panel.turned_over(), face=face)

    @property
    def corner(self) -> Point2:
        """Where the corner lies that all is measured from."""
        return (0.0, 0.0 if self.face is Face.UP else self.panel.width_mm)

    def across(self, y: float) -> float:
        """Return how far from that corner a place lies across the part."""
        return abs(y - self.corner[1])

    def own(self, outline: Outline) -> Outline:
        """Return an edge of the part, given as it lies with its upper face up, as it is seen."""
        if self.face is Face.UP:
            return outline
        width = self.panel.width_mm
        return Outline(tuple(Vertex(v.x, width - v.y, -v.bulge) for v in outline.vertices))

    def own_bounds(self, box: Bounds) -> Bounds:
        """Return a box of the part, given with its upper face up, as it is seen."""
        if self.face is Face.UP:
            return box
        width = self.panel.width_mm
        return Bounds(box.x0, width - box.y1, box.x1, width - box.y0)

    def own_point(self, x: float, y: float) -> Point2:
        """Return a place of the part, given with its upper face up, as it is seen."""
        return (x, y if self.face is Face.UP else self.panel.width_mm - y)


def flattened(outline: Outline) -> Line:
    """Return an edge on the page as straight lines, back to its start; arcs become chords of 15
    degrees, or shorter ones that lie near them.
    """
    points: list[Point2] = []
    for a, b in outline.segments():
        points.append((a.x, a.y))
        if a.bulge:
            x, y, radius = arc_centre(a, b)
            start, sweep = math.atan2(a.y - y, a.x - x), 4 * math.atan(a.bulge)
            step = min(_STEP_RAD, math.sqrt(8 * _SAG_MM / radius))
            steps = math.ceil(abs(sweep) / step)
            points += [
                (
                    x + radius * math.cos(start + sweep * i / steps),
                    y + radius * math.sin(start + sweep * i / steps),
                )
                for i in range(1, steps)
            ]
    return (*points, points[0])
