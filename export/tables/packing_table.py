"""What is packed for each room and goes on which trip, as a table."""

from __future__ import annotations

from collections.abc import Iterator

from export.store.content import Packing
from export.tables.csv_text import csv_text, fixed

PACKING_COLUMNS = (
    "delivery",
    "room",
    "set",
    "hand",
    "kind",
    "number",
    "name",
    "count",
    "mass_kg",
    "length_mm",
    "width_mm",
    "thickness_mm",
)


def packing_csv(packing: Packing) -> str:
    """Return a row for each number that a room gets; mass and sides are of one piece."""
    return csv_text(PACKING_COLUMNS, _rows(packing))


def _rows(packing: Packing) -> Iterator[tuple[object, ...]]:
    sets = {room: each for each in packing.sets for room in each.rooms}
    for delivery in packing.deliveries:
        for room in delivery.rooms:
            its = sets[room]
            for line in its.lines:
                sides = line.sides_mm if line.number else ("", "", "")
                yield (
                    delivery.name,
                    room,
                    its.set_name,
                    its.hand,
                    line.kind,
                    line.number,
                    line.name,
                    line.count,
                    fixed(line.mass_kg, 2) if line.number or line.mass_kg else "",
                    *(side if isinstance(side, str) else fixed(side, 1) for side in sides),
                )
