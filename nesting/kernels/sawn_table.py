"""The most valuable sheet of any number of through cuts, compiled: a table over sizes.

Dynamic programming after Gilmore and Gomory (1966), over the sizes that sums of pieces can have
(normal patterns: Herz, 1972). The numbers of pieces are not limited.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import ByteRows, IntegerRows, Integers, RealRows, Reals, lent

NOTHING, PIECE, SPLIT_X, SPLIT_Y, LESS_X, LESS_Y = range(6)


class Sizes(NamedTuple):
    """Sizes along x and along y (ticks), each rising from 0.

    `rest_x[i, a]` is the index of what is usable of xs[i] - xs[a], `rest_y` the same along y.
    """

    xs: Integers
    ys: Integers
    rest_x: IntegerRows
    rest_y: IntegerRows


class Pieces(NamedTuple):
    """Sides of pieces along x and along y (ticks), and the value of one."""

    along: Integers
    across: Integers
    values: Reals


class Cuts(NamedTuple):
    """For each size (xs[i], ys[j]) its best value, what is done with it, and where.

    What is done: nothing, a piece (its index), a split at an index of `xs` or `ys`, or the next
    smaller size is used.
    """

    best: RealRows
    how: ByteRows
    where: IntegerRows


def cut_table(xs: Integers, ys: Integers, pieces: Pieces) -> tuple[Sizes, Cuts]:
    """Return the best cuts of all sizes; `xs` and `ys` rise and start at 0."""
    n, m = xs.shape[0], ys.shape[0]
    sizes = Sizes(xs, ys, np.zeros((n, n), np.int64), np.zeros((m, m), np.int64))
    cuts = Cuts(np.zeros((n, m)), np.zeros((n, m), np.int8), np.zeros((n, m), np.int64))
    write_usable_rests(xs, sizes.rest_x)
    write_usable_rests(ys, sizes.rest_y)
    write_cuts(sizes, pieces, cuts)
    return sizes, cuts


@lent
def write_cuts(sizes: Sizes, pieces: Pieces, cuts: Cuts):
    """Write the best value of each size, what is done with it, and where."""
    xs, ys, rest_x, rest_y = sizes
    along, across, values = pieces
    best, how, where = cuts
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
