"""The small pictures on labels: SVG in millimetres of the label, black and white."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache

from export.edge_names import EDGE_NUMBERS
from export.labels.content import LabelPicture, PartPicture, Path, SheetPicture
from export.papers.drawn import Fit, fitted, on_page
from export.svg.elements import (
    Point2,
    closed_path_data,
    number,
    open_path_data,
    text_element,
)
from parametric.geometry.outline import Bounds, Outline, Vertex
from parametric.shapes.panel import Edge, Face

_LINE_MM, _FINE_MM, _BAND_MM = 0.25, 0.15, 0.7
_BARE_MM = 0.6  # beside an edge without a word at it
_SAME = 1e-3  # of a part's millimetres: on its edge or not

# In heights of a capital: a word from its edge, the room that it takes there, the words of the top
# face, their lines from each other, and a head of the grain arrow.
_AWAY, _BESIDE, _TOP_WIDE, _TOP_PITCH, _HEAD = 0.5, 1.85, 6.1, 1.65, 0.8
_CAPITAL_MM, _LARGEST_MM, _OF_HEIGHT = 1.4, 2.2, 0.12

_TOP = {Face.UP: ("top:", "this face"), Face.DOWN: ("top:", "face below")}


@cache
def label_picture_svg(picture: LabelPicture, width_mm: float, height_mm: float) -> str:
    """Return the picture in a box of this size."""
    match picture:
        case PartPicture():
            body = _part(picture, width_mm, height_mm)
        case SheetPicture():
            body = _sheet(picture, width_mm, height_mm)
    return on_page((0.0, 0.0, width_mm, height_mm), "what the label is for", body)


def _sheet(picture: SheetPicture, width_mm: float, height_mm: float) -> Iterator[str]:
    corners = ((0.0, 0.0), (picture.length_mm, picture.width_mm))
    fit = fitted(corners, Bounds(_BARE_MM, _BARE_MM, width_mm - _BARE_MM, height_mm - _BARE_MM))
    yield _closed([_rectangle(Bounds(*corners[0], *corners[1]))], fit, _LINE_MM)
    yield _closed([_rectangle(box) for box in picture.boxes], fit, _FINE_MM)


def _part(picture: PartPicture, width_mm: float, height_mm: float) -> Iterator[str]:
    capital = min(max(_OF_HEIGHT * height_mm, _CAPITAL_MM), _LARGEST_MM)
    words = _words(picture)
    beside = {edge: _BESIDE * capital if words[edge] else _BARE_MM for edge in Edge}
    aside = _TOP_WIDE * capital if isinstance(picture.top, Face) else 0.0
    bounds = _bounds(picture.outlines)
    room = Bounds(
        beside[Edge.X_LOW],
        beside[Edge.Y_LOW],
        width_mm - beside[Edge.X_HIGH] - aside,
        height_mm - beside[Edge.Y_HIGH],
    )
    fit = fitted(((bounds.x0, bounds.y0), (bounds.x1, bounds.y1)), room)
    yield _closed(picture.outlines, fit, _LINE_MM)
    yield _closed(picture.openings, fit, _FINE_MM)
    thick = [line for edge in picture.banded for line in _along(picture.outlines, bounds, edge)]
    yield _lines(fit.lines(thick), _BAND_MM)
    drawn = Bounds(*fit.at((bounds.x0, bounds.y0)), *fit.at((bounds.x1, bounds.y1)))
    if picture.grain:
        yield _lines(_arrow(drawn, _HEAD * capital), _LINE_MM)
    for edge, text in words.items():
        if text:
            yield _at_edge(drawn, edge, text, capital)
    if isinstance(picture.top, Face):
        y = (height_mm + (_TOP_PITCH - 1) * capital) / 2
        for text in _TOP[picture.top]:
            yield text_element(text, width_mm - aside, y, capital)
            y -= _TOP_PITCH * capital


def _words(picture: PartPicture) -> dict[Edge, str]:
    """Return what stands at each edge: its number where it is banded, and whether it is the top."""
    return {
        edge: " ".join(
            (str(number_of),) * (edge in picture.banded) + ("top",) * (edge is picture.top)
        )
        for edge, number_of in EDGE_NUMBERS.items()
    }


def _at_edge(drawn: Bounds, edge: Edge, text: str, capital: float) -> str:
    x, y, away = (drawn.x0 + drawn.x1) / 2, (drawn.y0 + drawn.y1) / 2, _AWAY * capital
    x, y, angle = {
        Edge.Y_LOW: (x, drawn.y0 - away - capital, 0.0),
        Edge.Y_HIGH: (x, drawn.y1 + away, 0.0),
        Edge.X_LOW: (drawn.x0 - away, y, 90.0),
        Edge.X_HIGH: (drawn.x1 + away + capital, y, 90.0),
    }[edge]
    return text_element(text, x, y, capital, anchor="middle", angle=angle)


def _along(outlines: Sequence[Path], bounds: Bounds, edge: Edge) -> Iterator[list[Point2]]:
    """Yield the straight segments of outlines that lie on an edge of their bounds."""
    axis = 0 if edge in (Edge.X_LOW, Edge.X_HIGH) else 1
    high = edge in (Edge.X_HIGH, Edge.Y_HIGH)
    where = bounds[axis + 2 * high]
    for vertices in outlines:
        for a, b in Outline(vertices).segments():
            if not a.bulge and all(abs(end[axis] - where) < _SAME for end in (a, b)):
                yield [(a.x, a.y), (b.x, b.y)]


def _arrow(drawn: Bounds, head_mm: float) -> list[list[Point2]]:
    """Return an arrow with two heads along the grain, in the middle of the part."""
    half, y = 0.3 * (drawn.x1 - drawn.x0), (drawn.y0 + drawn.y1) / 2
    x = (drawn.x0 + drawn.x1) / 2
    head = min(head_mm, half, 0.3 * (drawn.y1 - drawn.y0))
    left, right = x - half, x + half
    return [
        [(left, y), (right, y)],
        [(left + head, y + head / 2), (left, y), (left + head, y - head / 2)],
        [(right - head, y + head / 2), (right, y), (right - head, y - head / 2)],
    ]


def _closed(paths: Iterable[Path], fit: Fit, width_mm: float) -> str:
    data = "".join(
        closed_path_data(tuple(Vertex(*fit.at((v.x, v.y)), v.bulge) for v in vertices))
        for vertices in paths
    )
    return f'<path d="{data}" fill="none" stroke="#000" stroke-width="{number(width_mm)}"/>'


def _lines(lines: Iterable[Sequence[Point2]], width_mm: float) -> str:
    data = open_path_data(lines)
    return f'<path d="{data}" fill="none" stroke="#000" stroke-width="{number(width_mm)}"/>'


def _rectangle(box: Bounds) -> Path:
    return (
        Vertex(box.x0, box.y0),
        Vertex(box.x1, box.y0),
        Vertex(box.x1, box.y1),
        Vertex(box.x0, box.y1),
    )


def _bounds(outlines: Sequence[Path]) -> Bounds:
    boxes = [Outline(vertices).bounds for vertices in outlines]
    return Bounds(
        min(box.x0 for box in boxes),
        min(box.y0 for box in boxes),
        max(box.x1 for box in boxes),
        max(box.y1 for box in boxes),
    )
