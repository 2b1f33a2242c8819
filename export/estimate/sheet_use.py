"""Where the area of the sheets of each stock goes: parts, trim, kerf, offcuts kept, scrap."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from math import fsum

from export.estimate.money import as_written, cents
from export.tables.yield_table import MaterialNest, YieldRow, yield_rows
from nesting.after.offcuts import Reusable, offcuts
from nesting.answer.solution import Layout
from nesting.question.ticks import to_m2
from parametric.lists.face_up import FaceUp


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetUse:
    """The sheets of one stock that lie one way; areas are totals in m2, to the square centimetre.

    Parts count as in `shop/yield.csv`, without notches and openings, which are scrap. Kerf is half
    a gap around each part. Offcuts kept are valued at the price of their sheet, area for area; the
    estimate does not count that value. `could_save` is what any other nest of the material could
    save at most, in money; it stands at the first of its stocks, None at the others.
    """

    row: YieldRow
    sheet_m2: Decimal
    parts_m2: Decimal
    trim_m2: Decimal
    kerf_m2: Decimal
    offcuts_m2: Decimal
    could_save: Decimal | None

    @property
    def name(self) -> str:
        """The material, and which way it lies where that counts."""
        return stock_name(self.row)

    @property
    def scrap_m2(self) -> Decimal:
        """What is left."""
        used = self.parts_m2 + self.trim_m2 + self.kerf_m2 + self.offcuts_m2
        return self.sheet_m2 - used

    @property
    def offcut_value(self) -> Decimal:
        """What the offcuts cost when they were sheets."""
        price = as_written(self.row.stock.price) * self.row.sheets
        return cents(price * self.offcuts_m2 / self.sheet_m2)


def stock_name(row: YieldRow) -> str:
    """Return a material and stock, with the face that lies up where that counts."""
    return f"{nest_name(row.material.key, row.face_up)}, {row.stock.key}"


def nest_name(material: str, face_up: FaceUp) -> str:
    """Return a material, with the face that lies up where that counts."""
    return material if face_up is FaceUp.EITHER else f"{material}, {face_up} up"


def sheet_uses(nests: Iterable[MaterialNest], reusable: Reusable) -> tuple[SheetUse, ...]:
    """Return where the sheets go, in the order of `shop/yield.csv`.

    Raises:
        KeyError: a layout names a piece or a stock that the question does not have.
    """
    return tuple(use for nest in nests for use in _uses(nest, reusable))


def _uses(nest: MaterialNest, reusable: Reusable) -> Iterator[SheetUse]:
    for number, row in enumerate(yield_rows((nest,))):
        layouts = [each for each in nest.solution.layouts if each.stock == row.stock.key]
        yield SheetUse(
            row=row,
            sheet_m2=_m2(row.sheet_area_m2),
            parts_m2=_m2(row.part_area_m2),
            trim_m2=_m2(row.sheets * _trim_m2(nest, row.stock.key)),
            kerf_m2=_m2(fsum(each.runs * _kerf_m2(nest, each) for each in layouts)),
            offcuts_m2=_m2(
                fsum(
                    each.runs * to_m2(offcut.area)
                    for each in layouts
                    for offcut in offcuts(nest.instance, each, reusable)
                )
            ),
            could_save=None if number else cents(as_written(nest.solution.could_save)),
        )


def _trim_m2(nest: MaterialNest, key: str) -> float:
    trim = nest.instance.rules.trim
    (stock,) = (each for each in nest.instance.stocks if each.id == key)
    inside = (stock.length - trim.left - trim.right) * (stock.width - trim.bottom - trim.top)
    return to_m2(stock.length * stock.width - inside)


def _kerf_m2(nest: MaterialNest, layout: Layout) -> float:
    around = {each.id: each.length + each.width for each in nest.instance.pieces}
    half = sum(around[each.piece] for each in layout.placements)
    return to_m2(half * nest.instance.rules.gap)  # both sides of half a gap


def _m2(area: float) -> Decimal:
    return as_written(area, 4)
