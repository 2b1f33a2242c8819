"""The nest of one kind of bar, and its patterns by number."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from nesting.linear.answer import BarAnswer, BarPattern
from nesting.linear.instance import BarInstance
from nesting.question.ticks import to_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class BarNest:
    """One kind of bar, the question its pieces pose, and how they are cut from it."""

    material: str
    profile: str
    question: BarInstance
    answer: BarAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedPattern:
    """A pattern with its number (from B01, over all bars of a job) and the nest it belongs to."""

    number: str
    nest: BarNest
    pattern: BarPattern

    @property
    def stock_length_mm(self) -> float:
        """Length of the bar."""
        bars = {bar.id: bar.length for bar in self.nest.question.bars}
        return to_mm(bars[self.pattern.bar])

    @property
    def cuts_mm(self) -> tuple[tuple[str, float], ...]:
        """Part and length of each cut, in order."""
        lengths = {piece.id: to_mm(piece.length) for piece in self.nest.question.pieces}
        return tuple((cut, lengths[cut]) for cut in self.pattern.cuts)

    @property
    def keeps_remnant(self) -> bool:
        """Whether what is left is long enough to keep."""
        return self.pattern.remnant >= self.nest.question.rules.reusable


def numbered_patterns(nests: Iterable[BarNest]) -> tuple[NumberedPattern, ...]:
    """Return all patterns with their numbers, in the order of the nests."""
    pairs = ((nest, pattern) for nest in nests for pattern in nest.answer.patterns)
    return tuple(
        NumberedPattern(number=f"B{place:02d}", nest=nest, pattern=pattern)
        for place, (nest, pattern) in enumerate(pairs, start=1)
    )
