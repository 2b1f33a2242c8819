"""The pieces that the shop joins, and the hardware that it needs for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.tables.csv_text import csv_text, fixed
from parametric.kit.kit import Kit
from parametric.lists.piece_catalogue import ShopPiece

PIECE_COLUMNS = (
    "piece",
    "description",
    "units",
    "hands",
    "quantity",
    "mass_kg",
    "length_mm",
    "width_mm",
    "thickness_mm",
    "part",
    "part_description",
    "parts_in_piece",
)
HARDWARE_COLUMNS = ("article", "description", "needed", "unit")


def pieces_csv(pieces: Iterable[ShopPiece]) -> str:
    """Return the pieces as CSV, a row for each different part of each; sizes are over all."""
    return csv_text(PIECE_COLUMNS, (row for piece in pieces for row in _rows(piece)))


def shop_hardware_csv(hardware: Kit) -> str:
    """Return the hardware and glue of the shop as CSV, for all rooms, without spares."""
    rows = (
        (line.key, line.description, fixed(line.needed, 0), line.unit) for line in hardware.lines
    )
    return csv_text(HARDWARE_COLUMNS, rows)


def _rows(piece: ShopPiece) -> Iterator[tuple[object, ...]]:
    for number, description, count in piece.parts:
        yield (
            piece.number,
            piece.description,
            "; ".join(piece.units),
            "; ".join(piece.hands),
            piece.quantity,
            fixed(piece.mass_kg, 2),
            *(fixed(side, 1) for side in piece.sides_mm),
            number,
            description,
            count,
        )
