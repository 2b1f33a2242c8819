"""How what is drawn comes onto the page."""

from __future__ import annotations

from dataclasses import dataclass

from export.svg.elements import Point2
from parametric.geometry.outline import Outline, Vertex


@dataclass(frozen=True, slots=True)
class OnPage:
    """From millimetres of the part to millimetres of the page: `scale` of them for one."""

    scale: float
    dx: float
    dy: float

    def at(self, point: Point2) -> Point2:
        """Return where a place lies on the page."""
        return (point[0] * self.scale + self.dx, point[1] * self.scale + self.dy)

    def outline(self, of: Outline) -> Outline:
        """Return an edge on the page."""
        return Outline(tuple(Vertex(*self.at((v.x, v.y)), v.bulge) for v in of.vertices))
