"""Holes into edges: a router that works a sheet from above cannot make them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.edge_names import edge_name
from export.tables.csv_text import csv_text, fixed
from parametric.lists.cut_list import CutList, Part
from parametric.shapes.panel import Edge, EdgeBore

COLUMNS = (
    "part",
    "description",
    "quantity",
    "edge",
    "x_mm",
    "y_mm",
    "above_down_face_mm",
    "diameter_mm",
    "depth_mm",
    "direction_x",
    "direction_y",
)

# The edge that a bit enters when it travels that way in the panel's plane.
_ENTERED: dict[tuple[float, float], Edge] = {
    (1, 0): Edge.X_LOW,
    (-1, 0): Edge.X_HIGH,
    (0, 1): Edge.Y_LOW,
    (0, -1): Edge.Y_HIGH,
}


def edge_bores_csv(cut_list: CutList) -> str | None:
    """Return all holes into edges as CSV, or None when the job has none.

    Places are in the part's frame as its file is drawn: the mouth of the hole at (x, y), and its
    height above the face that lies down. The direction is that of the bit's way in.
    """
    rows = [row for part in cut_list.parts for row in _rows(part)]
    return csv_text(COLUMNS, rows) if rows else None


def _rows(part: Part) -> Iterator[tuple[object, ...]]:
    for bore in in_order(part.panel.edge_bores):
        yield (
            part.number,
            part.description,
            part.quantity,
            edge_text(bore),
            fixed(bore.x),
            fixed(bore.y),
            fixed(bore.z_mm),
            fixed(bore.diameter_mm),
            fixed(bore.depth_mm),
            fixed(bore.direction_x),
            fixed(bore.direction_y),
        )


def in_order(bores: Iterable[EdgeBore]) -> list[EdgeBore]:
    """Return holes edge by edge."""
    return sorted(bores, key=lambda bore: (edge_text(bore), bore.x, bore.y))


def edge_text(bore: EdgeBore) -> str:
    """Return which edge a hole goes into, as people call it."""
    edge = entered_edge(bore)
    return "at an angle" if edge is None else edge_name(edge)


def entered_edge(bore: EdgeBore) -> Edge | None:
    """Return the edge that a hole goes into square to it, None at an angle."""
    return _ENTERED.get((round(bore.direction_x, 6), round(bore.direction_y, 6)))
