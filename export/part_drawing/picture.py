"""A part's drawing as a picture for its page."""

from __future__ import annotations

from collections.abc import Iterator

from export.dimensions.content import Line
from export.dimensions.picture import DOT_MM, arrowheads, drawn_text
from export.papers.drawn import on_page, path
from export.part_drawing.content import Kind, PartDrawing, View
from export.svg.elements import closed_path_data, number

_EDGES = {
    Kind.PART: ("none", 0.5),
    Kind.OPENING: ("#fff", 0.35),
    Kind.GROOVE: ("#e2e2e2", 0.25),
}
_THIN_MM = 0.13
_BAND_MM = 0.6


def drawing_svg(drawing: PartDrawing) -> str:
    """Return the views as SVG in millimetres of the page."""
    body = [piece for view in drawing.views for piece in _view(view)]
    return on_page((0.0, 0.0, *drawing.size_mm), f"{drawing.number} {drawing.title}", body)


def _view(view: View) -> Iterator[str]:
    for kind in (Kind.GROOVE, Kind.OPENING, Kind.PART):
        fill, width = _EDGES[kind]
        data = "".join(
            closed_path_data(edge.outline.vertices) for edge in view.edges if edge.kind is kind
        )
        if data:
            yield (
                f'<path d="{data}" fill="{fill}" fill-rule="evenodd" stroke="#000"'
                f' stroke-width="{number(width)}"/>'
            )
    for hole in view.holes:
        x, y = hole.middle
        yield (
            f'<circle cx="{number(x)}" cy="{number(-y)}" r="{number(hole.radius_mm)}" fill="#fff"'
            f' stroke="#000" stroke-width="0.25"/>'
        )
    yield path(view.strokes, "#000", _THIN_MM)
    yield path(view.bands, "#000", _BAND_MM)
    leaders = [mark.leader for mark in view.marks if mark.leader]
    lines: list[Line] = [line for each in view.dimensions for line in each.lines]
    yield path([*lines, *leaders], "#444", _THIN_MM)
    yield arrowheads((*view.arrows, *(a for each in view.dimensions for a in each.arrows)))
    for x, y in [view.corner, *(leader[0] for leader in leaders)]:
        yield f'<circle cx="{number(x)}" cy="{number(-y)}" r="{DOT_MM}" fill="#000"/>'
    yield from map(drawn_text, view.texts)
