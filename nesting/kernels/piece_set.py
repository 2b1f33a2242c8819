"""Whether one sheet can hold all pieces of a set.

A set has groups of equal pieces: their sides in both turns (the second is the first again where
there is none), how many turns they have and how many pieces there are. Sides are indexed by group,
turn and axis (0 along the sheet, 1 across it).
"""

from typing import NamedTuple

from nesting.kernels.compiled import IntegerBlocks, IntegerRows, Integers, lent

MOST_PIECES = 48
"""Pieces of a set at most."""
MOST_SUMS = 1_000
"""Different sums of sides that are kept; with more the pieces stay as they are."""
DEEPEST = 2 * MOST_PIECES + 2
NO, YES, OPEN = range(3)
"""What is known: open when the nodes allowed did not suffice."""
FOLLOWING, FREE, SPOT, LYING, SKIPPED, STARTED, LOST = range(7)
"""Rows of what is known of each level: the column to try next, the width left at a spot, that spot,
pieces lying there, the width left at the spot before, the group started last, area lost so far."""
ADVANCED, NOTHING = -1, -2
"""In place of a group: the level after was reached by an advance, or there is none."""
CORNERS, REST = 1, 2
"""Rows of the levels of `at_corners`, after the first: corners, and the area still to be placed."""
LEVEL_ROWS = 7


class PieceSet(NamedTuple):
    """Groups of equal pieces: sides (ticks), turns, and how many there are; sides may grow."""

    sides: IntegerBlocks
    turns: Integers
    counts: Integers


class Placing(NamedTuple):
    """Scratch of a search for places: pieces lying or corners of each level, its rows, and groups.

    `ends` and `wide` are x and y of the corners in `at_corners`; `left` is how many pieces of each
    group have no place yet.
    """

    ends: IntegerRows
    wide: IntegerRows
    levels: IntegerRows
    left: Integers


@lent
def grown(pieces, n, length, width, sums):
    """Let pieces grow, each of the first `n` groups one piece, and return their area then.

    What no other pieces can fill beside one, in a line or a bar, may be added to it: the sheet
    holds the set before exactly if it holds it after (Boschetti and Mingozzi 2003).
    """
    sides, turns = pieces.sides, pieces.turns
    for axis in range(2):
        whole = length if axis == 0 else width
        for p in range(n):
            least = min(sides[p, 0, axis], sides[p, turns[p] - 1, axis])
            count = _sums_without(p, pieces, n, axis, whole - least, sums)
            if count == 0:
                continue
            for t in range(2):
                if sides[p, t, axis] <= whole:
                    others = _largest_up_to(sums[0], count, whole - sides[p, t, axis])
                    sides[p, t, axis] = whole - others
    area = 0
    for p in range(n):
        area += least_area(pieces, p)
    return area


@lent
def filled(pieces, axis, most, sums):
    """Return how much of a side at most pieces of the set fill, one behind the other."""
    count = 1
    sums[0, 0] = 0
    for g in range(pieces.counts.shape[0]):
        for _ in range(pieces.counts[g]):
            count = _with_piece(g, pieces, axis, most, sums, count)
            if count == 0:
                return most
    return sums[0, count - 1]


@lent
def _sums_without(without, pieces, n, axis, most, sums):
    """Write the different sums of sides of the others, rising; return how many, 0 for too many."""
    sums[0, 0] = 0
    count = 1
    for p in range(n):
        if p == without:
            continue
        count = _with_piece(p, pieces, axis, most, sums, count)
        if count == 0:
            return 0
    return count


