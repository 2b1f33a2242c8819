"""Where every piece of a nest lies, one line for each placement, in the order to cut them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.nest_answer import SheetPlan, turned_size
from export.tables.csv_text import csv_text, exact_mm, shown_size
from nesting.ticks import to_mm
from parametric.lengths import Units

COLUMNS = (
    "layout",
    "runs",
    "stock",
    "order",
    "piece",
    "group",
    "x_mm",
    "y_mm",
    "along_x_mm",
    "along_y_mm",
    "turned",
    "at_risk",
    "size",
)


def placements_csv(plans: Iterable[SheetPlan], units: Units) -> str:
    """Return the placements as CSV; `size` is the piece's own length by width, in the units."""
    return csv_text(COLUMNS, (row for plan in plans for row in _rows(plan, units)))


def _rows(plan: SheetPlan, units: Units) -> Iterator[tuple[object, ...]]:
    at_risk = set(plan.at_risk)
    for order, placed in enumerate(plan.order, start=1):
        piece = plan.instance.piece_of[placed.piece]
        along, across = turned_size(piece, placed)
        yield (
            plan.number,
            plan.layout.runs,
            plan.layout.stock,
            order,
            piece.id,
            piece.group,
            exact_mm(placed.x),
            exact_mm(placed.y),
            exact_mm(along),
            exact_mm(across),
            "yes" if placed.turned else "no",
            "yes" if placed in at_risk else "no",
            shown_size(to_mm(piece.length), to_mm(piece.width), units),
        )
