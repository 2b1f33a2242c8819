"""Efforts for tests: so little work that hundreds of questions are answered in seconds."""

from enum import Enum

from hypothesis import Phase

from nesting.question.settings import WorkLimits


def limits(offers: int, searches: int = 1) -> WorkLimits:
    """So many pieces offered, to sheets one by one and for layouts that repeat."""
    return WorkLimits(
        offers=offers, pattern_offers=offers, bound_nodes=offers // 10, searches=searches
    )


class SmallEffort(Enum):
    """Stands in for `Effort`, of which a nest only reads the limits."""

    TINY = limits(30_000)
    SMALL = limits(300_000)
    SEVERAL = limits(30_000, searches=3)
    """Independent searches, as with the highest effort."""


AS_FOUND = (Phase.explicit, Phase.generate)
"""A question that fails is told as it was found: making it smaller would nest hundreds more."""
