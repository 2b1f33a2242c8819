"""Openings served by as few sizes as they allow, exactly.

Each opening allows the sizes of an interval, and sizes are points on the same line: the question is
how few points meet all intervals, and where a given number of points meets the most of them. The
first is answered by a sweep over the right ends, the second by a dynamic programme over them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf

from parametric.geometry.space import SAME_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRange:
    """The sizes that serve one opening, millimetres, both ends included.

    With a size of `flush_mm` nothing would be left beside it, so that a size leaves a gap of
    `flush_mm` less the size.
    """

    least_mm: float
    most_mm: float
    flush_mm: float

    def holds(self, size_mm: float) -> bool:
        """Return whether the size serves the opening."""
        return self.least_mm <= size_mm <= self.most_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeGroup:
    """One size and the openings that it serves, by their places in the question."""

    size_mm: float
    openings: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grouping:
    """Groups from the smallest size. `unserved` openings get no size; gaps are of those served."""

    groups: tuple[SizeGroup, ...]
    unserved: tuple[int, ...]
    total_gap_mm: float
    worst_gap_mm: float


def fewest_sizes(ranges: Sequence[SizeRange]) -> int:
    """Return the least number of sizes that serve every opening.

    The next size is the greatest that the opening with the least right end allows, again and again.
    That no fewer points meet all intervals: Kleinberg and Tardos, Algorithm Design, chapter 4, by
    the argument that a greedy answer stays ahead (from memory).

    Raises:
        ValueError: a range is empty.
    """
    count, size_mm = 0, -inf
    for each in sorted(ranges, key=lambda each: each.most_mm):
        _refuse_empty(each)
        if each.least_mm > size_mm:
            count, size_mm = count + 1, each.most_mm
    return count


def grouping_of(ranges: Sequence[SizeRange], sizes_mm: Sequence[float]) -> Grouping:
    """Return which opening takes which of the sizes: the greatest that serves it.

    Sizes that serve no opening have no group.
    """
    served: dict[float, list[int]] = {}
    unserved = []
    for place, each in enumerate(ranges):
        size_mm = max((size for size in sizes_mm if each.holds(size)), default=None)
        if size_mm is None:
            unserved.append(place)
        else:
            served.setdefault(size_mm, []).append(place)
    gaps = [ranges[i].flush_mm - size_mm for size_mm, places in served.items() for i in places]
    return Grouping(
        groups=tuple(
            SizeGroup(size_mm=size_mm, openings=tuple(places))
            for size_mm, places in sorted(served.items())
        ),
        unserved=tuple(unserved),
        total_gap_mm=fsum(gaps),
        worst_gap_mm=max(gaps, default=0.0),
    )


def best_groupings(ranges: Sequence[SizeRange], most_sizes: int) -> tuple[Grouping, ...]:
    """Return the best groupings into at most 1, 2, ... `most_sizes` sizes.

    The best one leaves the fewest openings unserved, then the least gap in all; of equal ones that
    with fewer sizes, then the first found. Its sizes are right ends: a size may grow until the
    first of its openings forbids more. An opening takes the greatest size up to its right end or
    none at all, so that in the order of right ends the openings of a size, served or not, are a
    run. Work grows with sizes times openings times different right ends.

    Raises:
        ValueError: a range is empty.
    """
    for each in ranges:
        _refuse_empty(each)
    ordered = sorted(ranges, key=lambda each: each.most_mm)
    found: list[Grouping] = []
    best_cost: _Cost = len(ordered), 0.0
    best_sizes: tuple[float, ...] = ()
    # By the number of openings in order that are dealt with: what they cost, and the sizes so far.
    layer: _Layer = {first: ((first, 0.0), ()) for first in _run_starts(ordered)}
    for _ in range(most_sizes):
        layer = _one_size_more(ordered, layer)
        cost, sizes = layer.get(len(ordered), (best_cost, best_sizes))
        if _better(cost, best_cost):
            best_cost, best_sizes = cost, sizes
        found.append(grouping_of(ranges, best_sizes))
    return tuple(found)


_Cost = tuple[int, float]
"""Openings unserved, then gaps added up."""

_Layer = dict[int, tuple[_Cost, tuple[float, ...]]]


def _one_size_more(ordered: Sequence[SizeRange], layer: _Layer) -> _Layer:
    """Return the best ends of one further run, each begun where a run of the layer ends."""
    starts = set(_run_starts(ordered))
    longer: _Layer = {}
    for first, (cost, sizes) in layer.items():
        if first == len(ordered):
            continue
        size_mm = ordered[first].most_mm
        unserved, total_mm = cost
        for place in range(first, len(ordered)):
            each = ordered[place]
            if each.least_mm > size_mm:
                unserved += 1
            else:
                total_mm += each.flush_mm - size_mm
            end = place + 1
            if end not in starts and end < len(ordered):
                continue
            if end not in longer or _better((unserved, total_mm), longer[end][0]):
                longer[end] = (unserved, total_mm), (*sizes, size_mm)
    return longer


def _run_starts(ordered: Sequence[SizeRange]) -> list[int]:
    """Return the places where the right end grows: the only ones at which a run may begin."""
    return [i for i, each in enumerate(ordered) if i == 0 or each.most_mm > ordered[i - 1].most_mm]


def _better(cost: _Cost, than: _Cost) -> bool:
    """Return whether it is: gaps that differ by noise of their sums are equal."""
    return cost[0] < than[0] or (cost[0] == than[0] and cost[1] < than[1] - SAME_MM)


def _refuse_empty(each: SizeRange) -> None:
    if each.least_mm > each.most_mm:
        raise ValueError(f"no size from {each.least_mm} to {each.most_mm}")
