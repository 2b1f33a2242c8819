"""Lines of a drawing by how they are drawn: the widths and dashes of technical drawings (ISO 128-2
has continuous wide and narrow lines, and chain lines), narrower for the size of these papers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import Enum

from export.dimensions.content import Line
from export.papers.drawn import path


class Stroke(Enum):
    """Colour, width and dashes of a line, millimetres of the page."""

    HATCH = ("#777", 0.1, "")
    HIDDEN = ("#555", 0.13, "1.2 0.8")
    OUTLINE = ("#000", 0.25, "")
    THREAD = ("#777", 0.13, "3 0.8 0.6 0.8")
    THIN = ("#444", 0.13, "")
    CUT = ("#000", 0.4, "")
    PLANE = ("#000", 0.6, "")
    WALL = ("#000", 0.7, "")


class Strokes:
    """Collects the lines of a drawing."""

    def __init__(self) -> None:
        self._lines: dict[Stroke, list[Line]] = {stroke: [] for stroke in Stroke}

    def add(self, stroke: Stroke, lines: Iterable[Line]) -> None:
        """Add lines."""
        self._lines[stroke] += lines

    def of(self, stroke: Stroke) -> tuple[Line, ...]:
        """Return the lines of one kind."""
        return tuple(self._lines[stroke])

    @property
    def lines(self) -> tuple[Line, ...]:
        """All lines."""
        return tuple(line for lines in self._lines.values() for line in lines)

    def drawn(self) -> Iterator[str]:
        """Yield the lines as SVG, what lies below first."""
        for stroke, lines in self._lines.items():
            if lines:
                yield path(lines, *stroke.value)
