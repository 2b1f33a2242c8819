"""One filled sheet, as the search sees it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from typing import NamedTuple, TypeAlias

Counts: TypeAlias = tuple[tuple[int, int], ...]
"""How often each kind lies on a sheet, by rising kind."""


class Spot(NamedTuple):
    """Where a piece of one kind lies in a room (ticks from the room's lower-left corner)."""

    kind: int
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
        return fsum(values[kind] * count for kind, count in self.counts)


def pattern_of(room: int, spots: Sequence[Spot]) -> Pattern:
    """Return the pattern with these spots, counted and in order."""
    counts: dict[int, int] = {}
    for spot in spots:
        counts[spot.kind] = counts.get(spot.kind, 0) + 1
    return Pattern(room, tuple(sorted(counts.items())), tuple(sorted(spots)))
