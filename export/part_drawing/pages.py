"""The pages of part drawings: one for each part, on its side, after one that tells how to read."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import islice

from export.dimensions.scales import told_scale
from export.edge_names import HOW_NUMBERED
from export.papers.blocks import (
    Beside,
    Block,
    Cautions,
    Head,
    Page,
    Paragraph,
    Picture,
    Row,
    Share,
    Table,
    Width,
)
from export.papers.cautions import DEFERS
from export.papers.drawn import on_paper
from export.papers.page_format import PageFormat, page_format
from export.papers.typesetting import Source, document
from export.part_drawing.content import Grid, PartDrawing
from export.part_drawing.drawing import Room, Rooms
from export.part_drawing.picture import drawing_svg
from export.part_drawing.tables import CHANNEL_HEADS, CUT_HEADS, EDGE_HOLE_HEADS, HOLE_HEADS
from export.svg.hand_plan import hand_plan_svg
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper

_HEAD_MM, _ROUND_MM = 15.0, 4.0  # title and note; above and below views
_ROW_MM, _TITLE_MM = 3.95, 8.0
_GAP_MM = 6.0
_TABLES_MM, _CHANNELS_MM = 80.0, 86.0  # the width of tables beside the views, with channels
_PLAN_MM = 20.0  # the width of the plan of a hand
_LINE, _LINE_BESIDE_PLAN = 30, 18  # characters of a fact on one line
_LISTED = ("hand", "make")  # facts in the list of parts
_LEAST_MM = 45.0  # height for views above tables
_WIDTHS: dict[Row, tuple[Width, ...]] = {
    HOLE_HEADS: (None, Share(), Share(), Share(), Share(), None),
    CUT_HEADS: (None, None, None, None, *[Share()] * 3),
    CHANNEL_HEADS: (None, None, None, None, *[Share()] * 3, Share(1.1)),
    EDGE_HOLE_HEADS: (None, None, Share(), Share(), Share(), Share(), Share(), Share()),
}
_UNITS = {Units.MM: "millimetres", Units.INCH: "inches"}
_HOW = (
    "All places are measured from one corner of the board, the one marked 0: along the length by"
    " the figures below and above a view, across it by those on the left and right. The view on the"
    " lower face shows the part turned over about its length, with the same corner marked 0.",
    "Edges are straight between the places that are told, and rounded where a radius is told. The"
    " corner radius of a groove or opening is that of all its rounded corners; a rounded corner is"
    " told by where its two straight edges would meet. Length and width of a groove are those over"
    " all; where it turns corners, its channel is how wide it is between its sides.",
    f"{HOW_NUMBERED} So the view on the lower face has edge 3 below and edge 1 above.",
    "Sizes are those of the board as cut, before its edges are banded. A heavy line beside an edge"
    " is a band. The arrow with two heads shows the way of the grain.",
)
_INCHES = (
    "Inches stand as fractions where the size is a whole number of 1/64; any other is told in"
    " thousandths and cannot be read off a rule."
)
_CAUTIONS = (
    "Wear eye and ear protection, and a mask against dust. Before machining, clamp the board, and"
    " check how far each blind hole and groove may go: a bit must not come out on a face that is"
    " seen.",
    DEFERS,
)


def rooms_on(format_: PageFormat) -> Rooms:
    """Return what rooms a page of the format has for views: beside their tables, and above them."""
    wide, high = _inner(format_)

    def rooms(tables: tuple[Grid, ...]) -> tuple[Room, ...]:
        heights = [_height(each) for each in tables]
        beside = (wide - _tables_mm(tables) - _GAP_MM, high)
        above = (wide, high - _below_height(heights))
        if math.fsum(heights) > high and above[1] >= _LEAST_MM:
            return (_NO_ROOM, above)  # the tables alone are longer than the page
        return (beside, above if above[1] >= _LEAST_MM else _NO_ROOM)

    return rooms


_NO_ROOM = (0.0, 0.0)


def drawings_source(
    job: str, drawings: Sequence[PartDrawing], units: Units, paper: Paper
) -> Source:
    """Return the list of the parts, and a page for each."""
    told = (*_HOW, _INCHES) if units is Units.INCH else _HOW
    listed = tuple(
        (
            each.number,
            each.title,
            *(row[1] for row in each.facts.rows if row[0] in ("hand", "make")),
        )
        for each in drawings
    )
    first = Page(
        blocks=(
            Head(title="Part drawings", below=f"one page for each part, sizes in {_UNITS[units]}"),
            *map(Paragraph, told),
            Cautions(_CAUTIONS),
            Table(
                heads=("part", "name", "hand", "make"),
                widths=(16.0, Share(), None, 14.0),
                rows=listed,
                small=True,
            ),
        )
    )
    pages = (_page(each, units, page_format(paper)) for each in drawings)
    return document(page_format(paper), job, (first, *pages))


def _page(drawing: PartDrawing, units: Units, format_: PageFormat) -> Page:
    scale = told_scale(drawing.scale * drawing.times, units)
    note = (
        f"Scale {scale}. Sizes in {_UNITS[units]}, of the board as cut, from the corner marked 0."
    )
    if drawing.times > 1.0:
        note += f" There is much to tell: print this page {drawing.times:g} times as large."
    views = Picture(svg=drawing_svg(drawing), width_mm=drawing.size_mm[0] / drawing.times)
    head = Head(title=f"{drawing.number}  {drawing.title}", below=note)
    if drawing.room == 0:
        tables = tuple(_block(each) for each in drawing.grids)
        layout: tuple[Block, ...] = (
            Beside(
                columns=((views,), tables),
                widths=(Share(), _tables_mm(drawing.grids)),
                gap_mm=_GAP_MM,
            ),
        )
    else:
        layout = (views, _three_columns(drawing))
    return Page(blocks=(head, *layout), wide=True)


def _three_columns(drawing: PartDrawing) -> Beside:
    """Return the facts in a column, the other tables in two that are about as high."""
    others = drawing.grids[1:]
    half = math.fsum(map(_height, others)) / 2
    columns: tuple[list[Block], list[Block]] = ([], [])
    used = 0.0
    for grid in others:
        fitting = int((max(half, _height(drawing.facts)) - used - _TITLE_MM) / _ROW_MM) - 1
        rows = iter(grid.rows)
        for column, most in zip(columns, (max(fitting, 0), None), strict=True):
            part = tuple(islice(rows, most))
            if part:
                column.append(_table(Grid(title=grid.title, heads=grid.heads, rows=part)))
        used += _height(grid)
    return Beside(
        columns=((_block(drawing.facts),), tuple(columns[0]), tuple(columns[1])),
        widths=(_TABLES_MM, Share(), Share()),
        gap_mm=_GAP_MM,
    )


def _below_height(heights: Sequence[float]) -> float:
    """Return how high tables are below the views, in the columns of `_three_columns`."""
    facts, others = heights[0], math.fsum(heights[1:])
    return max(facts, others / 2 + _TITLE_MM + 2 * _ROW_MM) + _GAP_MM / 2


def _tables_mm(grids: Sequence[Grid]) -> float:
    """Return how wide tables are beside the views: that with channels has the most columns."""
    return _CHANNELS_MM if any(each.heads == CHANNEL_HEADS for each in grids) else _TABLES_MM


def _block(grid: Grid) -> Block:
    """Return a table, with the plan of its hand if it has one."""
    if grid.hand is None:
        return _table(grid)
    plan = Picture(svg=on_paper(hand_plan_svg(grid.hand, small=True)), width_mm=_PLAN_MM)
    return Beside(columns=((_table(grid),), (plan,)), widths=(Share(), _PLAN_MM), gap_mm=2.0)


def _table(grid: Grid) -> Table:
    widths = _WIDTHS.get(grid.heads, (None, Share()))
    return Table(heads=grid.heads, widths=widths, rows=grid.rows, title=grid.title, small=True)


def _height(grid: Grid) -> float:
    if not grid.rows:
        return 0.0
    most = _LINE if grid.hand is None else _LINE_BESIDE_PLAN
    lines = math.fsum(max(math.ceil(len(cell) / most) for cell in row) for row in grid.rows)
    return (lines + 1) * _ROW_MM + (_TITLE_MM if grid.title else 2.0)


def _inner(format_: PageFormat) -> Room:
    """Return what a page on its side has for views and tables."""
    wide = format_.height_mm - 2 * format_.beside_mm
    high = format_.width_mm - format_.above_mm - format_.below_mm
    return wide, high - _HEAD_MM - _ROUND_MM
