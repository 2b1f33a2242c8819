"""The rules of the sheet, measured on the outlines that a written file holds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from export.same_cut import PLACE_MM
from export.sheet_problem import SheetFault, SheetProblem
from nesting.answer.solution import Layout
from nesting.question.sheet_rules import SheetRules
from nesting.question.ticks import to_mm
from parametric.geometry.outline import Bounds
from parametric.lists.cut_list import Part
from parametric.stock.materials import Grain, StockSheet


def trim_and_gap_problems(
    boxes: Sequence[Bounds], stock: StockSheet, rules: SheetRules
) -> Iterator[SheetProblem]:
    """Yield each part that leaves the trimmed sheet, and each pair closer than the gap.

    `boxes` are the bounding rectangles of the parts, in millimetres in the sheet's frame.
    """
    trim, gap = rules.trim, to_mm(rules.gap)
    inner = Bounds(
        to_mm(trim.left),
        to_mm(trim.bottom),
        stock.length_mm - to_mm(trim.right),
        stock.width_mm - to_mm(trim.top),
    )
    for box in boxes:
        if not _covers(inner, box):
            yield SheetProblem(
                fault=SheetFault.OUTSIDE,
                where=_at(box),
                message=f"parts must lie between ({inner.x0}, {inner.y0}) and "
                f"({inner.x1}, {inner.y1}) mm",
            )
    for a, b in combinations(boxes, 2):
        apart = max(b.x0 - a.x1, a.x0 - b.x1, b.y0 - a.y1, a.y0 - b.y1)
        if apart < gap - PLACE_MM:
            yield SheetProblem(
                fault=SheetFault.TOO_CLOSE,
                where=f"{_at(a)} and {_at(b)}",
                message=f"{apart:.3f} mm apart, gap is {gap} mm",
            )


def grain_problems(layout: Layout, parts: Mapping[str, Part]) -> Iterator[SheetProblem]:
    """Yield each part that is turned although its grain does not allow it.

    Raises:
        KeyError: the layout names an unknown part.
    """
    for placement in layout.placements:
        if placement.turned and parts[placement.piece].material.grain is Grain.LENGTHWISE:
            yield SheetProblem(
                fault=SheetFault.AGAINST_GRAIN,
                where=f"part {placement.piece}",
                message="turned on the sheet, but its grain must run along the sheet's length",
            )


def _covers(outer: Bounds, inner: Bounds) -> bool:
    return (
        outer.x0 - PLACE_MM <= inner.x0
        and outer.y0 - PLACE_MM <= inner.y0
        and inner.x1 <= outer.x1 + PLACE_MM
        and inner.y1 <= outer.y1 + PLACE_MM
    )


def _at(box: Bounds) -> str:
    return f"part at ({box.x0:.3f}, {box.y0:.3f})"
