"""What is cut again: one line for each part on each layout."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from export.tables.csv_text import csv_text
from nesting.question.instance import StockKind

COLUMNS = ("part", "name", "quantity", "material", "kind", "from", "layout", "reason")


@dataclass(frozen=True, slots=True, kw_only=True)
class RecutRow:
    """A part on a layout, `quantity` on all its runs. `stock` is the offcut's label or the key of
    the full sheet, `layout` the path of its DXF.
    """

    part: str
    name: str
    quantity: int
    material: str
    kind: StockKind
    stock: str
    layout: str


def recut_csv(rows: Iterable[RecutRow], reason: str) -> str:
    """Return the parts that are cut again as CSV."""
    return csv_text(
        COLUMNS,
        (
            (
                row.part,
                row.name,
                row.quantity,
                row.material,
                KIND_WORDS[row.kind],
                row.stock,
                row.layout,
                reason,
            )
            for row in rows
        ),
    )


KIND_WORDS = {StockKind.REMNANT: "offcut", StockKind.SHEET: "full sheet"}
"""How people call what is cut."""
