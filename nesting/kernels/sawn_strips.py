"""The most valuable sheet of strips, compiled: knapsacks over lists of states that none beats.

A list holds states by rising size and rising value: a larger state that is worth no more is dropped
(Nemhauser and Ullmann, 1969). The `last` of a state is its node in a pool of item, copies, node
before, so that what is in it can be read back. Lists are written from row 0 to row 1 and back.
Lengths are ticks; `along` runs with the strip, `across` against it.
"""

import numpy as np
from numba.types import Tuple
from numpy.typing import NDArray

from nesting.kernels.compiled import Integer, IntegerRows, Integers, RealRows, Reals, lent

Whole = NDArray[np.int64]
Floats = NDArray[np.float64]

LIST_MOST = 2048
"""Longest list; states beyond it are forgotten, and the answer may lose a little."""
POOL_MOST = 1 << 18
NO_END = 1 << 40
ITEM, COPIES, BEFORE = range(3)
NOISE = 1e-9
"""Differences of this share between sums of values are rounding."""

PairOfLists = Tuple((IntegerRows, RealRows, IntegerRows))
Stacks = Tuple((IntegerRows, RealRows, IntegerRows, IntegerRows))
Columns = Tuple((Integers, Reals, Integers, IntegerRows, IntegerRows))
Strips = Tuple((Reals, Integers, Integers))


def stack_lists(
    along: Whole, across: Whole, values: Floats, most: Whole, capacity: int, singles: int
) -> tuple[Whole, Floats, Whole, Whole]:
    """Return for each item the stacks that fit a column as long as it: sizes, values, last, pool.

    Items are sorted by `along`. A list ends at the first size below 0. With `singles` 1 a stack
    holds one item, else any number up to `most` of each.
    """
    n = along.shape[0]
    stacks = (
        np.full((n, LIST_MOST), -1, np.int64),
        np.zeros((n, LIST_MOST)),
        np.full((n, LIST_MOST), -1, np.int64),
        np.empty((POOL_MOST, 3), np.int64),
    )
    write_stacks(along, across, values, most, capacity, singles, _pair_of_lists(), stacks)
    return stacks


def best_strips(
    along: Whole,
    kinds: Whole,
    most: Whole,
    heights: Whole,
    stacks: tuple[Whole, Floats, Whole, Whole],
    length: int,
    width: int,
    out: Whole,
) -> tuple[int, float]:
    """Fill a sheet with strips along x; return the number of pieces and their total value.

    `stacks` are what `stack_lists` returns for these items; `kinds` gives the kind of each. A row
    of `out` is strip, height of the strip, column, item, in the order of strips, columns, stacks.
    `most` limits the pieces of a kind in one strip and in strips of one sort: not over all strips.
    """
    n, n_heights = along.shape[0], heights.shape[0]
    columns = (
        np.zeros(n, np.int64),
        np.zeros(n),
        np.zeros(n, np.int64),
        np.zeros((n_heights, n), np.int64),
        np.zeros((n_heights, n), np.int64),
    )
    strips = np.zeros(n_heights), np.zeros(n_heights, np.int64), np.zeros(n_heights, np.int64)
    tally = np.zeros(most.shape[0], np.int64)
    order = np.zeros(max(n, n_heights), np.int64)
    links = np.empty((POOL_MOST, 3), np.int64)
    pair = _pair_of_lists()
    return fill_strips(
        along, kinds, most, heights, stacks, length, width, columns, strips, tally, pair, links,
        order, out,
    )  # fmt: skip


def _pair_of_lists() -> tuple[Whole, Floats, Whole]:
    """Return the sizes, values and last nodes of a list of one empty state, and of its next."""
    return (
        np.zeros((2, LIST_MOST), np.int64),
        np.zeros((2, LIST_MOST)),
        np.full((2, LIST_MOST), -1, np.int64),
    )


