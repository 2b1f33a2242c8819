"""Filling one sheet from the bottom up: in the lowest gap of the skyline, the piece that fits best.

After Burke, Kendall and Whitwell (2004) and Wei, Oon, Zhu and Lim (2011). A piece that fills the
gap's width, or is level with one of its walls, leaves no new corner; among equals the order in
which they are offered decides.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, Real, inlined, lent
from nesting.kernels.sheet import Filled, Sheet

NOWHERE = 1 << 62
MOST_WAYS = 1 << 32
"""More than there ever are: a score times this, less the place of the way, is one number."""
FILLS_WIDTH, MEETS_TALL, MEETS_LOW, CLEAR = 8, 4, 2, 1


class Ways(NamedTuple):
    """Ways to lay pieces: length along the gap and width (ticks), the piece's place in the order
    offered, and whether it is turned.
    """

    lengths: Integers
    widths: Integers
    places: Integers
    turns: Integers


@lent
def fill_upwards(
    sheet: Sheet,
    item_types: IntegerRows,
    flip: Integer,
    order: Integers,
    most_left: Real,
    filled: Filled,
):
    """Fill an empty sheet without defects; pieces with a rim rule are not looked at.

    `item_types` and `order` are those of `fill_free`; the scratch takes the skyline as rows of x,
    y, length, and behind it the ways to lay pieces: three rows a piece in all. With `flip` 1 the
    sheet is filled from left to right: all below with x and y exchanged. The sheet is given up when
    so much of it stays empty that more area than `most_left` must be left.
    """
    scratch, taken, out = filled
    length, width, n_order = sheet.length, sheet.width, order.shape[0]
    if flip:
        length, width = width, length
    line = scratch[: n_order + 1]
    rest = scratch[n_order + 1 :].reshape(-1)
    most = 2 * n_order
    ways = Ways(
        rest[:most], rest[most : 2 * most], rest[2 * most : 3 * most], rest[3 * most : 4 * most]
    )
    most_empty = most_left + float(length) * width
    for i in range(n_order):
        taken[i] = 0
        most_empty -= float(item_types[order[i], 0]) * item_types[order[i], 1]
    n_ways = write_ways(item_types, flip, order, ways)
    empty = 0.0
    least = narrowest(ways, n_ways)
    line[0, 0], line[0, 1], line[0, 2] = 0, 0, length
    n_line = np.int64(1)
    placed = 0
    while True:
        low = lowest(line, n_line)
        x, y, across = line[low, 0], line[low, 1], line[low, 2]
        left = line[low - 1, 1] - y if low > 0 else width - y
        right = line[low + 1, 1] - y if low + 1 < n_line else width - y
        best = best_way(ways, n_ways, across, width - y, left, right, least)
        if best < 0:
            rise = min(left, right)
            empty += float(across) * rise
            if y + rise >= width or empty > most_empty:
                return placed
            line[low, 1] = y + rise
            n_line = merged(line, n_line, low)
            continue
        l, w, i = ways.lengths[best], ways.widths[best], ways.places[best]
        if left < right:
            x += across - l
        taken[i] = 1
        out[placed, 0], out[placed, 3] = order[i], ways.turns[best]
        out[placed, 1 + flip], out[placed, 2 - flip] = x, y
        placed += 1
        n_ways = without(order, ways, n_ways, i)
        if least == min(l, w):
            least = narrowest(ways, n_ways)
        n_line = laid(line, n_line, low, x, y + w, l)


@inlined
def write_ways(item_types, flip, order, ways):
    """Write the ways to lay the pieces of `order`; return how many there are.

    Equal pieces one behind the other share theirs.
    """
    lengths, widths, places, turns = ways
    n = np.int64(0)
    last = -1
    for i in range(order.shape[0]):
        item_type = order[i]
        if item_type == last:
            continue
        last = item_type
        l, w = item_types[item_type, flip], item_types[item_type, 1 - flip]
        lengths[n], widths[n], places[n], turns[n] = l, w, i, 0
        n += 1
        if item_types[item_type, 2] and l != w:
            lengths[n], widths[n], places[n], turns[n] = w, l, i, 1
            n += 1
    return n


@inlined
def without(order, ways, n_ways, i):
    """Take one piece off the ways to lay pieces; return how many are left."""
    lengths, widths, places, turns = ways
    more = i + 1 < order.shape[0] and order[i + 1] == order[i]
    kept = np.int64(0)
    for o in range(n_ways):
        if places[o] == i:
            if not more:
                continue
            places[o] = i + 1
        lengths[kept], widths[kept], places[kept], turns[kept] = (
            lengths[o],
            widths[o],
            places[o],
            turns[o],
        )
        kept += 1
    return kept


@lent
def lowest(line, n_line):
    """Return the lowest stretch of the skyline, the leftmost of several."""
    low = 0
    for s in range(1, n_line):
        if line[s, 1] < line[low, 1]:
            low = s
    return low


@lent
def narrowest(ways, n_ways):
    """Return the least width of gap that any piece left can take."""
    least = NOWHERE
    for o in range(n_ways):
        least = min(least, ways.lengths[o])
    return least


@inlined
def best_way(ways, n_ways, across, height, left, right, least):
    """Return the way that fits the gap best, the first of several; -1 when none fits.

    What stays open beside it and is narrower than `least` is waste.
    """
    if across < least:
        return -1
    tall, short = max(left, right), min(left, right)
    best = np.int64(-1)
    # Without branches, so that several are compared at once.
    lengths, widths = ways.lengths, ways.widths
    for o in range(n_ways):
        l, w = lengths[o], widths[o]
        fills = l == across
        score = (
            FILLS_WIDTH * fills
            + MEETS_TALL * (w == tall)
            + MEETS_LOW * (fills & (w == short) & (w != tall))
            + CLEAR * (fills | (across - l >= least))
        )
        fits = (l <= across) & (w <= height)
        best = max(best, fits * ((score + 1) * MOST_WAYS - o) - 1)
    return -1 if best < 0 else MOST_WAYS - 1 - best % MOST_WAYS


@inlined
def laid(line, n_line, low, x, top, l):
    """Lay a piece on an end of the lowest stretch; return the number of stretches."""
    if l == line[low, 2]:
        line[low, 1] = top
        return merged(line, n_line, low)
    for s in range(n_line, low + 1, -1):
        for c in range(3):
            line[s, c] = line[s - 1, c]
    rest = line[low, 2] - l
    level = line[low, 1]
    if x == line[low, 0]:
        line[low, 1], line[low, 2] = top, l
        line[low + 1, 0], line[low + 1, 1], line[low + 1, 2] = x + l, level, rest
        return merged(line, n_line + 1, low)
    line[low, 2] = rest
    line[low + 1, 0], line[low + 1, 1], line[low + 1, 2] = x, top, l
    return merged(line, n_line + 1, low + 1)


@lent
def merged(line, n_line, at):
    """Join a stretch with neighbours of its level; return the number of stretches."""
    if at + 1 < n_line and line[at + 1, 1] == line[at, 1]:
        line[at, 2] += line[at + 1, 2]
        n_line = removed(line, n_line, at + 1)
    if at > 0 and line[at - 1, 1] == line[at, 1]:
        line[at - 1, 2] += line[at, 2]
        n_line = removed(line, n_line, at)
    return n_line


@lent
def removed(line, n_line, at):
    """Take one stretch out; return the number of stretches."""
    for s in range(at, n_line - 1):
        for c in range(3):
            line[s, c] = line[s + 1, c]
    return n_line - 1
