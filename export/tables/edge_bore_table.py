"""Holes into edges: a router that works a sheet from above cannot make them."""

from __future__ import annotations

from collections.abc import Iterator

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
    order = sorted(part.panel.edge_bores, key=lambda bore: (_edge_text(bore), bore.x, bore.y))
    for bore in order:
        yield (
            part.number,
            part.description,
            part.quantity,
            _edge_text(bore),
            fixed(bore.x),
            fixed(bore.y),
            fixed(bore.z_mm),
            fixed(bore.diameter_mm),
            fixed(bore.depth_mm),
            fixed(bore.direction_x),
            fixed(bore.direction_y),
        )


def _edge_text(bore: EdgeBore) -> str:
    edge = _ENTERED.get((round(bore.direction_x, 6), round(bore.direction_y, 6)))
    return str(edge) if edge is not None else "at an angle"
