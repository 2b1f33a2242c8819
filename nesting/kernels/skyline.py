"""Filling one sheet from the bottom up: in the lowest gap of the skyline, the piece that fits best.

After Burke, Kendall and Whitwell (2004) and Wei, Oon, Zhu and Lim (2011). A piece that fills the
gap's width, or is level with one of its walls, leaves no new corner; among equals the order of
offers decides.
"""

import numpy as np

from nesting.kernels.compiled import Flags, Integer, IntegerRows, Integers, Real, inlined, lent

NOWHERE = 1 << 62
MOST_OFFERS = 1 << 32
"""More than there ever are: a score times this, less the place of the offer, is one number."""
FILLS_WIDTH, MEETS_TALL, MEETS_LOW, CLEAR = 8, 4, 2, 1


@lent
def fill_upwards(
    length: Integer,
    width: Integer,
    kinds: IntegerRows,
    flip: Integer,
    order: Integers,
    n_order: Integer,
    most_left: Real,
    scratch: IntegerRows,
    out: IntegerRows,
    taken: Flags,
):
    """Fill an empty sheet without defects; pieces with a rim rule are not looked at.

    The arrays are those of `fill_free`; `scratch` takes the skyline as rows of x, y, length, and
    behind it the offers: three rows a piece in all. With `flip` 1 the sheet is filled from left to
    right: all below with x and y exchanged. The sheet is given up when so much of it stays empty
    that more area than `most_left` must be left.
    """
    if flip:
        length, width = width, length
    line = scratch[: n_order + 1]
    rest = scratch[n_order + 1 :].reshape(-1)
    most = 2 * n_order
    lengths, widths = rest[:most], rest[most : 2 * most]
    places, turns = rest[2 * most : 3 * most], rest[3 * most : 4 * most]
    most_empty = most_left + float(length) * width
    for i in range(n_order):
        taken[i] = 0
        most_empty -= float(kinds[order[i], 0]) * kinds[order[i], 1]
    n_offers = offered(kinds, flip, order, n_order, lengths, widths, places, turns)
    empty = 0.0
    least = narrowest(lengths, n_offers)
    line[0, 0], line[0, 1], line[0, 2] = 0, 0, length
    n_line = np.int64(1)
    placed = 0
    while True:
        low = lowest(line, n_line)
        x, y, across = line[low, 0], line[low, 1], line[low, 2]
        left = line[low - 1, 1] - y if low > 0 else width - y
        right = line[low + 1, 1] - y if low + 1 < n_line else width - y
        best = best_offer(lengths, widths, n_offers, across, width - y, left, right, least)
        if best < 0:
            rise = min(left, right)
            empty += float(across) * rise
            if y + rise >= width or empty > most_empty:
                return placed
            line[low, 1] = y + rise
            n_line = merged(line, n_line, low)
            continue
        l, w, i, turned = lengths[best], widths[best], places[best], turns[best]
        if left < right:
            x += across - l
        taken[i] = 1
        out[placed, 0], out[placed, 3] = order[i], turned
        out[placed, 1 + flip], out[placed, 2 - flip] = x, y
        placed += 1
        n_offers = accepted(order, n_order, lengths, widths, places, turns, n_offers, i)
        if least == min(l, w):
            least = narrowest(lengths, n_offers)
        n_line = laid(line, n_line, low, x, y + w, l)


@inlined
def offered(kinds, flip, order, n_order, lengths, widths, places, turns):
    """Write the ways to lay the pieces of `order`; return how many there are.

    For each: its length along the gap, its width, the place in `order`, and whether it is turned.
    Equal pieces one behind the other share theirs.
    """
    n = np.int64(0)
    last = -1
    for i in range(n_order):
        kind = order[i]
        if kind == last:
            continue
        last = kind
        l, w = kinds[kind, flip], kinds[kind, 1 - flip]
        lengths[n], widths[n], places[n], turns[n] = l, w, i, 0
        n += 1
        if kinds[kind, 2] and l != w:
            lengths[n], widths[n], places[n], turns[n] = w, l, i, 1
            n += 1
    return n


@inlined
def accepted(order, n_order, lengths, widths, places, turns, n_offers, i):
    """Take one piece off the offers; return how many there are."""
    more = i + 1 < n_order and order[i + 1] == order[i]
    kept = np.int64(0)
    for o in range(n_offers):
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
def narrowest(lengths, n_offers):
    """Return the least width of gap that any offer left can take."""
    least = NOWHERE
    for o in range(n_offers):
        least = min(least, lengths[o])
    return least


@inlined
def best_offer(lengths, widths, n_offers, across, height, left, right, least):
    """Return the offer that fits the gap best, the first of several; -1 when none fits.

    What stays open beside it and is narrower than `least` is waste.
    """
    if across < least:
        return -1
    tall, short = max(left, right), min(left, right)
    best = np.int64(-1)
    # Without branches, so that several offers are compared at once.
    for o in range(n_offers):
        l, w = lengths[o], widths[o]
        fills = l == across
        score = (
            FILLS_WIDTH * fills
            + MEETS_TALL * (w == tall)
            + MEETS_LOW * (fills & (w == short) & (w != tall))
            + CLEAR * (fills | (across - l >= least))
        )
        fits = (l <= across) & (w <= height)
        best = max(best, fits * ((score + 1) * MOST_OFFERS - o) - 1)
    return -1 if best < 0 else MOST_OFFERS - 1 - best % MOST_OFFERS


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