@lent
def _with_piece(p, pieces, axis, most, sums_and_scratch, count):
    """Add a piece in any turn to the sums, if it helps; return how many there are, 0 as above."""
    sides, turns = pieces.sides, pieces.turns
    sums, merged = sums_and_scratch[0], sums_and_scratch[1]
    short = min(sides[p, 0, axis], sides[p, turns[p] - 1, axis])
    long = max(sides[p, 0, axis], sides[p, turns[p] - 1, axis])
    i = j = k = m = 0
    while True:
        by_none = sums[i] if i < count else most + 1
        by_short = sums[j] + short if j < count else most + 1
        by_long = sums[k] + long if k < count else most + 1
        least = min(by_none, by_short, by_long)
        if least > most:
            break
        if m >= MOST_SUMS:
            return 0
        merged[m] = least
        m += 1
        if by_none == least:
            i += 1
        if by_short == least:
            j += 1
        if by_long == least:
            k += 1
    for q in range(m):
        sums[q] = merged[q]
    return m


@lent
def _largest_up_to(sums, count, most):
    low, high = 0, count - 1
    while low < high:
        middle = (low + high + 1) // 2
        if sums[middle] <= most:
            low = middle
        else:
            high = middle - 1
    return sums[low]


@lent
def least_area(pieces, g):
    """Return the area of one piece of a group, in the turn in which it has less."""
    sides, turns = pieces.sides, pieces.turns
    area = sides[g, 0, 0] * sides[g, 0, 1]
    if turns[g] == 2:
        area = min(area, sides[g, 1, 0] * sides[g, 1, 1])
    return area


@lent
def side_by_side(pieces, along, length, width, nodes, work):
    """Return whether the pieces fit where they need a start along that axis, and no place across.

    It says OPEN after `nodes` nodes, and how many it took. NO is true of the sheet as well, as
    everything that fits it fits here: at every spot the widths of the pieces there must fit side by
    side. Pieces start at the edge or where others end, and not where they could start earlier.
    """
    sides, turns, counts = pieces
    ends, wide, levels, left = work
    n = counts.shape[0]
    following, free, spot, lying = levels[FOLLOWING], levels[FREE], levels[SPOT], levels[LYING]
    skipped, started, lost = levels[SKIPPED], levels[STARTED], levels[LOST]
    missing, area = 0, 0
    for g in range(n):
        left[g] = counts[g]
        missing += counts[g]
        area += counts[g] * least_area(pieces, g)
    spare = length * width - area
    if spare < 0:
        return NO, 0
    following[0], free[0], spot[0], lying[0] = 0, width, 0, 0
    skipped[0], started[0], lost[0] = 0, NOTHING, 0
    spent, d = 0, 0
    while d >= 0:
        if missing == 0:
            return YES, spent
        c = following[d]
        if c > 2 * n:
            d -= 1
            if d >= 0 and started[d] >= 0:
                left[started[d]] += 1
                missing += 1
            continue
        following[d] = c + 1
        e = d + 1
        if c < 2 * n:
            g, t = c // 2, c % 2
            if left[g] == 0 or t >= turns[g]:
                continue
            size = sides[g, t, 1 - along]
            end = spot[d] + sides[g, t, along]
            if size > free[d] or size <= skipped[d] or end > length:
                continue
            spent += 1
            more = sides[g, t, along] * size - least_area(pieces, g)
            if lost[d] + more > spare:
                continue
            at = 0
            while at < lying[d] and ends[d, at] <= end:
                ends[e, at], wide[e, at] = ends[d, at], wide[d, at]
                at += 1
            ends[e, at], wide[e, at] = end, size
            for q in range(at, lying[d]):
                ends[e, q + 1], wide[e, q + 1] = ends[d, q], wide[d, q]
            lying[e], spot[e], free[e] = lying[d] + 1, spot[d], free[d] - size
            following[e], skipped[e], lost[e] = c, skipped[d], lost[d] + more
            started[d] = g
            left[g] -= 1
            missing -= 1
        else:
            started[d] = ADVANCED
            if lying[d] == 0:
                continue
            spent += 1
            x, now_free, at = ends[d, 0], free[d], 0
            if lost[d] + free[d] * (x - spot[d]) > spare:
                continue
            while at < lying[d] and ends[d, at] == x:
                now_free += wide[d, at]
                at += 1
            for q in range(at, lying[d]):
                ends[e, q - at], wide[e, q - at] = ends[d, q], wide[d, q]
            lying[e], spot[e], free[e] = lying[d] - at, x, now_free
            following[e], skipped[e] = 0, free[d]
            lost[e] = lost[d] + free[d] * (x - spot[d])
        started[e] = NOTHING
        if spent > nodes:
            return OPEN, spent
        d = e
    return NO, spent


