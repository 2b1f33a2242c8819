"""How hard the nest tries, and what it prefers among answers."""

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import floor


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLimits:
    """Work is counted in pieces offered to a sheet, so that a clock never decides an answer."""

    offers: int
    """Most pieces offered where sheets are filled one by one."""
    pattern_offers: int
    """Most pieces offered for layouts that repeat; that does not grow with the copies."""
    bound_nodes: int
    """Most nodes of the search that proves how much one sheet can be worth."""
    set_nodes: int = 0
    """Most nodes for going through the sets of pieces on a sheet; of several searches one does."""
    searches: int
    """Independent searches with seeds of their own; the best answer counts."""


class Effort(Enum):
    """How much work one nest may cost; a core offers 5 to 40 million pieces a second."""

    QUICK = WorkLimits(offers=2_000_000, pattern_offers=8_000_000, bound_nodes=500_000, searches=1)
    NORMAL = WorkLimits(
        offers=30_000_000, pattern_offers=100_000_000, bound_nodes=120_000_000, searches=1
    )
    THOROUGH = WorkLimits(
        offers=200_000_000,
        pattern_offers=400_000_000,
        bound_nodes=300_000_000,
        set_nodes=2_000_000_000,
        searches=4,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Preference:
    """What fewer layouts may cost: up to `extra_price` (a share, 0.01 for 1 %) over the cheapest.

    Among the answers within it, the one with the fewest layouts is taken, then the cheapest.
    """

    extra_price: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a share that is not one.

        Raises:
            ValueError: it is below 0 or not a number.
        """
        if not self.extra_price >= 0:
            raise ValueError(f"extra price must be 0 or more, found {self.extra_price}")

    def most(self, least: int) -> int:
        """Return how many whole costs an answer may have where the cheapest has `least`."""
        return floor(least * (1 + Fraction(str(self.extra_price))))
