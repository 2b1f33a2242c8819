"""How hard the nest tries. Work is counted in pieces offered; shares are parts of all of it."""

from dataclasses import dataclass
from enum import Enum


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLimits:
    """Work grows with the pieces, but stops growing where more copies are only more runs."""

    offers_per_piece: int
    least: int
    most: int


class Effort(Enum):
    """How much work one nest may cost; a reference machine offers about 80,000 pieces a second."""

    QUICK = WorkLimits(offers_per_piece=80, least=3_000, most=30_000)
    NORMAL = WorkLimits(offers_per_piece=400, least=10_000, most=200_000)
    THOROUGH = WorkLimits(offers_per_piece=2_000, least=20_000, most=1_500_000)

    def offers(self, kinds: int, pieces: int, stocks: int) -> int:
        """Return the work limit for so many kinds, pieces and stocks."""
        counted = min(pieces, kinds * COPIES_THAT_COUNT)
        limits = self.value
        once = min(max(counted * limits.offers_per_piece, limits.least), limits.most)
        return once if stocks < 2 else SEVERAL_STOCKS * once


COPIES_THAT_COUNT = 50
"""Copies of one kind beyond which a job is no harder, only longer."""

SEVERAL_STOCKS = 2
"""Factor on the work where sizes of stock compete."""

PORTFOLIO_SHARE = 0.08
"""Part of the work for the fixed rules and orders."""

VALUES_SHARE = 0.50
"""Part of the work after which learning the pieces' values ends and improving begins."""

WHOLE_LIST_SHARE = 0.25
"""Most of the work for whole-list packing."""

WHOLE_LIST_PIECES = 1_500
"""Longest list that is packed as a whole; longer ones repeat themselves, or would take too long."""

PROVEN_SHARE = 0.10
"""Part of the work still spent on fewer layouts once the sheets are proven least."""

FAVOURITE_SHARE = 0.70
"""Part of the work after which improving mixes the stock plans."""

LEARNING_TRIES = 6
"""Most random fillings per sheet while values are learnt."""

LEARNING_PASSES = 4
"""Passes that must be affordable while values are learnt; longer lists get fewer tries."""

LEARNING_RATE = 0.3
"""How far a pass moves the pieces' values."""

SHORT_PENALTY = 1.5
"""Factor on the value of a piece that the sheets on hand left over."""

IMPROVING_TRIES = (1, 1, 2)
"""Random fillings per sheet while a part of an answer is rebuilt."""

FAVOURITE_CHANCE = 0.5
"""Chance that a part is rebuilt by the stock plan that gave the best answer so far."""

MOST_REBUILT = 12
"""Most layouts taken apart at once."""

WHOLE_RUNS_CHANCE = 0.8
"""Chance that a layout taken apart loses all its runs and not only some."""

WORST_FIRST_CHANCE = 0.6
"""Chance that the emptiest layouts are taken apart rather than any."""

VALUE_NOISE = 0.1
"""How far values are shaken for one rebuilding, either way."""

LAYOUT_PRICE = 0.05
"""What one more layout counts while improving, in sheets of its stock."""

LAYOUT_SHARE = 0.0003
"""The same as a part of all sheets, which decides for long runs."""

FULLNESS_PRICE = 0.1
"""What the fullness of sheets counts while improving; rewards emptying the emptiest sheet."""

POOL_SIZE = 600
"""Good fillings kept for reuse."""

POOL_FULLNESS = 0.9
"""Fullness from which a filling is worth keeping."""
