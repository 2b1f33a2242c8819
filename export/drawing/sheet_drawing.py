"""A nested sheet as it is cut: the sheet's edge and every part where the layout puts it.

Sheet frame: the sheet's length along x, its width along y, lower-left corner at the origin.
"""

from __future__ import annotations

from collections.abc import Mapping

from export.drawing.panel_drawing import first_operation
from export.drawing.primitives import ClosedPath, Drawing
from export.layer_table import LayerRole, LayerTable
from nesting.answer.solution import Layout
from nesting.question.ticks import to_mm
from parametric.geometry.outline import Outline
from parametric.lists.cut_list import Part
from parametric.shapes.panel import FlatPanel
from parametric.stock.materials import StockSheet


def sheet_drawing(
    layout: Layout, parts: Mapping[str, Part], stock: StockSheet, layers: LayerTable
) -> Drawing:
    """Return the layout on its sheet, millimetres; `parts` by the number that the layout uses.

    A part that is turned lies a quarter turn counter-clockwise from its own frame. Part numbers are
    set anew in place, so that they read from the bottom or from the right of the sheet.

    Raises:
        KeyError: the layout names an unknown part, or the table was made without it.
    """
    panels = {name: parts[name].panel for name in layout.counts()}
    return placed_panels(layout, panels, stock, layers)


def placed_panels(
    layout: Layout, panels: Mapping[str, FlatPanel], stock: StockSheet, layers: LayerTable
) -> Drawing:
    """Return the same for panels, each with the name that the layout gives it written on it.

    Raises:
        KeyError: the layout names an unknown panel, or the table was made without it.
    """
    edge = Outline.rectangle(stock.length_mm, stock.width_mm)
    sheet = Drawing(paths=(ClosedPath.of(edge, layers.plain(LayerRole.SHEET)),))
    drawn: dict[tuple[str, bool], Drawing] = {}
    placed = []
    for placement in layout.placements:
        key = (placement.piece, placement.turned)
        if key not in drawn:
            panel = panels[placement.piece]
            panel = panel.turned_quarter() if placement.turned else panel
            drawn[key] = first_operation(panel, placement.piece, layers)
        placed.append(drawn[key].shifted(to_mm(placement.x), to_mm(placement.y)))
    return sheet.joined(placed)
