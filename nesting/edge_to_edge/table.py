"""Sheets of any number of stages by a table over sizes.

The sizes are all that sums of pieces can have, where these are few enough: then the sheet is exact
for item types without a limit on their number. Else they are the places of the cuts in good sheets
that were found otherwise, which the table puts together anew. Where a limit binds, what is too much
is replaced or left out, and the table is made again with lower values for the item types of which
there were too many.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.edge_to_edge.regions import Item, Region, worthiest
from nesting.kernels.sawn_table import (
    LESS_X,
    LESS_Y,
    NOTHING,
    PIECE,
    SPLIT_X,
    Cuts,
    Pieces,
    Sizes,
    cut_table,
)
from nesting.search.pattern import Spot

WORK_MOST = 4_000_000
"""Most steps of one table; a core does some hundred million a second."""
POINTS_MOST = 250
SUMS_MOST = 1500
SEEN_MOST = 80
ROUNDS = 6
FADE = 0.8
"""What is left of the value of an item type in each round that used too many of it."""


def table_sheets(
    region: Region, values: Sequence[float], most: Sequence[int], seen: Sequence[Sequence[Spot]]
) -> list[list[Spot]]:
    """Return sheets of high value, `most[item_type]` of each at most; `seen` are good sheets."""
    items = worthiest((item for item in region.items() if most[item.item_type] > 0), values)
    if not items:
        return []
    _, _, length, width = region.place
    xs = _points(((i.along, most[i.item_type]) for i in items), length)
    ys = _points(((i.across, most[i.item_type]) for i in items), width)
    if not xs or not ys or len(xs) * len(ys) * (len(xs) + len(ys) + len(items)) > WORK_MOST:
        xs, ys = _seen_points(region, items, seen)
    faded = list(values)
    sheets = []
    for _ in range(ROUNDS):
        sizes, cuts = _tables(xs, ys, items, faded)
        walk = _Walk(sizes, cuts, items, values, list(most), [], set())
        walk.down(len(xs) - 1, len(ys) - 1, region.place.x, region.place.y)
        sheets.append(walk.spots)
        if not walk.lacking:
            break
        for item_type in walk.lacking:
            faded[item_type] *= FADE
    return sheets


def _tables(
    xs: list[int], ys: list[int], items: Sequence[Item], values: Sequence[float]
) -> tuple[Sizes, Cuts]:
    pieces = Pieces(
        along=np.array([item.along for item in items], np.int64),
        across=np.array([item.across for item in items], np.int64),
        values=np.array([values[item.item_type] for item in items], np.float64),
    )
    return cut_table(np.array(xs, np.int64), np.array(ys, np.int64), pieces)


@dataclass(frozen=True, slots=True)
class _Walk:
    """Reads a table from the whole sheet down to the pieces, and takes them from what is left."""

    sizes: Sizes
    cuts: Cuts
    items: Sequence[Item]
    values: Sequence[float]
    left: list[int]
    spots: list[Spot]
    lacking: set[int]

    def down(self, i: int, j: int, x: int, y: int) -> None:
        xs, ys = self.sizes.xs, self.sizes.ys
        how = self.cuts.how[i, j]
        at = int(self.cuts.where[i, j])
        if i == 0 or j == 0 or how == NOTHING:
            return
        if how == LESS_X:
            self.down(i - 1, j, x, y)
        elif how == LESS_Y:
            self.down(i, j - 1, x, y)
        elif how == PIECE:
            self._place(self.items[at], int(xs[i]), int(ys[j]), x, y)
        elif how == SPLIT_X:
            self.down(at, j, x, y)
            self.down(int(self.sizes.rest_x[i, at]), j, x + int(xs[at]), y)
        else:
            self.down(i, at, x, y)
            self.down(i, int(self.sizes.rest_y[j, at]), x, y + int(ys[at]))

    def _place(self, item: Item, length: int, width: int, x: int, y: int) -> None:
        if not self.left[item.item_type]:
            self.lacking.add(item.item_type)
            others = [
                other
                for other in self.items
                if self.left[other.item_type] and other.along <= length and other.across <= width
            ]
            if not others:
                return
            item = max(others, key=lambda other: (self.values[other.item_type], other))
        self.left[item.item_type] -= 1
        self.spots.append(Spot(item.item_type, x, y, item.turned))


def _points(sizes: Iterable[tuple[int, int]], capacity: int) -> list[int]:
    """Return the places that cuts can be kept to, rising from 0; nothing when there are too many.

    These are the sums of sizes, thinned: of those with the same largest partner in the sheet, one
    is enough (Scheithauer and Terno, 1996: reduced raster points).
    """
    limits: dict[int, int] = {}
    for size, most in sizes:
        limits[size] = limits.get(size, 0) + most
    sums = {0}
    for size, most in sorted(limits.items()):
        for _ in range(min(most, capacity // size)):
            grown = {s + size for s in sums if s + size <= capacity} | sums
            if len(grown) == len(sums):
                break
            sums = grown
        if len(sums) > SUMS_MOST:
            return []
    ordered = sorted(sums)
    thinned = {_within(ordered, capacity - _within(ordered, capacity - s)) for s in ordered}
    thinned |= {0}
    return sorted(thinned) if len(thinned) <= POINTS_MOST else []


def _seen_points(
    region: Region, items: Sequence[Item], seen: Sequence[Sequence[Spot]]
) -> tuple[list[int], list[int]]:
    """Return the sizes of all items, and the places most often cut at in sheets seen."""
    place = region.place
    sides = {(item.item_type, item.turned): (item.along, item.across) for item in items}
    xs, ys = Counter[int](), Counter[int]()
    for spot in (spot for sheet in seen for spot in sheet):
        if (spot.item_type, spot.turned) in sides:
            along, across = sides[spot.item_type, spot.turned]
            xs.update((spot.x - place.x, spot.x - place.x + along))
            ys.update((spot.y - place.y, spot.y - place.y + across))
    single_x = {item.along for item in items} | {0, place.length}
    single_y = {item.across for item in items} | {0, place.width}
    return _often(xs, single_x, place.length), _often(ys, single_y, place.width)


def _often(times: Counter[int], always: set[int], capacity: int) -> list[int]:
    places = sorted((-count, at) for at, count in times.items() if 0 < at < capacity)
    return sorted(always | {at for _, at in places[:SEEN_MOST]})


def _within(ordered: Sequence[int], limit: int) -> int:
    return ordered[bisect_right(ordered, limit) - 1]
