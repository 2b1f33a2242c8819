"""The most valuable pattern of a bar: a bounded knapsack, exact in whole numbers.

Two exact ways. A table over all lengths is quick where lengths have a common step; a search with
bounds is quick where few pieces fill a bar. The search hands over to the table when it takes long.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

import numpy as np

from nesting.linear.problem import Counts

TABLE_CELLS = 2_000_000
"""Cells up to which the table comes first."""

SEARCH_NODES = 50_000
"""Nodes after which the search hands over to the table."""

LARGEST_VALUE = 2**62
"""Sums of values stay below this in the table, which counts in 64 bits."""


@dataclass(frozen=True, slots=True)
class Best:
    """A pattern of the highest value."""

    value: int
    counts: Counts


class Pricing:
    """Finds best patterns for one list of lengths and limits (how many of each may be taken)."""

    def __init__(self, lengths: Sequence[int], limits: Sequence[int]) -> None:
        """Keep the list; a common step of the lengths shortens the table."""
        self._lengths = tuple(lengths)
        self._limits = tuple(limits)
        self._step = gcd(*lengths) if lengths else 1

    def best(self, values: Sequence[int], sizes: Sequence[int]) -> list[Best]:
        """Return for each size of room the pattern of the highest value. Values are 0 or more."""
        item_types = [item_type for item_type, value in enumerate(values) if value > 0]
        # The most valuable length first, compared exactly: the search's bound rests on it.
        item_types.sort(
            key=lambda item_type: Fraction(-values[item_type], self._lengths[item_type])
        )
        items = [
            _Item(item_type, self._lengths[item_type], values[item_type], self._limits[item_type])
            for item_type in item_types
        ]
        longest = max(sizes, default=0)
        if not items:
            return [self._best((), ())] * len(sizes)
        tabled = _table_is_exact(items, longest)
        if tabled and self._table_is_small(items, longest):
            return self._by_table(items, sizes)
        found = []
        for size in sizes:
            taken = _searched(items, size, SEARCH_NODES if tabled else None)
            if taken is None:
                return self._by_table(items, sizes)
            found.append(self._best(items, taken))
        return found

    def _table_is_small(self, items: Sequence["_Item"], longest: int) -> bool:
        cells = longest // self._step + 1
        return cells * sum(len(_shares(item, longest)) for item in items) <= TABLE_CELLS

    def _by_table(self, items: Sequence["_Item"], sizes: Sequence[int]) -> list[Best]:
        cells = [size // self._step for size in sizes]
        return [self._best(items, taken) for taken in _tabled(items, cells, self._step)]

    def _best(self, items: Sequence["_Item"], taken: Sequence[int]) -> Best:
        counts = [0] * len(self._lengths)
        for item, count in zip(items, taken, strict=True):
            counts[item.item_type] = count
        value = sum(item.value * count for item, count in zip(items, taken, strict=True))
        return Best(value, tuple(counts))


@dataclass(frozen=True, slots=True)
class _Item:
    item_type: int
    length: int
    value: int
    limit: int


def _searched(items: Sequence[_Item], size: int, most_nodes: int | None) -> list[int] | None:
    """Return how many of each item are taken; None when that takes more nodes than allowed.

    Depth first, as many as fit of the best item first. Left over room counts at the value of the
    next item's length: no pattern of it is worth more, as items run by falling value of length.
    """
    last = len(items) - 1
    taken = [0] * len(items)
    best, best_value = [0] * len(items), 0
    place, room, value, nodes = 0, size, 0, 0
    while True:
        nodes += 1
        if most_nodes is not None and nodes > most_nodes:
            return None
        item = items[place]
        count = min(room // item.length, item.limit)
        taken[place] = count
        room -= count * item.length
        value += count * item.value
        if value > best_value:
            best, best_value = list(taken), value
        if place < last and _may_beat(best_value - value, room, items[place + 1]):
            place += 1
            continue
        # Back to the nearest item that may be taken once less and still beat the best.
        while True:
            item = items[place]
            if taken[place]:
                taken[place] -= 1
                room += item.length
                value -= item.value
                if place < last and _may_beat(best_value - value, room, items[place + 1]):
                    place += 1
                    break
                # Taking even less only makes it worse.
                room += taken[place] * item.length
                value -= taken[place] * item.value
                taken[place] = 0
            if place == 0:
                return best
            place -= 1


def _may_beat(missing: int, room: int, item: _Item) -> bool:
    return room * item.value > missing * item.length


def _tabled(items: Sequence[_Item], cells: Sequence[int], step: int) -> list[list[int]]:
    """Return for each number of cells how many of each item are taken, by a table over lengths."""
    longest = max(cells, default=0)
    shares = [
        (place, share)
        for place, item in enumerate(items)
        for share in _shares(item, longest * step)
    ]
    best = np.zeros(longest + 1, dtype=np.int64)
    rows = []
    for place, share in shares:
        length = share * items[place].length // step
        offered = best[: longest + 1 - length] + share * items[place].value
        better = offered > best[length:]
        best[length:][better] = offered[better]
        rows.append(np.packbits(better))
    answers = []
    for cell in cells:
        taken = [0] * len(items)
        at = cell
        for (place, share), row in zip(reversed(shares), reversed(rows), strict=True):
            start = at - share * items[place].length // step
            if start >= 0 and row[start >> 3] >> (7 - (start & 7)) & 1:
                taken[place] += share
                at = start
        answers.append(taken)
    return answers


def _shares(item: _Item, longest: int) -> list[int]:
    """Return numbers whose sums are exactly all counts that the item may be taken."""
    rest = min(item.limit, longest // item.length)
    shares, share = [], 1
    while rest:
        shares.append(min(share, rest))
        rest -= shares[-1]
        share *= 2
    return shares


def _table_is_exact(items: Sequence[_Item], longest: int) -> bool:
    most = longest // min(item.length for item in items)
    return most * max(item.value for item in items) < LARGEST_VALUE
