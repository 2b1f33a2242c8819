"""Pictures for paper: SVG in millimetres of the page, so that texts have one size everywhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from export.svg.elements import FONT, Point2, number, open_path_data, svg_document
from parametric.geometry.outline import Bounds

PAPER_FONT = "Libertinus Serif"
"""The typesetter carries it; nothing depends on the fonts of a machine."""

CAPITAL_MM = 2.6  # of 11 pt type
CHARACTER_MM = 2.1  # wide enough for capitals and digits


@dataclass(frozen=True, slots=True)
class Fit:
    """From millimetres of the set to millimetres of the page."""

    scale: float
    dx: float
    dy: float

    def at(self, point: Point2) -> Point2:
        """Return where a point of the set lies on the page."""
        return (point[0] * self.scale + self.dx, point[1] * self.scale + self.dy)

    def lines(self, lines: Iterable[Sequence[Point2]]) -> list[list[Point2]]:
        """Return where lines of the set lie on the page."""
        return [[self.at(point) for point in line] for line in lines]


def scale_filling(points: Sequence[Point2], room: Bounds) -> float:
    """Return the scale at which the points fill the room, one way or the other.

    Raises:
        ValueError: there are none.
    """
    if not points:
        raise ValueError("a picture needs at least one line")
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    wide, high = max(xs) - min(xs) or 1.0, max(ys) - min(ys) or 1.0
    return min((room.x1 - room.x0) / wide, (room.y1 - room.y0) / high)


def fitted(points: Sequence[Point2], room: Bounds) -> Fit:
    """Return how points fill room on the page, middle on middle.

    Raises:
        ValueError: there are none.
    """
    scale = scale_filling(points, room)
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return Fit(
        scale,
        (room.x0 + room.x1) / 2 - scale * (min(xs) + max(xs)) / 2,
        (room.y0 + room.y1) / 2 - scale * (min(ys) + max(ys)) / 2,
    )


def path(lines: Iterable[Sequence[Point2]], colour: str, width_mm: float, dashes: str = "") -> str:
    """Return lines of one colour and width, millimetres of the page."""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path d="{open_path_data(lines)}" fill="none" stroke="{colour}"'
        f' stroke-width="{number(width_mm)}" stroke-linecap="round"{dashed}/>'
    )


def on_page(box: tuple[float, float, float, float], title: str, body: Iterable[str]) -> str:
    """Return a whole picture for paper; the box is (x0, y0, x1, y1)."""
    return on_paper(svg_document(box, title, body))


def on_paper(svg: str) -> str:
    """Return the picture with its texts in the font of the papers."""
    return svg.replace(FONT, PAPER_FONT)