@lent
def write_stacks(
    along: Integers,
    across: Integers,
    values: Reals,
    most: Integers,
    capacity: Integer,
    singles: Integer,
    pair: PairOfLists,
    stacks: Stacks,
):
    """Write the stacks of each item to arrays that are as long as they may become."""
    sizes, worth, last, pool = stacks
    n = along.shape[0]
    # Plain numbers here would be compiled a second time.
    n_pool, row, states = np.int64(0), np.int64(0), np.int64(1)
    for i in range(n):
        left = 1 if singles else min(most[i], capacity // across[i])
        part = 1
        while left > 0:
            copies = min(part, left)
            states, n_pool = merge(
                pair, row, states, 1 if singles else states, copies * across[i],
                copies * values[i], i, copies, capacity, 0.0, -1.0, pool, n_pool,
            )  # fmt: skip
            row = 1 - row
            left -= copies
            part *= 2
        for s in range(states):
            sizes[i, s] = pair[0][row, s]
            worth[i, s] = pair[1][row, s]
            last[i, s] = pair[2][row, s]


@lent
def fill_strips(
    along: Integers,
    kinds: Integers,
    most: Integers,
    heights: Integers,
    stacks: Stacks,
    length: Integer,
    width: Integer,
    columns: Columns,
    strips: Strips,
    tally: Integers,
    pair: PairOfLists,
    links: IntegerRows,
    order: Integers,
    out: IntegerRows,
):
    """Write the best strips; all arrays but the first five, of which the last is `stacks`, change.

    `columns` are the sizes, values and limits of the columns of a strip, then for each height their
    stacks and how often each is taken; `strips` the values and limits of strips, and how often each
    is taken. The rest is scratch.
    """
    sizes, worth, allowed, nodes, counts = columns
    strip_worth, strip_allowed, strip_counts = strips
    n_heights = heights.shape[0]
    for h in range(n_heights):
        n_columns = column_choices(along, stacks, heights[h], sizes, worth, nodes[h])
        for c in range(n_columns):
            tally[:] = 0
            count_kinds(stacks[3], nodes[h, c], np.int64(1), kinds, tally)
            allowed[c] = times_allowed(tally, most)
        strip_worth[h] = best_row(
            sizes, worth, allowed, n_columns, length, pair, links, order, counts[h]
        )
        tally[:] = 0
        for c in range(n_columns):
            count_kinds(stacks[3], nodes[h, c], counts[h, c], kinds, tally)
        strip_allowed[h] = times_allowed(tally, most)
    value = best_row(
        heights, strip_worth, strip_allowed, n_heights, width, pair, links, order, strip_counts
    )
    return write_strips(strip_counts, heights, nodes, counts, stacks[3], out), value


@lent
def best_row(sizes, worth, most, n, capacity, pair, pool, order, counts):
    """Solve a bounded knapsack; return its value, and how often each item is taken in `counts`.

    Items are offered by falling value for their size; a state that cannot reach the value of the
    plain greedy answer any more is dropped.
    """
    sort_by_density(sizes, worth, n, order)
    floor = greedy_row(sizes, worth, most, order, n, capacity)
    floor -= NOISE * floor
    pair[0][0, 0] = 0
    pair[1][0, 0] = 0.0
    pair[2][0, 0] = -1
    n_pool, row, states = np.int64(0), np.int64(0), np.int64(1)
    for rank in range(n):
        i = order[rank]
        counts[i] = 0
        if worth[i] <= 0.0:
            continue
        left = min(most[i], capacity // sizes[i])
        part = 1
        while left > 0:
            copies = min(part, left)
            states, n_pool = merge(
                pair, row, states, states, copies * sizes[i], copies * worth[i], i, copies,
                capacity, worth[i] / sizes[i], floor, pool, n_pool,
            )  # fmt: skip
            row = 1 - row
            left -= copies
            part *= 2
    node = pair[2][row, states - 1]
    while node >= 0:
        counts[pool[node, ITEM]] += pool[node, COPIES]
        node = pool[node, BEFORE]
    return pair[1][row, states - 1]


@lent
def merge(pair, row, n, n_step, step, gain, item, copies, capacity, density, floor, pool, n_pool):
    """Write the list of `row` joined with its first `n_step` states plus copies of an item.

    Return the length of the new list, in the other row, and of the pool. States are dropped when
    even `density` for all their free size leaves them below `floor`.
    """
    sizes, values, last = pair
    to = 1 - row
    best = -1.0
    m = i = j = 0
    while i < n or j < n_step:
        # The same size: the more valuable one first, so that the other is dropped.
        new = j < n_step and (
            i >= n
            or sizes[row, j] + step < sizes[row, i]
            or (sizes[row, j] + step == sizes[row, i] and values[row, j] + gain > values[row, i])
        )
        at = j if new else i
        size = sizes[row, at] + (step if new else 0)
        value = values[row, at] + (gain if new else 0.0)
        if new:
            j += 1
            if size > capacity:
                j = n_step
                continue
        else:
            i += 1
        if value <= best or value + (capacity - size) * density < floor:
            continue
        if m == LIST_MOST or (new and n_pool == POOL_MOST):
            continue
        best = value
        sizes[to, m] = size
        values[to, m] = value
        last[to, m] = last[row, at]
        if new:
            pool[n_pool, ITEM] = item
            pool[n_pool, COPIES] = copies
            pool[n_pool, BEFORE] = last[row, at]
            last[to, m] = n_pool
            n_pool += 1
        m += 1
    return m, n_pool


@lent
def sort_by_density(sizes, worth, n, order):
    """Write the items by falling value for their size; NumPy's sort takes long to compile."""
    for i in range(n):
        at = i
        while at > 0 and worth[order[at - 1]] * sizes[i] < worth[i] * sizes[order[at - 1]]:
            order[at] = order[at - 1]
            at -= 1
        order[at] = i


@lent
def greedy_row(sizes, worth, most, order, n, capacity):
    """Return the value of taking items as long as they fit, in order."""
    value = 0.0
    for rank in range(n):
        i = order[rank]
        copies = min(most[i], capacity // sizes[i])
        if worth[i] > 0.0 and copies > 0:
            value += copies * worth[i]
            capacity -= copies * sizes[i]
    return value


@lent
def column_choices(along, stacks, height, sizes, worth, nodes):
    """List the columns of a strip: the best stack for each length, shorter ones worth less."""
    n = along.shape[0]
    columns = 0
    best = 0.0
    for i in range(n):
        if i + 1 < n and along[i + 1] == along[i]:
            continue
        low, high = 0, LIST_MOST
        while low < high:
            middle = (low + high) // 2
            if stacks[0][i, middle] < 0 or stacks[0][i, middle] > height:
                high = middle
            else:
                low = middle + 1
        if stacks[1][i, low - 1] > best:
            best = stacks[1][i, low - 1]
            sizes[columns] = along[i]
            worth[columns] = best
            nodes[columns] = stacks[2][i, low - 1]
            columns += 1
    return columns


@lent
def count_kinds(pool, node, times, kinds, tally):
    """Add the pieces of a stack, taken some times, to the tally of kinds."""
    while node >= 0:
        tally[kinds[pool[node, ITEM]]] += times * pool[node, COPIES]
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
def write_strips(strips, heights, nodes, counts, pool, out):
    """Write one row for each piece; return how many, no more than `out` holds."""
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
