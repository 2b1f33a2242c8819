"""Bounded knapsacks, compiled: lists of states that none beats.

A list holds states by rising size and rising value: a larger state that is worth no more is dropped
(Nemhauser and Ullmann, 1969). The `last` of a state is its node in a pool of item, copies, node
before, so that what is in it can be read back. Lists are written from row 0 to row 1 and back.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, Real, RealRows, lent

LIST_MOST = 2048
"""Longest list; states beyond it are forgotten, and the answer may lose a little."""
POOL_MOST = 1 << 18
ITEM, COPIES, BEFORE = range(3)
NOISE = 1e-9
"""Differences of this share between sums of values are rounding."""


class Lists(NamedTuple):
    """Lists of states, one in a row: their sizes (ticks), values, and last nodes."""

    sizes: IntegerRows
    values: RealRows
    last: IntegerRows


class Knapsack(NamedTuple):
    """Scratch of a knapsack: its list of states and the next one, the pool, and an order."""

    lists: Lists
    pool: IntegerRows
    order: Integers


class Copies(NamedTuple):
    """What joins a state: copies of an item, their size (ticks) and value together."""

    size: Integer
    value: Real
    item: Integer
    copies: Integer


class Limits(NamedTuple):
    """The largest size of a state (ticks), and the least value that it must be able to reach.

    `density` is the most value that a tick still free can bring.
    """

    capacity: Integer
    density: Real
    floor: Real


def list_and_next() -> Lists:
    """Return a list of one empty state, and room for its next."""
    return Lists(
        sizes=np.zeros((2, LIST_MOST), np.int64),
        values=np.zeros((2, LIST_MOST)),
        last=np.full((2, LIST_MOST), -1, np.int64),
    )


@lent
def best_row(sizes, values, most, n, capacity, knapsack, counts):
    """Solve a bounded knapsack; return its value, and how often each item is taken in `counts`.

    Items are offered by falling value for their size; a state that cannot reach the value of the
    plain greedy answer any more is dropped.
    """
    lists, pool, order = knapsack
    sort_by_density(sizes, values, n, order)
    floor = greedy_row(sizes, values, most, order, n, capacity)
    floor -= NOISE * floor
    lists.sizes[0, 0] = 0
    lists.values[0, 0] = 0.0
    lists.last[0, 0] = -1
    n_pool, row, states = np.int64(0), np.int64(0), np.int64(1)
    for rank in range(n):
        i = order[rank]
        counts[i] = 0
        if values[i] <= 0.0:
            continue
        limits = Limits(capacity, values[i] / sizes[i], floor)
        left = min(most[i], capacity // sizes[i])
        part = 1
        while left > 0:
            copies = min(part, left)
            joining = Copies(copies * sizes[i], copies * values[i], i, copies)
            states, n_pool = merge(lists, row, states, states, joining, limits, pool, n_pool)
            row = 1 - row
            left -= copies
            part *= 2
    node = lists.last[row, states - 1]
    while node >= 0:
        counts[pool[node, ITEM]] += pool[node, COPIES]
        node = pool[node, BEFORE]
    return lists.values[row, states - 1]


@lent
def merge(lists, row, n, n_step, joining, limits, pool, n_pool):
    """Write the list of `row` joined with its first `n_step` states plus what is joining them.

    Return the length of the new list, in the other row, and of the pool. States that cannot keep to
    the limits are dropped.
    """
    sizes, values, last = lists
    step, gain, item, copies = joining
    capacity, density, floor = limits
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
def sort_by_density(sizes, values, n, order):
    """Write the items by falling value for their size; NumPy's sort takes long to compile."""
    for i in range(n):
        at = i
        while at > 0 and values[order[at - 1]] * sizes[i] < values[i] * sizes[order[at - 1]]:
            order[at] = order[at - 1]
            at -= 1
        order[at] = i


@lent
def greedy_row(sizes, values, most, order, n, capacity):
    """Return the value of taking items as long as they fit, in order."""
    value = 0.0
    for rank in range(n):
        i = order[rank]
        copies = min(most[i], capacity // sizes[i])
        if values[i] > 0.0 and copies > 0:
            value += copies * values[i]
            capacity -= copies * sizes[i]
    return value
