"""What whole sheets cost at least that keep to every certificate at once.

A certificate by itself buys fractions of sheets, and two may each be cheap on sheets of which the
other one proves too little. The cheapest whole sheets of each room that hold the value of every
certificate are those of a small integer program. It is solved by branch and bound, the most
promising part first: whenever that ends, what the least part left costs is a bound. All numbers
are exact.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from heapq import heappop, heappush
from math import ceil
from operator import mul, sub

from nesting.bounds.certificate import Certificate, by_cost, cheapest, cost_of
from nesting.bounds.stopping import Ask, never
from nesting.question.prices import common_divisor
from nesting.question.problem import Room

MOST_SUMS = 30_000
"""Sums of one need over one room that the search may take: about a fifth of a second."""


@dataclass(frozen=True, slots=True)
class Need:
    """A value that all sheets together must hold, and what one sheet of each room holds of it."""

    total: int
    most: tuple[int, ...]

    def held_by(self, counts: Sequence[int]) -> bool:
        """Return whether so many sheets of each room hold it."""
        return sum(n * most for n, most in zip(counts, self.most, strict=True)) >= self.total

    def implies(self, other: "Need") -> bool:
        """Return whether sheets that hold this always hold the other one."""
        return all(
            mine * other.total <= theirs * self.total
            for mine, theirs in zip(self.most, other.most, strict=True)
        )


def needs_of(certificates: Iterable[Certificate], demand: Sequence[int]) -> tuple[Need, ...]:
    """Return what the certificates ask for, without what others of them imply."""
    kept: list[Need] = []
    for certificate in certificates:
        need = Need(certificate.total(demand), certificate.most)
        if need.total > 0 and not any(other.implies(need) for other in kept):
            kept = [*(other for other in kept if not need.implies(other)), need]
    return tuple(kept)


def least_whole(
    needs: Sequence[Need],
    costs: Sequence[Fraction],
    rooms: Sequence[Room],
    ask: Ask = never,
) -> Fraction | None:
    """Return a cost that no whole sheets holding all needs go below; None when none hold them.

    It is what the cheapest ones cost, unless the search ends before that, after so much work.

    Raises:
        Stopped: `ask` did.
    """
    orders = tuple(by_cost(need.most, costs) for need in needs)
    program = _Program(tuple(needs), tuple(costs), orders)
    highest = tuple(_highest(room, at, needs) for at, room in enumerate(rooms))
    waiting = [(part.cost, 0, part) for part in program.parts((0,) * len(rooms), highest)]
    looked_at, parts = 0, MOST_SUMS // max(1, len(needs) * len(rooms))
    while waiting:
        ask()
        cost, _, part = heappop(waiting)
        halves = program.halves(part)
        if halves is None or looked_at >= parts:
            return cost
        for half in halves:
            looked_at += 1
            # Of equal ones the latest first: it is nearest to whole sheets.
            heappush(waiting, (max(cost, half.cost), -looked_at, half))
    return None


def _highest(room: Room, at: int, needs: Sequence[Need]) -> int:
    """Return how many sheets of a room may be of use."""
    useful = max((-(-need.total // need.most[at]) for need in needs if need.most[at]), default=0)
    return useful if room.on_hand is None else min(useful, room.on_hand)


@dataclass(frozen=True, slots=True)
class _Part:
    """From how many to how many sheets of each room, and a cost that none within go below.

    `sheets` are the cheapest fractions of sheets for the need that costs most.
    """

    fewest: tuple[int, ...]
    highest: tuple[int, ...]
    cost: Fraction
    sheets: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True)
class _Program:
    needs: tuple[Need, ...]
    costs: tuple[Fraction, ...]
    orders: tuple[list[int], ...]
    """The rooms by the cost of a value, for each need."""

    def parts(self, fewest: tuple[int, ...], highest: tuple[int, ...]) -> Iterator[_Part]:
        """Yield the part from `fewest` to `highest`, unless it holds too little."""
        sheets: tuple[Fraction, ...] = tuple(map(Fraction, fewest))
        cost = cost_of(sheets, self.costs)
        for at in range(len(self.needs)):
            cheapest_for_it = self._cheapest(at, fewest, highest)
            if cheapest_for_it is None:
                return
            asked = cost_of(cheapest_for_it, self.costs)
            if asked > cost:
                sheets, cost = cheapest_for_it, asked
        step = reduce(common_divisor, self.costs)
        yield _Part(fewest, highest, ceil(cost / step) * step if step else cost, sheets)

    def halves(self, part: _Part) -> list[_Part] | None:
        """Return what the part falls into; None when its sheets are whole and hold all needs."""
        split = self._split(part)
        if split is None:
            return None
        at, low = split
        fewer = (*part.highest[:at], low, *part.highest[at + 1 :])
        more = (*part.fewest[:at], low + 1, *part.fewest[at + 1 :])
        return [*self.parts(part.fewest, fewer), *self.parts(more, part.highest)]

    def _split(self, part: _Part) -> tuple[int, int] | None:
        """Return a room and the most sheets of it in the lower half."""
        for at, count in enumerate(part.sheets):
            if count.denominator > 1:
                return at, int(count)
        counts = [int(count) for count in part.sheets]
        for number, need in enumerate(self.needs):
            if not need.held_by(counts):
                other = self._cheapest(number, part.fewest, part.highest) or ()
                more = [theirs - ours for theirs, ours in zip(other, counts, strict=True)]
                at = more.index(max(more))
                return at, counts[at]
        return None

    def _cheapest(
        self, number: int, fewest: tuple[int, ...], highest: tuple[int, ...]
    ) -> tuple[Fraction, ...] | None:
        """Return the cheapest fractions of sheets within these numbers that hold a need."""
        need = self.needs[number]
        missing = need.total - sum(map(mul, need.most, fewest))
        more = cheapest(missing, need.most, self.orders[number], tuple(map(sub, highest, fewest)))
        return None if more is None else tuple(a + b for a, b in zip(fewest, more, strict=True))
