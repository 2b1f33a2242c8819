"""What a neutral drawing is made of. Millimetres and degrees; x to the right, y up.

Every coordinate is rounded to a millionth of a micrometre when it enters, so that 600 mm is never
written as 599.9999999999999 and two ways of working out one place give one number.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from parametric.geometry.outline import Bounds, Outline, Vertex

_DECIMALS = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedPath:
    """A closed path of lines and arcs, counter-clockwise; the last vertex joins the first."""

    layer: str
    vertices: tuple[Vertex, ...]

    @property
    def outline(self) -> Outline:
        """The path as an outline: its area, bounds and length are exact for arcs."""
        return Outline(self.vertices)

    @classmethod
    def of(cls, outline: Outline, layer: str) -> ClosedPath:
        """Return the outline as a path on a layer, starting at its vertex of least (x, y)."""
        cleaned = Outline(
            tuple(
                Vertex(clean(v.x), clean(v.y), round(v.bulge, 12) + 0.0) for v in outline.vertices
            )
        )
        return cls(layer=layer, vertices=cleaned.started_lowest().vertices)


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A hole that a drill makes."""

    layer: str
    x: float
    y: float
    diameter_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A line of text from the left end of its baseline, turned counter-clockwise by an angle."""

    layer: str
    text: str
    x: float
    y: float
    height_mm: float
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Paths, circles and labels, each on a layer."""

    paths: tuple[ClosedPath, ...] = ()
    circles: tuple[Circle, ...] = ()
    labels: tuple[Label, ...] = ()

    def joined(self, others: Iterable[Drawing]) -> Drawing:
        """Return this drawing followed by the others."""
        drawings = (self, *others)
        return Drawing(
            paths=tuple(path for drawing in drawings for path in drawing.paths),
            circles=tuple(circle for drawing in drawings for circle in drawing.circles),
            labels=tuple(label for drawing in drawings for label in drawing.labels),
        )

    def shifted(self, x: float, y: float) -> Drawing:
        """Return the drawing moved by (x, y) millimetres."""
        return Drawing(
            paths=tuple(_shifted_path(path, x, y) for path in self.paths),
            circles=tuple(
                replace(circle, x=clean(circle.x + x), y=clean(circle.y + y))
                for circle in self.circles
            ),
            labels=tuple(
                replace(label, x=clean(label.x + x), y=clean(label.y + y)) for label in self.labels
            ),
        )

    def used_layers(self) -> frozenset[str]:
        """Return the names of the layers that anything lies on."""
        names = {path.layer for path in self.paths}
        names |= {circle.layer for circle in self.circles}
        return frozenset(names | {label.layer for label in self.labels})

    @property
    def bounds(self) -> Bounds | None:
        """The bounding rectangle of paths and circles; None when there are none."""
        boxes = [path.outline.bounds for path in self.paths]
        for circle in self.circles:
            radius = circle.diameter_mm / 2
            boxes.append(
                Bounds(circle.x - radius, circle.y - radius, circle.x + radius, circle.y + radius)
            )
        if not boxes:
            return None
        return Bounds(
            min(box.x0 for box in boxes),
            min(box.y0 for box in boxes),
            max(box.x1 for box in boxes),
            max(box.y1 for box in boxes),
        )


def clean(value: float) -> float:
    """Return a coordinate without float noise, and never minus zero."""
    return round(value, _DECIMALS) + 0.0


def _shifted_path(path: ClosedPath, x: float, y: float) -> ClosedPath:
    moved = tuple(Vertex(clean(v.x + x), clean(v.y + y), v.bulge) for v in path.vertices)
    return replace(path, vertices=moved)
