"""Where every piece of a nest lies, in the order to cut them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.tables.csv_text import csv_text, cut_size, exact_mm
from nesting.answer.nest_answer import SheetPlan, turned_size
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units

COLUMNS = (
    "layout",
    "first_run",
    "last_run",
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


def placements_csv(plans: Iterable[SheetPlan], units: Units, further: tuple[str, ...] = ()) -> str:
    """Return the placements as CSV; `size` is the piece's own length by width, in the units.

    A place has a line for each row of the list whose pieces are cut there, with the runs on which
    they are. The further columns of the list stand behind; one that is called as a column here has
    `list_` before its name.
    """
    behind = tuple(f"list_{name}" if name in COLUMNS else name for name in further)
    rows = (row for plan in plans for row in _rows(plan, units))
    return csv_text((*COLUMNS, *behind), rows)


def _rows(plan: SheetPlan, units: Units) -> Iterator[tuple[object, ...]]:
    at_risk = set(plan.at_risk)
    for order, placed in enumerate(plan.order, start=1):
        piece = plan.instance.piece_of[placed.piece]
        along, across = turned_size(piece, placed)
        for share in plan.dealt[order - 1]:
            yield (
                plan.number,
                share.first_run,
                share.last_run,
                plan.layout.stock,
                order,
                share.piece,
                share.group,
                exact_mm(placed.x),
                exact_mm(placed.y),
                exact_mm(along),
                exact_mm(across),
                "yes" if placed.turned else "no",
                "yes" if placed in at_risk else "no",
                cut_size(to_mm(piece.length), to_mm(piece.width), units),
                *share.further,
            )
