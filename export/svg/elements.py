"""Pieces of SVG text. Points come in millimetres with y up; SVG's y runs down, so it is negated."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from functools import lru_cache

from export.markup_text import in_markup
from parametric.geometry.outline import Outline, Vertex, arc_centre

FONT = "Helvetica, Arial, sans-serif"

CAPITAL_SHARE = 0.72
"""Height of a capital letter as a share of the font size, for common sans-serif fonts."""

_WIDE, _NARROW = 0.95, 0.68
"""Widths of capitals, m and w, and of other letters, as shares of a capital's height, for the fonts
of papers and pages (from memory).
"""

_GROUND_RIM = 0.2  # round a text, of a capital's height
_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}  # of a text, the share before its anchor

_FRAME = re.compile(r'viewBox="[^ "]+ [^ "]+ ([^ "]+) ([^ "]+)"')

_REMEMBERED = 20_000
"""Coordinates: those of a picture come again in its lines, and in the next picture of the set."""

Point2 = tuple[float, float]


@lru_cache(_REMEMBERED)
def number(value: float) -> str:
    """Return a coordinate with at most three decimals and no needless zeros."""
    shown = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def at(x: float, y: float) -> str:
    """Return a point as SVG writes it."""
    return f"{number(x)} {number(-y)}"


def closed_path_data(vertices: tuple[Vertex, ...]) -> str:
    """Return path data for a closed path of lines and true arcs."""
    first = vertices[0]
    steps = [f"M{at(first.x, first.y)}"]
    steps += [_step(a, b) for a, b in Outline(vertices).segments()]
    return "".join(steps) + "Z"


def open_path_data(lines: Iterable[Iterable[Point2]]) -> str:
    """Return path data for polylines, each drawn from its own start."""
    return "".join("M" + "L".join(at(x, y) for x, y in line) for line in lines)


def text_element(
    text: str,
    x: float,
    y: float,
    capital_mm: float,
    *,
    anchor: str = "start",
    angle: float = 0.0,
    over_lines: bool = False,
) -> str:
    """Return a text on the baseline at (x, y) with capitals of the given height.

    `angle` is in degrees, counter-clockwise. Over lines it has white ground, so that it is read.
    """
    size = capital_mm / CAPITAL_SHARE
    turn = f' transform="rotate({number(-angle)} {at(x, y)})"' if angle else ""
    ground = _ground(text, (x, y), capital_mm, anchor, angle) if over_lines else ""
    return (
        f'{ground}<text x="{number(x)}" y="{number(-y)}" font-family="{FONT}"'
        f' font-size="{number(size)}" text-anchor="{anchor}" fill="#111"{turn}>'
        f"{in_markup(text)}</text>"
    )


def _ground(text: str, base: Point2, capital_mm: float, anchor: str, angle: float) -> str:
    """Return the white ground of a text. A rim round its letters would make outlines of them on
    paper, which are ten times as large, and no text any more.
    """
    wide = sum(letter.isupper() or letter in "mw" for letter in text)
    width = (wide * _WIDE + (len(text) - wide) * _NARROW) * capital_mm
    start = -width * _BEFORE[anchor]
    rim, turn = _GROUND_RIM * capital_mm, math.radians(angle)
    left, right, low, high = start - rim, start + width + rim, -rim, capital_mm + rim
    corners = [
        (
            base[0] + along * math.cos(turn) - up * math.sin(turn),
            base[1] + along * math.sin(turn) + up * math.cos(turn),
        )
        for along, up in ((left, low), (right, low), (right, high), (left, high))
    ]
    return f'<path d="{open_path_data([corners])}Z" fill="#fff"/>'


def svg_document(box: tuple[float, float, float, float], title: str, body: Iterable[str]) -> str:
    """Return a whole SVG that shows the box (x0, y0, x1, y1), y up, titled for screen readers."""
    x0, y0, x1, y1 = box
    frame = " ".join(number(value) for value in (x0, -y1, x1 - x0, y1 - y0))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{frame}" role="img">'
        f"<title>{in_markup(title)}</title>" + "".join(body) + "</svg>\n"
    )


def picture_size(svg: str) -> tuple[float, float]:
    """Return width and height of a picture in its own units.

    Raises:
        ValueError: it has no frame.
    """
    frame = _FRAME.search(svg)
    if frame is None:
        raise ValueError("a picture without a frame")
    return float(frame[1]), float(frame[2])


def _step(a: Vertex, b: Vertex) -> str:
    if not a.bulge:
        return f"L{at(b.x, b.y)}"
    radius = number(arc_centre(a, b)[2])
    large = 1 if abs(a.bulge) > 1 else 0
    # Counter-clockwise with y up is the direction of falling angles in SVG's frame.
    sweep = 0 if a.bulge > 0 else 1
    return f"A{radius} {radius} 0 {large} {sweep} {at(b.x, b.y)}"
