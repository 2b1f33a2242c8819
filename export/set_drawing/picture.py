"""Views of a set as pictures for their pages."""

from __future__ import annotations

from collections.abc import Iterator

from export.dimensions.picture import DOT_MM, arrowheads, drawn_text
from export.papers.drawn import on_page, path
from export.set_drawing.measured import Measured
from export.set_drawing.numbered import BALLOON_MM, Balloon, Numbered
from export.set_drawing.strokes import Stroke
from export.svg.elements import number


def measured_svg(drawn: Measured) -> str:
    """Return a view with its sizes as SVG in millimetres of the page."""
    lines = [line for each in drawn.dimensions for line in each.lines]
    arrows = (*drawn.arrows, *(arrow for each in drawn.dimensions for arrow in each.arrows))
    body = [
        *drawn.strokes.drawn(),
        *([path(lines, *Stroke.THIN.value)] if lines else ()),
        *([arrowheads(arrows)] if arrows else ()),
        *map(drawn_text, drawn.all_texts),
    ]
    return on_page((0.0, 0.0, *drawn.size_mm), drawn.title, body)


def numbered_svg(drawn: Numbered) -> str:
    """Return a view with numbered parts as SVG in millimetres of the page."""
    body = [*drawn.strokes.drawn(), *(piece for each in drawn.balloons for piece in _balloon(each))]
    return on_page((0.0, 0.0, *drawn.size_mm), drawn.title, body)


def _balloon(balloon: Balloon) -> Iterator[str]:
    box, (x, y) = balloon.box, balloon.leader[-1]
    yield path([balloon.leader], *Stroke.THIN.value)
    yield f'<circle cx="{number(x)}" cy="{number(-y)}" r="{DOT_MM}" fill="#000"/>'
    yield (
        f'<rect x="{number(box.x0)}" y="{number(-box.y1)}" width="{number(box.x1 - box.x0)}"'
        f' height="{number(BALLOON_MM)}" rx="{number(BALLOON_MM / 2)}" fill="#fff" stroke="#000"'
        ' stroke-width="0.2"/>'
    )
    yield drawn_text(balloon.text)