@lent
def at_corners(pieces, length, width, nodes, work):
    """Return whether the sheet holds the pieces, OPEN after `nodes` nodes, and how many it took.

    Pieces are placed one after the other at the corners of the staircase over all that lies below
    and to the left of those before: some order of the pieces meets every packing there is, pushed
    to the left and down (Martello, Pisinger and Vigo 2000).
    """
    sides, turns, counts = pieces
    xs, ys, levels, left = work
    n = counts.shape[0]
    following, started = levels[FOLLOWING], levels[STARTED]
    corners, rest = levels[CORNERS], levels[REST]
    missing, area = 0, 0
    for g in range(n):
        left[g] = counts[g]
        missing += counts[g]
        area += counts[g] * least_area(pieces, g)
    if area > length * width:
        return NO, 0
    xs[0, 0] = ys[0, 0] = 0
    following[0], corners[0], rest[0] = 0, 1, area
    spent, d = 0, 0
    while d >= 0:
        if missing == 0:
            return YES, spent
        c = following[d]
        if c >= corners[d] * n * 2:
            d -= 1
            if d >= 0:
                left[started[d]] += 1
                missing += 1
            continue
        following[d] = c + 1
        corner, g, t = c // (2 * n), (c // 2) % n, c % 2
        if left[g] == 0 or t >= turns[g]:
            continue
        right = xs[d, corner] + sides[g, t, 0]
        top = ys[d, corner] + sides[g, t, 1]
        if right > length or top > width:
            continue
        spent += 1
        if spent > nodes:
            return OPEN, spent
        left[g] -= 1
        missing -= 1
        e = d + 1
        rest[e] = rest[d] - least_area(pieces, g)
        narrowest, lowest = length + 1, width + 1
        for other in range(n):
            if left[other] > 0:
                for turn in range(turns[other]):
                    narrowest = min(narrowest, sides[other, turn, 0])
                    lowest = min(lowest, sides[other, turn, 1])
        corners[e] = _stepped(xs, ys, d, corners[d], right, top, length)
        open_area = _trimmed(xs, ys, corners, e, narrowest, lowest, length, width)
        if missing > 0 and open_area < rest[e]:
            left[g] += 1
            missing += 1
            continue
        started[d] = g
        following[e] = 0
        d = e
    return NO, spent


@lent
def _stepped(xs, ys, d, count, right, top, length):
    """Write the next staircase, with a piece below and to the left of (right, top)."""
    e, at, m = d + 1, 0, 0
    while at < count and ys[d, at] >= top:
        xs[e, m], ys[e, m] = xs[d, at], ys[d, at]
        m += 1
        at += 1
    xs[e, m], ys[e, m] = xs[d, at], top
    m += 1
    height = top
    while at < count and xs[d, at] <= right:
        height = ys[d, at]
        at += 1
    if right < length:
        xs[e, m], ys[e, m] = right, height
        m += 1
    for q in range(at, count):
        xs[e, m], ys[e, m] = xs[d, q], ys[d, q]
        m += 1
    return m


@lent
def _trimmed(xs, ys, corners, e, narrowest, lowest, length, width):
    """Take out corners where no piece left fits; return the area above the staircase."""
    first, end = 0, corners[e]
    while first < end and width - ys[e, first] < lowest:
        first += 1
    while end > first and length - xs[e, end - 1] < narrowest:
        end -= 1
    for q in range(first, end):
        xs[e, q - first], ys[e, q - first] = xs[e, q], ys[e, q]
    corners[e] = end - first
    area = 0
    for q in range(end - first):
        following = xs[e, q + 1] if q + 1 < end - first else length
        area += (following - xs[e, q]) * (width - ys[e, q])
    return area
