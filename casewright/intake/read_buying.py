"""How a job's articles are bought, from its libraries and its kits."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.intake.catalogue import SHELVES, Catalogue
from casewright.intake.kit_schema import KitEntry
from parametric.stock.buying import Buying, Shelf


def buying_of(kit: KitEntry, catalogue: Catalogue) -> tuple[Buying, ...]:
    """Return how everything that is listed is bought; sheets have their prices with their stock."""
    return *_listed(catalogue), *_with_kits(kit)


def _listed(catalogue: Catalogue) -> Iterator[Buying]:
    shelves = {shelf.value: shelf for shelf in Shelf}
    for kind, name in SHELVES.items():
        if name not in shelves:
            continue
        for key, item in catalogue.shelves[kind].items():
            yield Buying(
                shelf=shelves[name],
                key=key,
                description=getattr(item.entry, "description", ""),
                pack=getattr(item.entry, "pack", None),
                roll_mm=getattr(item.entry, "roll", None),
                price=getattr(item.entry, "price", None),
                mass_g=getattr(item.entry, "mass_g", None),
            )


def _with_kits(kit: KitEntry) -> Iterator[Buying]:
    for key, entry in kit.bought.items():
        yield Buying(
            shelf=Shelf.KIT, key=key, pack=entry.pack, price=entry.price, mass_g=entry.mass_g
        )
