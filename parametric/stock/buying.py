"""How articles are bought: what a pack or a roll holds, and what it costs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Shelf(StrEnum):
    """Where a job's files list an article; what no library lists stands with the kits."""

    BANDS = "bands"
    BARS = "bars"
    ANGLES = "angles"
    SCREWS = "screws"
    LEGS = "legs"
    WALL_PLATES = "wall_plates"
    CAPS = "caps"
    KIT = "kit"


LONG = (Shelf.BANDS, Shelf.BARS, Shelf.ANGLES)
"""What is bought by the roll or the bar; all else comes in packs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Buying:
    """How one article is bought.

    `pack` is how many pieces are in a pack, `roll_mm` how much band is on a roll. `price` is for a
    pack, a roll or a bar; without a pack for a piece, without a roll for a metre. `mass_g` is of
    one piece, a cartridge or bottle with what it holds. None: nobody has said.
    """

    shelf: Shelf
    key: str
    description: str = ""
    pack: int | None = None
    roll_mm: float | None = None
    price: float | None = None
    mass_g: float | None = None


def long_buying(listed: Iterable[Buying], shelf: Shelf, key: str) -> Buying:
    """Return how a band, bar or angle is bought; nothing is known of one that is not listed."""
    found = (each for each in listed if (each.shelf, each.key) == (shelf, key))
    return next(found, Buying(shelf=shelf, key=key))


def packed_buying(listed: Iterable[Buying], key: str, description: str) -> Buying:
    """Return how an article of a kit is bought; two shelves may have the same name, so what it is
    described as counts too. Nothing is known of one that is not listed.
    """
    for each in listed:
        described = each.shelf is Shelf.KIT or each.description == description
        if each.shelf not in LONG and each.key == key and described:
            return each
    return Buying(shelf=Shelf.KIT, key=key, description=description)
