"""A nest of plain rectangles with all that its files and tables say about it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from nesting.after.offcuts import Offcut
from nesting.answer.solution import Layout, Placement, Solution
from nesting.edge_to_edge.cuts import CutSequence
from nesting.question.instance import Instance, Piece


class Dealt(NamedTuple):
    """Whose piece is cut at a place, on the runs from the first to the last: its name and group,
    the line that asks for it, and the cells of further columns there.
    """

    first_run: int
    last_run: int
    piece: str
    group: str
    line: int
    further: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One layout. `instance` is the question with no more than the layout's own pieces and stock.

    `number` counts from 1, those of the highest priority first. `order` are the placements as they
    are cut, `dealt` whose they are in the same order, `at_risk` those that a vacuum may not hold,
    `sequence` the cuts of a saw.
    """

    number: int
    instance: Instance
    layout: Layout
    order: tuple[Placement, ...]
    dealt: tuple[tuple[Dealt, ...], ...]
    offcuts: tuple[Offcut, ...]
    at_risk: tuple[Placement, ...]
    sequence: CutSequence | None

    @property
    def piece_area(self) -> int:
        """Return the area of the pieces on one sheet, in square ticks."""
        areas = {piece.id: piece.length * piece.width for piece in self.instance.pieces}
        return sum(areas[placed.piece] for placed in self.layout.placements)

    @property
    def sheet_area(self) -> int:
        """Return the area of one sheet, in square ticks."""
        (stock,) = self.instance.stocks
        return stock.length * stock.width

    @property
    def layout_in_order(self) -> Layout:
        """Return the layout with its placements in the order to cut them."""
        return replace(self.layout, placements=self.order)


@dataclass(frozen=True, slots=True, kw_only=True)
class NestAnswer:
    """A whole nest. `prices` says what its prices are; `effort` is None when a clock decided.

    `rounded_mm` is the most by which a length was rounded, as it is on no grid of the nest;
    `further` names the further columns of the list. `loaded_seconds` went by before the search,
    while its compiled loops were loaded; the seconds allowed do not count them.
    """

    instance: Instance
    solution: Solution
    sheets: tuple[SheetPlan, ...]
    prices: str
    effort: str | None
    seconds: float | None
    rounded_mm: float
    further: tuple[str, ...] = ()
    loaded_seconds: float = 0.0

    @property
    def share_used(self) -> float:
        """Return the share (0 to 1) of all full sheets that becomes pieces; 1 when none is cut."""
        pieces = sum(plan.piece_area * plan.layout.runs for plan in self.sheets)
        sheets = sum(plan.sheet_area * plan.layout.runs for plan in self.sheets)
        return pieces / sheets if sheets else 1.0


def turned_size(piece: Piece, placed: Placement) -> tuple[int, int]:
    """Return the sides of a placed piece along x and y, in ticks."""
    sides = piece.length, piece.width
    return sides[::-1] if placed.turned else sides
