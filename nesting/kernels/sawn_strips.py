"""The most valuable sheet of strips, compiled: a knapsack for each strip, and one over the strips.

Lengths are ticks; `along` runs with the strip, `across` against it.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, RealRows, Reals, lent
from nesting.kernels.knapsack import (
    BEFORE,
    COPIES,
    ITEM,
    LIST_MOST,
    POOL_MOST,
    Copies,
    Knapsack,
    Limits,
    Lists,
    best_row,
    list_and_next,
    merge,
)

NO_END = 1 << 40


class Items(NamedTuple):
    """Item types in one of their turns, by rising `along`: sides (ticks), value, which it is."""

    along: Integers
    across: Integers
    values: Reals
    item_types: Integers


class Stacks(NamedTuple):
    """For each item the stacks that fit a column as long as it, with the pool of their nodes.

    A list ends at the first size below 0.
    """

    sizes: IntegerRows
    values: RealRows
    last: IntegerRows
    pool: IntegerRows


class Columns(NamedTuple):
    """The columns of a strip: length (ticks), value, and how many there may be.

    `nodes` are their stacks and `counts` how often each is taken, in a row for each height.
    """

    sizes: Integers
    values: Reals
    most: Integers
    nodes: IntegerRows
    counts: IntegerRows


class Strips(NamedTuple):
    """The best strip of each height: its value, how many there may be, and how many are taken."""

    values: Reals
    most: Integers
    counts: Integers


def stack_lists(items: Items, most: Integers, capacity: int, singles: int) -> Stacks:
    """Return for each item the stacks that fit a column as long as it.

    With `singles` 1 a stack holds one item, else any number up to `most` of each item.
    """
    n = items.along.shape[0]
    stacks = Stacks(
        sizes=np.full((n, LIST_MOST), -1, np.int64),
        values=np.zeros((n, LIST_MOST)),
        last=np.full((n, LIST_MOST), -1, np.int64),
        pool=np.empty((POOL_MOST, 3), np.int64),
    )
    write_stacks(items, most, capacity, singles, list_and_next(), stacks)
    return stacks


def best_strips(
    items: Items,
    most: Integers,
    heights: Integers,
    stacks: Stacks,
    length: int,
    width: int,
    out: IntegerRows,
) -> tuple[int, float]:
    """Fill a sheet with strips along x; return the number of pieces and their total value.

    `stacks` are what `stack_lists` returns for these items. A row of `out` is strip, height of the
    strip, column, item, in the order of strips, columns, stacks. `most` limits the pieces of an
    item type in one strip and in strips of one sort: not over all strips.
    """
    n, n_heights = items.along.shape[0], heights.shape[0]
    columns = Columns(
        sizes=np.zeros(n, np.int64),
        values=np.zeros(n),
        most=np.zeros(n, np.int64),
        nodes=np.zeros((n_heights, n), np.int64),
        counts=np.zeros((n_heights, n), np.int64),
    )
    strips = Strips(
        values=np.zeros(n_heights),
        most=np.zeros(n_heights, np.int64),
        counts=np.zeros(n_heights, np.int64),
    )
    knapsack = Knapsack(
        lists=list_and_next(),
        pool=np.empty((POOL_MOST, 3), np.int64),
        order=np.zeros(max(n, n_heights), np.int64),
    )
    tally = np.zeros(most.shape[0], np.int64)
    return fill_strips(
        items, most, heights, stacks, length, width, columns, strips, knapsack, tally, out
    )


@lent
def write_stacks(
    items: Items,
    most: Integers,
    capacity: Integer,
    singles: Integer,
    lists: Lists,
    stacks: Stacks,
):
    """Write the stacks of each item to arrays that are as long as they may become."""
    sizes, values, last, pool = stacks
    limits = Limits(capacity, 0.0, -1.0)
    n = items.along.shape[0]
    # Plain numbers here would be compiled a second time.
    n_pool, row, states = np.int64(0), np.int64(0), np.int64(1)
    for i in range(n):
        size, value = items.across[i], items.values[i]
        left = 1 if singles else min(most[i], capacity // size)
        part = 1
        while left > 0:
            copies = min(part, left)
            joining = Copies(copies * size, copies * value, i, copies)
            first = 1 if singles else states
            states, n_pool = merge(lists, row, states, first, joining, limits, pool, n_pool)
            row = 1 - row
            left -= copies
            part *= 2
        for s in range(states):
            sizes[i, s] = lists.sizes[row, s]
            values[i, s] = lists.values[row, s]
            last[i, s] = lists.last[row, s]


@lent
def fill_strips(
    items: Items,
    most: Integers,
    heights: Integers,
    stacks: Stacks,
    length: Integer,
    width: Integer,
    columns: Columns,
    strips: Strips,
    knapsack: Knapsack,
    tally: Integers,
    out: IntegerRows,
):
    """Write the best strips to `columns`, `strips` and `out`; `tally` is scratch, by item type."""
    nodes, counts, pool = columns.nodes, columns.counts, stacks.pool
    n_heights = heights.shape[0]
    for h in range(n_heights):
        n_columns = column_choices(items.along, stacks, heights[h], columns, nodes[h])
        for c in range(n_columns):
            tally[:] = 0
            count_item_types(pool, nodes[h, c], np.int64(1), items.item_types, tally)
            columns.most[c] = times_allowed(tally, most)
        strips.values[h] = best_row(
            columns.sizes, columns.values, columns.most, n_columns, length, knapsack, counts[h]
        )
        tally[:] = 0
        for c in range(n_columns):
            count_item_types(pool, nodes[h, c], counts[h, c], items.item_types, tally)
        strips.most[h] = times_allowed(tally, most)
    value = best_row(heights, strips.values, strips.most, n_heights, width, knapsack, strips.counts)
    return write_strips(strips.counts, heights, columns, pool, out), value


@lent
def column_choices(along, stacks, height, columns, nodes):
    """List the columns of a strip: the best stack for each length, shorter ones worth less."""
    n = along.shape[0]
    n_columns = 0
    best = 0.0
    for i in range(n):
        if i + 1 < n and along[i + 1] == along[i]:
            continue
        low, high = 0, LIST_MOST
        while low < high:
            middle = (low + high) // 2
            if stacks.sizes[i, middle] < 0 or stacks.sizes[i, middle] > height:
                high = middle
            else:
                low = middle + 1
        if stacks.values[i, low - 1] > best:
            best = stacks.values[i, low - 1]
            columns.sizes[n_columns] = along[i]
            columns.values[n_columns] = best
            nodes[n_columns] = stacks.last[i, low - 1]
            n_columns += 1
    return n_columns


@lent
def count_item_types(pool, node, times, item_types, tally):
    """Add the pieces of a stack, taken some times, to the tally of item types."""
    while node >= 0:
        tally[item_types[pool[node, ITEM]]] += times * pool[node, COPIES]
        node = pool[node, BEFORE]


@lent
def times_allowed(tally, most):
    """Return how often all of a tally can be taken, once at least: what is too much is left out."""
    times = NO_END
    for k in range(tally.shape[0]):
        if tally[k] > 0:
            times = min(times, most[k] // tally[k])
    return max(times, 1)


@lent
def write_strips(strips, heights, columns, pool, out):
    """Write one row for each piece; return how many, no more than `out` holds."""
    nodes, counts = columns.nodes, columns.counts
    m = 0
    strip = 0
    for h in range(heights.shape[0]):
        for _ in range(strips[h]):
            column = 0
            for c in range(counts.shape[1]):
                for _ in range(counts[h, c]):
                    node = nodes[h, c]
                    while node >= 0:
                        for _ in range(pool[node, COPIES]):
                            if m < out.shape[0]:
                                out[m, 0] = strip
                                out[m, 1] = heights[h]
                                out[m, 2] = column
                                out[m, 3] = pool[node, ITEM]
                                m += 1
                        node = pool[node, BEFORE]
                    column += 1
            strip += 1
    return m
