"""Plain rectangles on a sheet as a cut file, written and read back."""

from __future__ import annotations

from dataclasses import dataclass

from export.drawing.sheet_drawing import placed_panels
from export.dxf.content import DxfContent
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.layer_names import LayerNames
from export.layer_table import LayerTable, layer_table
from export.sheet_check import placed_problems
from export.sheet_problem import SheetProblem
from nesting.answer.solution import Layout
from nesting.question.instance import Instance, Piece, Stock
from nesting.question.ticks import to_mm
from parametric.geometry.outline import Outline
from parametric.shapes.panel import FlatPanel
from parametric.stock.materials import StockSheet

_NO_THICKNESS_MM = 0.0  # a list of rectangles does not tell it, and nothing drawn depends on it


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainSheet:
    """The DXF of a layout, what it holds when it is read back, and what is wrong with that."""

    dxf: bytes
    content: DxfContent
    problems: tuple[SheetProblem, ...]


def plain_layers() -> LayerTable:
    """Return the layers of a sheet of rectangles: its edge, the outlines, the names."""
    return layer_table((), LayerNames(), largest_drill_mm=0.0)


def plain_sheet(instance: Instance, layout: Layout, layers: LayerTable) -> PlainSheet:
    """Return the file of a layout; outlines stand in the order of its placements.

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
        UnfitDrawing: the drawing holds what no machine can cut.
        DxfFailure: the DXF library refuses to write or to read it.
    """
    stock = _sheet(instance.stock_of[layout.stock])
    panels = {piece.id: _panel(piece) for piece in instance.pieces}
    dxf = dxf_bytes(placed_panels(layout, panels, stock, layers), layers, DxfVersion.R2010)
    content = read_dxf(dxf)
    problems = placed_problems(
        content, layout, panels, stock=stock, layers=layers, rules=instance.rules
    )
    return PlainSheet(dxf=dxf, content=content, problems=problems)


def _sheet(stock: Stock) -> StockSheet:
    return StockSheet(
        key=stock.id,
        length_mm=to_mm(stock.length),
        width_mm=to_mm(stock.width),
        price=stock.price,
        on_hand=stock.on_hand,
    )


def _panel(piece: Piece) -> FlatPanel:
    length, width = to_mm(piece.length), to_mm(piece.width)
    return FlatPanel(
        length_mm=length,
        width_mm=width,
        thickness_mm=_NO_THICKNESS_MM,
        outline=Outline.rectangle(length, width),
        openings=(),
        pockets=(),
        bores=(),
        edge_bores=(),
    )
