"""One filled sheet, as the search sees it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from typing import NamedTuple, TypeAlias

Counts: TypeAlias = tuple[tuple[int, int], ...]
"""How often each item type lies on a sheet, by rising item type."""


class Spot(NamedTuple):
    """Where a piece of one item type lies in a room (ticks from the room's lower-left corner)."""

    item_type: int
    x: int
    y: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Pattern:
    """What lies on one sheet, and where."""

    room: int
    counts: Counts
    spots: tuple[Spot, ...]

    def value(self, values: Sequence[float]) -> float:
        """Return the sum of the values of the pieces on the sheet."""
        return fsum(values[item_type] * count for item_type, count in self.counts)


def pattern_of(room: int, spots: Sequence[Spot]) -> Pattern:
    """Return the pattern with these spots, counted and in order."""
    counts: dict[int, int] = {}
    for spot in spots:
        counts[spot.item_type] = counts.get(spot.item_type, 0) + 1
    return Pattern(room, tuple(sorted(counts.items())), tuple(sorted(spots)))
