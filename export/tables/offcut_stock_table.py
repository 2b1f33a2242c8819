"""Offcuts that are kept, as a list of stock that the next nest takes as it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from export.tables.csv_text import csv_text, exact_mm
from nesting.after.offcuts import Offcut
from nesting.question.instance import StockKind

COLUMNS = (
    "stock",
    "length_mm",
    "width_mm",
    "quantity",
    "price",
    "kind",
    "material",
    "thickness_mm",
)


class OffcutsOfSheets(NamedTuple):
    """What is left of each of `sheets` sheets that are cut alike, and what they are made of.

    The material is blank, and the thickness 0 ticks, where a list tells of none.
    """

    material: str
    thickness: int
    sheets: int
    offcuts: tuple[Offcut, ...]


def offcut_stock_csv(listed: Iterable[OffcutsOfSheets]) -> str:
    """Return the offcuts as CSV: those of one size in a line, the largest first.

    They keep the way they lay on the sheet: the length is along its grain. They are paid for, so
    they have no price.
    """
    return csv_text(COLUMNS, _rows(listed))


def _rows(listed: Iterable[OffcutsOfSheets]) -> Iterator[tuple[object, ...]]:
    sizes: Counter[tuple[str, int, int, int]] = Counter()
    for each in listed:
        for offcut in each.offcuts:
            sizes[each.material, each.thickness, offcut.length, offcut.width] += each.sheets
    by_size = sorted(sizes.items(), key=lambda entry: (-entry[0][2] * entry[0][3], entry[0]))
    for number, ((material, thickness, length, width), count) in enumerate(by_size, start=1):
        yield (
            f"offcut {number}",
            exact_mm(length),
            exact_mm(width),
            count,
            "",
            StockKind.REMNANT.value,
            material,
            exact_mm(thickness) if thickness else "",
        )
