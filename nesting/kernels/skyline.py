"""Filling one sheet from the bottom up: in the lowest gap of the skyline, the piece that fits best.

After Burke, Kendall and Whitwell (2004) and Wei, Oon, Zhu and Lim (2011). A piece that fills the
gap's width, or is level with one of its walls, leaves no new corner; among equals the order of
offers decides.
"""

import numpy as np

from nesting.kernels.compiled import lent

NOWHERE = 1 << 62
FILLS_WIDTH, MEETS_TALL, MEETS_LOW, WASTES = 8, 4, 2, -1


@lent
def fill_upwards(length, width, kinds, flip, order, n_order, most_left, line, out, taken):
    """Fill an empty sheet without defects; pieces with a rim rule are passed over.

    The arrays are those of `fill_free`; `line` takes the skyline as rows of x, y, length. With
    `flip` 1 the sheet is filled from left to right: all below with x and y exchanged. The sheet is
    given up when so much of it stays empty that more area than `most_left` must be left.
    """
    if flip:
        length, width = width, length
    most_empty = most_left + float(length) * width
    for i in range(n_order):
        taken[i] = 0
        most_empty -= float(kinds[order[i], 0]) * kinds[order[i], 1]
    empty = 0.0
    least = narrowest(kinds, flip, order, n_order, taken)
    line[0, 0], line[0, 1], line[0, 2] = 0, 0, length
    n_line = np.int64(1)
    placed = 0
    while True:
        low = lowest(line, n_line)
        x, y, across = line[low, 0], line[low, 1], line[low, 2]
        left = line[low - 1, 1] - y if low > 0 else width - y
        right = line[low + 1, 1] - y if low + 1 < n_line else width - y
        i, turned = best_piece(
            kinds, flip, order, n_order, taken, across, width - y, left, right, least
        )
        if i < 0:
            rise = min(left, right)
            empty += float(across) * rise
            if y + rise >= width or empty > most_empty:
                return placed
            line[low, 1] = y + rise
            n_line = merged(line, n_line, low)
            continue
        kind = order[i]
        side = turned ^ flip
        l, w = kinds[kind, side], kinds[kind, 1 - side]
        if left < right:
            x += across - l
        taken[i] = 1
        out[placed, 0], out[placed, 3] = kind, turned
        out[placed, 1 + flip], out[placed, 2 - flip] = x, y
        placed += 1
        if least == kinds[kind, flip] or (kinds[kind, 2] and least == kinds[kind, 1 - flip]):
            least = narrowest(kinds, flip, order, n_order, taken)
        n_line = laid(line, n_line, low, x, y + w, l)


@lent
def lowest(line, n_line):
    """Return the lowest stretch of the skyline, the leftmost of several."""
    low = 0
    for s in range(1, n_line):
        if line[s, 1] < line[low, 1]:
            low = s
    return low


@lent
def narrowest(kinds, flip, order, n_order, taken):
    """Return the least width of gap that any offer left can take."""
    least = NOWHERE
    for i in range(n_order):
        if not taken[i]:
            kind = order[i]
            least = min(least, kinds[kind, flip])
            if kinds[kind, 2]:
                least = min(least, kinds[kind, 1 - flip])
    return least


@lent
def best_piece(kinds, flip, order, n_order, taken, across, height, left, right, least):
    """Return the offer that fits the gap best (-1: none fits), and whether to turn it.

    What stays open beside it and is narrower than `least` is waste.
    """
    best, best_turn, best_score = -1, 0, -NOWHERE
    if across < least:
        return best, best_turn
    tall, short = max(left, right), min(left, right)
    last = -1
    for i in range(n_order):
        kind = order[i]
        if taken[i] or kind == last or kinds[kind, 3] > 0:
            continue
        last = kind
        for turned in range(1 + kinds[kind, 2]):
            side = turned ^ flip
            l, w = kinds[kind, side], kinds[kind, 1 - side]
            if l > across or w > height:
                continue
            score = 0
            if l == across:
                score += FILLS_WIDTH
            elif across - l < least:
                score += WASTES
            if w == tall:
                score += MEETS_TALL
            elif w == short and l == across:
                score += MEETS_LOW
            if score > best_score:
                best, best_turn, best_score = i, turned, score
                if score == FILLS_WIDTH + MEETS_TALL:
                    return best, best_turn
    return best, best_turn


@lent
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
