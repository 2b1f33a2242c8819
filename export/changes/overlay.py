"""A part as it was and as it is, drawn over one another. Millimetres of the page."""

from __future__ import annotations

from collections.abc import Iterator

from export.papers.drawn import Fit, fitted, on_page
from export.svg.elements import closed_path_data, number
from parametric.geometry.outline import Bounds, Outline, Vertex
from parametric.shapes.panel import FlatPanel

_RIM_MM = 2.0
_NOW = 'stroke="#000" stroke-width="0.35"'
_WAS = 'stroke="#888" stroke-width="0.5" stroke-dasharray="1.6 1.2"'


def overlay_svg(was: FlatPanel, now: FlatPanel, title: str, width_mm: float, high_mm: float) -> str:
    """Return both panels, lower-left corners on each other: what was is grey and dashed. The
    picture is as wide as asked, and at most as high.
    """
    corners = [
        (0.0, 0.0),
        (max(was.length_mm, now.length_mm), max(was.width_mm, now.width_mm)),
    ]
    high_mm = min(high_mm, (width_mm - 2 * _RIM_MM) * corners[1][1] / corners[1][0] + 2 * _RIM_MM)
    room = Bounds(_RIM_MM, _RIM_MM, width_mm - _RIM_MM, high_mm - _RIM_MM)
    fit = fitted(corners, room)
    body = [*_drawn(was, fit, _WAS), *_drawn(now, fit, _NOW)]
    return on_page((0.0, 0.0, width_mm, high_mm), title, body)


def _drawn(panel: FlatPanel, fit: Fit, pen: str) -> Iterator[str]:
    for outline in _outlines(panel):
        placed = tuple(Vertex(*fit.at((v.x, v.y)), v.bulge) for v in outline.vertices)
        yield f'<path d="{closed_path_data(placed)}" fill="none" {pen}/>'
    for bore in panel.bores:
        x, y = fit.at((bore.x, bore.y))
        radius = max(bore.diameter_mm / 2 * fit.scale, 0.4)
        yield (
            f'<circle cx="{number(x)}" cy="{number(-y)}" r="{number(radius)}" fill="none" {pen}/>'
        )


def _outlines(panel: FlatPanel) -> Iterator[Outline]:
    yield panel.outline
    yield from panel.openings
    for pocket in panel.pockets:
        yield pocket.outline
        yield from pocket.islands
