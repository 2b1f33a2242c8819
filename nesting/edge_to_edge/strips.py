"""Sheets of strips: two stages, or three where pieces are stacked inside a strip.

Exact for item types without a limit on their number, as long as there are no more than `ITEMS_MOST`
item types and turns and, for stacks, no more strip heights than `HEIGHTS_MOST`. Where the limits
bind, strips are taken one after the other and the rest of the sheet is solved again.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum

import numpy as np
from numpy.typing import NDArray

from nesting.edge_to_edge.regions import Item, Region, worthiest
from nesting.kernels.sawn_strips import Items, Stacks, best_strips, stack_lists
from nesting.search.pattern import Spot

HEIGHTS_MOST = 40
"""Heights of strips of stacks that are looked at, beside those of single pieces."""
PIECES_MOST = 4096
FADE = 0.8
"""What is left of the value of an item type in each round that lacked pieces of it."""


def strip_sheets(
    region: Region, values: Sequence[float], most: Sequence[int], stacked: bool, rounds: int
) -> list[list[Spot]]:
    """Return sheets of strips along x with high value, with `most[item_type]` of each at most.

    While a limit binds, each round after the first gives less value to the item types that are
    short.
    """
    faded = list(values)
    sheets = []
    for _ in range(rounds):
        spots, short = _sheet(_Question(region.items(), faded, stacked), region, most)
        sheets.append(spots)
        if not short:
            break
        for item_type in short:
            faded[item_type] *= FADE
    return sheets


def _sheet(
    question: "_Question", region: Region, most: Sequence[int]
) -> tuple[list[Spot], set[int]]:
    """Return a sheet, and the item types of which the best strips would have taken too many."""
    x0, y0, length, width = region.place
    left = list(most)
    spots: list[Spot] = []
    short: set[int] = set()
    used = 0
    again = True
    while again:
        again = False
        for n, strip in enumerate(question.best(left, length, width - used)):
            lacking = _lacking(strip, left)
            short |= lacking
            again = again or bool(lacking)
            if n > 0 and lacking:
                break
            placed, height = _laid_out(strip, left)
            spots += [
                Spot(item.item_type, x0 + x, y0 + used + y, item.turned) for item, x, y in placed
            ]
            used += height
    return spots, short


Strip = list[list[Item]]
"""Columns from left to right, pieces from the bottom up."""


@dataclass(frozen=True, slots=True)
class _Question:
    items: list[Item]
    values: Sequence[float]
    stacked: bool

    def best(self, left: Sequence[int], length: int, width: int) -> list[Strip]:
        """Return the best strips for a sheet of that size, by falling value for their height."""
        items = [
            item
            for item in self.items
            if left[item.item_type] > 0 and item.along <= length and item.across <= width
        ]
        items = sorted(
            worthiest(items, self.values), key=lambda i: (i.along, i.across, i.item_type)
        )
        if not items:
            return []
        strips = self._solved(items, left, length, width)
        return sorted(strips, key=self._by_density)

    def _by_density(self, strip: Strip) -> tuple[float, Strip]:
        value = fsum(self.values[item.item_type] for column in strip for item in column)
        height = max(sum(item.across for item in column) for column in strip)
        return -value / height, strip

    def _solved(
        self, items: list[Item], left: Sequence[int], length: int, width: int
    ) -> list[Strip]:
        arrays = Items(
            along=np.array([item.along for item in items], np.int64),
            across=np.array([item.across for item in items], np.int64),
            values=np.array([self.values[item.item_type] for item in items], np.float64),
            item_types=np.array([item.item_type for item in items], np.int64),
        )
        limits = np.array(left, np.int64)
        stacks = stack_lists(arrays, limits[arrays.item_types], width, 0 if self.stacked else 1)
        heights = _heights(arrays, stacks, self.stacked)
        rows = np.empty((PIECES_MOST, 4), np.int64)
        placed, _ = best_strips(arrays, limits, heights, stacks, length, width, rows)
        return _strips(rows[:placed], items)


def _heights(items: Items, stacks: Stacks, stacked: bool) -> NDArray[np.int64]:
    """Return the heights of strips to look at: those of single pieces, and of the best stacks."""
    single = np.unique(items.across)
    if not stacked:
        return single
    sizes = stacks.sizes
    there = sizes > 0
    density = (stacks.values / items.along[:, None])[there] / sizes[there]
    heights, group = np.unique(sizes[there], return_inverse=True)
    best = np.zeros(len(heights))
    np.maximum.at(best, group, density)
    chosen = heights[np.argsort(-best, kind="stable")[:HEIGHTS_MOST]]
    return np.union1d(single, chosen)


def _strips(rows: NDArray[np.int64], items: Sequence[Item]) -> list[Strip]:
    strips: dict[int, dict[int, list[Item]]] = {}
    for strip, _, column, item in rows.tolist():
        strips.setdefault(strip, {}).setdefault(column, []).append(items[item])
    return [list(columns.values()) for columns in strips.values()]


def _lacking(strip: Strip, left: Sequence[int]) -> set[int]:
    """Return the item types of which the strip has more pieces than are left."""
    counts = Counter(item.item_type for column in strip for item in column)
    return {item_type for item_type, count in counts.items() if count > left[item_type]}


def _laid_out(strip: Strip, left: list[int]) -> tuple[list[tuple[Item, int, int]], int]:
    """Return the pieces of a strip that are left, with their places, and its height; take them."""
    placed: list[tuple[Item, int, int]] = []
    x = height = 0
    for column in strip:
        stack = list(_taken(column, left))
        y = 0
        for item in stack:
            placed.append((item, x, y))
            y += item.across
        x += max((item.along for item in stack), default=0)
        height = max(height, y)
    return placed, height


def _taken(column: Sequence[Item], left: list[int]) -> Iterator[Item]:
    for item in column:
        if left[item.item_type] > 0:
            left[item.item_type] -= 1
            yield item
