"""How much of the stock becomes parts, and what it costs: one line for each material and stock.

A part counts as it is cut, without its notches and openings; holes are not taken off.

A material that was not nested has a line without figures, which says why.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import fsum

from export.tables.csv_text import csv_text, fixed
from nesting.answer.solution import Layout, Solution
from nesting.question.instance import Instance
from nesting.question.ticks import to_m2
from parametric.lists.face_up import FaceUp
from parametric.lists.left_out import LeftOut, StockForm
from parametric.stock.materials import SheetMaterial, StockSheet

COLUMNS = (
    "material",
    "thickness_mm",
    "face_up",
    "stock",
    "sheet_length_mm",
    "sheet_width_mm",
    "sheets",
    "layouts",
    "sheet_area_m2",
    "part_area_m2",
    "yield",
    "material_sheets",
    "material_lower_bound",
    "bound_rests_on",
    "least_in_this_mix",
    "price_per_sheet",
    "cost",
    "left_out",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialNest:
    """The nest of one material, its sheets lying one way: what was asked, and the answer.

    Stock is named by its key.
    """

    material: SheetMaterial
    face_up: FaceUp
    instance: Instance
    solution: Solution


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldRow:
    """One stock of one material. Areas are totals in m2, of parts without notches and openings.

    `material_sheets` and `material_lower_bound` are for the material over all its stock, as far as
    it lies this way on the router: no answer can do with fewer sheets than the bound, nor, with the
    stocks in the same proportion, with fewer than `least_in_mix`.
    """

    material: SheetMaterial
    face_up: FaceUp
    stock: StockSheet
    sheets: int
    layouts: int
    sheet_area_m2: float
    part_area_m2: float
    material_sheets: int
    material_lower_bound: int
    bound_kind: str
    least_in_mix: int

    @property
    def share_used(self) -> float:
        """The share (0 to 1) of the full sheets that becomes parts."""
        return self.part_area_m2 / self.sheet_area_m2

    @property
    def cost(self) -> float:
        """Price of all sheets of this stock, in the job's currency."""
        return self.stock.price * self.sheets


def yield_rows(nests: Iterable[MaterialNest]) -> tuple[YieldRow, ...]:
    """Return a row for each stock that is cut, in the order of the nests and of their stock.

    Raises:
        KeyError: a layout names a piece that the question does not have.
    """
    return tuple(row for nest in nests for row in _rows_of(nest))


def yield_csv(nests: Iterable[MaterialNest], left_out: Iterable[LeftOut] = ()) -> str:
    """Return the yield table as CSV, then a row for each sheet material that was left out.

    Raises:
        KeyError: a layout names a piece that the question does not have.
    """
    missing = (
        (entry.material, *[""] * (len(COLUMNS) - 2), entry.why)
        for entry in left_out
        if entry.form is StockForm.SHEETS
    )
    return csv_text(COLUMNS, (*(_cells(row) for row in yield_rows(nests)), *missing))


def _rows_of(nest: MaterialNest) -> Iterator[YieldRow]:
    solution = nest.solution
    for stock in nest.material.stock:
        layouts = [layout for layout in solution.layouts if layout.stock == stock.key]
        sheets = sum(layout.runs for layout in layouts)
        if not sheets:
            continue
        yield YieldRow(
            material=nest.material,
            face_up=nest.face_up,
            stock=stock,
            sheets=sheets,
            layouts=len(layouts),
            sheet_area_m2=sheets * stock.length_mm * stock.width_mm / 1e6,
            part_area_m2=fsum(
                layout.runs * _part_area_m2(layout, nest.instance) for layout in layouts
            ),
            material_sheets=solution.sheets,
            material_lower_bound=solution.lower_bound,
            bound_kind=solution.bound_kind,
            least_in_mix=solution.mix_bound,
        )


def _part_area_m2(layout: Layout, instance: Instance) -> float:
    areas = {piece.id: to_m2(piece.net_area) for piece in instance.pieces}
    return fsum(areas[placement.piece] for placement in layout.placements)


def _cells(row: YieldRow) -> tuple[object, ...]:
    return (
        row.material.key,
        fixed(row.material.thickness_mm),
        row.face_up,
        row.stock.key,
        fixed(row.stock.length_mm),
        fixed(row.stock.width_mm),
        row.sheets,
        row.layouts,
        fixed(row.sheet_area_m2, 4),
        fixed(row.part_area_m2, 4),
        fixed(row.share_used, 4),
        row.material_sheets,
        row.material_lower_bound,
        row.bound_kind,
        row.least_in_mix,
        fixed(row.stock.price, 2),
        fixed(row.cost, 2),
        "",
    )
