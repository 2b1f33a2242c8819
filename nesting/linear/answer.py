"""The answer: patterns with their run counts. All lengths are ticks."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from nesting.linear.instance import BarInstance, price_to_pay
from nesting.question.prices import exact_price


@dataclass(frozen=True, slots=True, kw_only=True)
class BarAnswer:
    """Patterns in canonical order, with a cost that no answer is below and what that rests on."""

    patterns: tuple["BarPattern", ...]
    lower_bound: float
    bound_kind: "BarBoundKind"

    @property
    def bars(self) -> int:
        """Return how many bars are cut."""
        return sum(pattern.runs for pattern in self.patterns)

    @property
    def distinct(self) -> int:
        """Return how many different patterns there are."""
        return len(self.patterns)

    def bars_of(self, bar: str) -> int:
        """Return how many of one bar are cut."""
        return sum(pattern.runs for pattern in self.patterns if pattern.bar == bar)


class BarBoundKind(StrEnum):
    """What a lower bound rests on."""

    NOTHING = "nothing to cut"
    PATTERNS = "patterns cut in fractions"
    """Duals of the pattern program, rounded and priced again exactly in whole numbers."""
    SEARCH = "complete search"
    """A search through all patterns that a cheaper answer could hold; rests on the solver."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarPattern:
    """One way of cutting `bar`, cut `runs` times: piece ids in the order of the cuts.

    `remnant` is what is left of each such bar after the last cut.
    """

    bar: str
    cuts: tuple[str, ...]
    runs: int
    remnant: int

    def counts(self) -> Counter[str]:
        """Return how often each piece comes from one bar."""
        return Counter(self.cuts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Remnant:
    """So many equal rests, long enough to keep, of one kind of bar."""

    bar: str
    length: int
    quantity: int


def cost(instance: BarInstance, answer: BarAnswer) -> float:
    """Return the price of all bars cut, remnants at what the rules count them.

    Raises:
        KeyError: the answer names a bar that the question does not have.
    """
    # As they are written: ten bars of 0.1 cost 1.
    prices = {bar.id: exact_price(price_to_pay(bar, instance.rules)) for bar in instance.bars}
    total = sum((prices[pattern.bar] * pattern.runs for pattern in answer.patterns), Fraction(0))
    return float(total)


def gap(instance: BarInstance, answer: BarAnswer) -> float:
    """Return how far the cost may be above the least, as a share of the bound; 0 is proven least.

    Raises:
        KeyError: the answer names a bar that the question does not have.
    """
    above = cost(instance, answer) - answer.lower_bound
    if above <= 0:
        return 0.0
    return above / answer.lower_bound if answer.lower_bound else float("inf")


def reusable_remnants(instance: BarInstance, answer: BarAnswer) -> tuple[Remnant, ...]:
    """Return the rests that are worth keeping, longest first, equal ones of a bar together."""
    kept: Counter[tuple[int, str]] = Counter()
    for pattern in answer.patterns:
        if pattern.remnant >= instance.rules.reusable:
            kept[-pattern.remnant, pattern.bar] += pattern.runs
    return tuple(
        Remnant(bar=bar, length=-length, quantity=quantity)
        for (length, bar), quantity in sorted(kept.items())
    )


def length_yield(instance: BarInstance, answer: BarAnswer) -> float:
    """Return the share (0 to 1) of all bars cut that becomes pieces; 1 when none is cut.

    Raises:
        KeyError: the answer names a piece or a bar that the question does not have.
    """
    lengths = {piece.id: piece.length for piece in instance.pieces}
    bars = {bar.id: bar.length for bar in instance.bars}
    used = sum(bars[pattern.bar] * pattern.runs for pattern in answer.patterns)
    pieces = sum(lengths[cut] * pattern.runs for pattern in answer.patterns for cut in pattern.cuts)
    return pieces / used if used else 1.0


def canonical(patterns: Iterable[BarPattern]) -> tuple[BarPattern, ...]:
    """Return the patterns with identical ones merged: by bar, falling run count, then cuts."""
    runs: Counter[tuple[str, tuple[str, ...], int]] = Counter()
    for pattern in patterns:
        runs[pattern.bar, pattern.cuts, pattern.remnant] += pattern.runs
    merged = [
        BarPattern(bar=bar, cuts=cuts, runs=count, remnant=remnant)
        for (bar, cuts, remnant), count in runs.items()
    ]
    return tuple(sorted(merged, key=lambda pattern: (pattern.bar, -pattern.runs, pattern.cuts)))
