"""What is left of the sheets and worth keeping: one line for each offcut of each layout."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.rack_label import rack_label
from export.tables.csv_text import csv_text, exact_mm, fixed
from export.tables.yield_table import MaterialNest
from nesting.after.offcuts import COMMON_REUSABLE, Reusable, offcuts
from nesting.question.ticks import to_m2

COLUMNS = (
    "material",
    "thickness_mm",
    "face_up",
    "stock",
    "sheet",
    "offcut",
    "quantity",
    "length_mm",
    "width_mm",
    "x_mm",
    "y_mm",
    "area_m2",
    "rack_label",
)


def offcuts_csv(nests: Iterable[MaterialNest], reusable: Reusable = COMMON_REUSABLE) -> str:
    """Return the reusable offcuts as CSV. `sheet` is the number of the layout in its nest, and
    `quantity` how many sheets are cut so; places are in the sheet's frame. The label is what the
    operator writes on it.

    Raises:
        KeyError: a layout names a piece or a stock that the question does not have.
    """
    return csv_text(COLUMNS, (row for nest in nests for row in _rows(nest, reusable)))


def _rows(nest: MaterialNest, reusable: Reusable) -> Iterator[tuple[object, ...]]:
    for sheet, layout in enumerate(nest.solution.layouts, start=1):
        for number, offcut in enumerate(offcuts(nest.instance, layout, reusable), start=1):
            yield (
                nest.material.key,
                fixed(nest.material.thickness_mm),
                nest.face_up,
                layout.stock,
                sheet,
                number,
                layout.runs,
                exact_mm(offcut.length),
                exact_mm(offcut.width),
                exact_mm(offcut.x),
                exact_mm(offcut.y),
                fixed(to_m2(offcut.area), 4),
                rack_label(nest.material.key, nest.face_up, sheet, number),
            )
