"""Where each part goes: set, hand, unit and name, with its number and the piece that it is in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from export.tables.csv_text import csv_text
from parametric.geometry.hand import Hand

PLACE_COLUMNS = ("set", "hand", "rooms", "unit", "name", "part", "piece")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPlace:
    """One part in one set, which `rooms` rooms have; `name` is that within its unit. `piece` is
    what the shop joins it to, blank where it is delivered by itself.
    """

    set_name: str
    hand: Hand
    rooms: int
    unit: str
    name: str
    number: str
    piece: str


def places_csv(places: Iterable[PartPlace]) -> str:
    """Return the places as CSV, in their order."""
    return csv_text(
        PLACE_COLUMNS,
        ((p.set_name, p.hand, p.rooms, p.unit, p.name, p.number, p.piece) for p in places),
    )
