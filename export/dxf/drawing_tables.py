"""The tables of a part's drawing in its DXF: a fixed grid right of the views.

A column of a table is one text of several lines, a line for the heads and one for each row, so that
the same line of all columns is a row. Over each table but the first stands its title, on the same
layer, in a text of its own.
"""

from __future__ import annotations

from ezdxf.document import Drawing as Document

from export.dimensions.content import CAPITAL_MM, CHARACTER_MM
from export.dimensions.on_page import OnPage
from export.dxf.drawing_layers import DrawingLayer
from export.part_drawing.content import Grid, PartDrawing
from export.visible_text import visible

LINE_MM = CAPITAL_MM * 5 / 3  # as far as the format sets lines apart
_BESIDE_MM, _COLUMN_GAP_MM, _TABLE_GAP_MM = 10.0, 4.0, 5.0
_EMPTY = "-"


def add_tables(document: Document, drawing: PartDrawing, full: OnPage, style: str) -> None:
    """Add number and name of the part, and below them its tables; `full` leads from the page to
    full size.
    """
    x, y = drawing.size_mm[0] + _BESIDE_MM, drawing.size_mm[1]
    pen = _Tables(document, full, style)
    pen.text(f"{drawing.number}  {drawing.title}", (x, y - CAPITAL_MM))
    y -= 2 * LINE_MM
    for grid in drawing.grids:
        if grid.title:
            pen.text(grid.title, (x, y - CAPITAL_MM))
            y -= LINE_MM
        pen.grid(grid, (x, y))
        y -= (len(grid.rows) + 1) * LINE_MM + _TABLE_GAP_MM


class _Tables:
    def __init__(self, document: Document, full: OnPage, style: str) -> None:
        self._space = document.modelspace()
        self._full = full
        self._attributes = {"layer": DrawingLayer.TABLE.value, "style": style}

    def text(self, text: str, at: tuple[float, float]) -> None:
        """Add a text of one line, its baseline beginning there."""
        height = CAPITAL_MM * self._full.scale
        added = self._space.add_text(_line(text), height=height, dxfattribs=self._attributes)
        added.set_placement(self._full.at(at))

    def grid(self, grid: Grid, at: tuple[float, float]) -> None:
        """Add a table, its upper left corner there."""
        x, y = at
        for cells in zip(grid.heads, *grid.rows, strict=True):
            lines = [_line(cell) or _EMPTY for cell in cells]
            column = self._space.add_mtext(
                "\\P".join(map(_escaped, lines)),
                dxfattribs=self._attributes
                | {
                    "char_height": CAPITAL_MM * self._full.scale,
                    "line_spacing_style": 2,  # exactly, whatever stands in a line
                    "line_spacing_factor": 1.0,
                },
            )
            column.set_location(self._full.at((x, y)), attachment_point=1)
            x += max(map(len, lines)) * CHARACTER_MM + _COLUMN_GAP_MM


def _line(text: str) -> str:
    return " ".join(visible(text).split())


def _escaped(text: str) -> str:
    """Return a text in which nothing steers how it is set."""
    return text.replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}")
