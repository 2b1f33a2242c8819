"""Texts and arrowheads of a drawing as a picture for its page."""

from __future__ import annotations

from collections.abc import Iterable

from export.dimensions.content import CAPITAL_MM, Arrow, Reading, Text
from export.svg.elements import at, text_element

DOT_MM = 0.4  # the radius of a dot at the end of a leader


def arrowheads(arrows: Iterable[Arrow]) -> str:
    """Return the heads of arrows as SVG."""
    data = "".join("M" + "L".join(at(*corner) for corner in arrow.head) + "Z" for arrow in arrows)
    return f'<path d="{data}" fill="#222"/>'


def drawn_text(text: Text) -> str:
    """Return a text of a drawing as SVG."""
    x, y = text.middle
    half = CAPITAL_MM / 2
    base = (x, y - half) if text.reading is Reading.LEVEL else (x + half, y)
    return text_element(text.text, *base, CAPITAL_MM, anchor="middle", angle=text.reading.value)
