"""Tolerances, and how they add up along a chain of sizes until they close a clearance.

A *chain* runs from one side of a clearance to the other through everything that decides where the
two sides come to lie. Each deviation in it is a *contribution*. Two figures say what a chain takes:

* the *worst case*: all contributions at their limit at once, the sum of their amounts;
* the *root sum square*: what independent contributions take together in all but a few sets, the
  root of the sum of the squares (JCGM 100:2008, 5.1.2, equation 10, all of them uncorrelated; from
  memory). What is off by the same amount wherever it is met is not independent: a roll of edge
  band, a pack of board. It is one contribution that counts as many times.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from parametric.stock.sources import COMMON_PRACTICE


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """How far a size may be off, either way; `source` says who allows it.

    One that differs between the two ways stands for the larger of them.
    """

    plus_minus_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Contribution:
    """One deviation in a chain, None where nobody has said how large it may be.

    Each millimetre of it takes `times` millimetres of the clearance.
    """

    what: str
    tolerance: Tolerance | None
    times: float = 1.0

    @property
    def takes_mm(self) -> float:
        """What it takes of the clearance at most, as far as is known."""
        return 0.0 if self.tolerance is None else self.times * self.tolerance.plus_minus_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A clearance at nominal sizes, and what takes from it."""

    nominal_mm: float
    contributions: tuple[Contribution, ...]

    @property
    def worst_case_mm(self) -> float:
        """What all contributions take together when each is at its limit."""
        return math.fsum(each.takes_mm for each in self.contributions)

    @property
    def root_sum_square_mm(self) -> float:
        """What independent contributions take together in all but a few sets."""
        return math.hypot(*(each.takes_mm for each in self.contributions))

    @property
    def unknown(self) -> tuple[str, ...]:
        """What has no tolerance, so that neither figure counts it."""
        return tuple(each.what for each in self.contributions if each.tolerance is None)

    @property
    def largest(self) -> Contribution:
        """The contribution that takes most; the first of several.

        Raises:
            ValueError: there are no contributions.
        """
        return max(self.contributions, key=lambda each: each.takes_mm)


def stack(nominal_mm: float, contributions: Iterable[Contribution]) -> Stack:
    """Return the stack; contributions of one name and tolerance become one that counts as often."""
    merged: dict[tuple[str, Tolerance | None], Contribution] = {}
    for each in contributions:
        key = each.what, each.tolerance
        times = each.times + (merged[key].times if key in merged else 0.0)
        merged[key] = replace(each, times=times)
    return Stack(nominal_mm=nominal_mm, contributions=tuple(merged.values()))


def usual(plus_minus_mm: float) -> Tolerance:
    """Return a tolerance that the trade works to, for defaults."""
    return Tolerance(plus_minus_mm=plus_minus_mm, source=COMMON_PRACTICE)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTolerances:
    """What a router keeps to: the `size` of a part across the sheet, the width of a `groove` or
    notch, whose two sides one bit cuts, and the `position` of either from the part's edge.
    """

    size: Tolerance = field(default_factory=lambda: usual(0.2))
    groove: Tolerance = field(default_factory=lambda: usual(0.1))
    position: Tolerance = field(default_factory=lambda: usual(0.2))


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingOut:
    """What an installer keeps to: the `place` of a unit set to its mark on floor or wall, and the
    height of what is set to a `level` line.
    """

    place: Tolerance = field(default_factory=lambda: usual(1.0))
    level: Tolerance = field(default_factory=lambda: usual(1.0))
