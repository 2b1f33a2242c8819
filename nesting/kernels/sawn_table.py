"""The most valuable sheet of any number of through cuts, compiled: a table over sizes.

Dynamic programming after Gilmore and Gomory (1966), over the sizes that sums of pieces can have
(normal patterns: Herz, 1972). The numbers of pieces are not limited.
"""

import numpy as np
from numpy.typing import NDArray

from nesting.kernels.compiled import ByteRows, IntegerRows, Integers, RealRows, Reals, lent

Whole = NDArray[np.int64]
Floats = NDArray[np.float64]

NOTHING, PIECE, SPLIT_X, SPLIT_Y, LESS_X, LESS_Y = range(6)


def cut_table(
    xs: Whole, ys: Whole, along: Whole, across: Whole, values: Floats
) -> tuple[Floats, NDArray[np.int8], Whole, Whole, Whole]:
    """Return for each size (xs[i], ys[j]) its best value, what is done with it, and where.

    `xs` and `ys` rise and start at 0. What is done: nothing, an item (its index), a split at an
    index of `xs` or `ys`, or the next smaller size is used. `rest_x[i, a]` is the index of what is
    usable of xs[i] - xs[a].
    """
    n, m = xs.shape[0], ys.shape[0]
    best = np.zeros((n, m))
    how = np.zeros((n, m), np.int8)
    where = np.zeros((n, m), np.int64)
    rest_x, rest_y = np.zeros((n, n), np.int64), np.zeros((m, m), np.int64)
    write_usable_rests(xs, rest_x)
    write_usable_rests(ys, rest_y)
    write_cuts(xs, ys, along, across, values, rest_x, rest_y, best, how, where)
    return best, how, where, rest_x, rest_y


@lent
def write_cuts(
    xs: Integers,
    ys: Integers,
    along: Integers,
    across: Integers,
    values: Reals,
    rest_x: IntegerRows,
    rest_y: IntegerRows,
    best: RealRows,
    how: ByteRows,
    where: IntegerRows,
):
    """Write the best value of each size, what is done with it, and where."""
    n, m = xs.shape[0], ys.shape[0]
    for i in range(1, n):
        for j in range(1, m):
            top = best[i - 1, j]
            how[i, j] = LESS_X
            if best[i, j - 1] > top:
                top = best[i, j - 1]
                how[i, j] = LESS_Y
            for k in range(along.shape[0]):
                if along[k] <= xs[i] and across[k] <= ys[j] and values[k] > top:
                    top = values[k]
                    how[i, j] = PIECE
                    where[i, j] = k
            for a in range(1, i):
                if 2 * xs[a] > xs[i]:
                    break
                value = best[a, j] + best[rest_x[i, a], j]
                if value > top:
                    top = value
                    how[i, j] = SPLIT_X
                    where[i, j] = a
            for b in range(1, j):
                if 2 * ys[b] > ys[j]:
                    break
                value = best[i, b] + best[i, rest_y[j, b]]
                if value > top:
                    top = value
                    how[i, j] = SPLIT_Y
                    where[i, j] = b
            best[i, j] = top


@lent
def write_usable_rests(points: Integers, rests: IntegerRows):
    """Write for each two points the index of the largest point within their difference."""
    for i in range(points.shape[0]):
        r = i
        for a in range(i + 1):
            while points[r] > points[i] - points[a]:
                r -= 1
            rests[i, a] = r
