"""The most that a relaxed sheet can hold: pieces need a start along it, and no place across it.

At every spot along the sheet the widths of the pieces there must fit side by side. Each piece
starts at the sheet's edge or where another one ends, and not where it could start earlier.
Pieces are chosen from the left; a branch ends when what is left cannot lift it above the best.

A column is one turn of an item type: length, width, value of one tick of its length, item type.
Columns run by rising length. The value of a piece is its length times the value of one tick.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, lent

DEEPEST = 512
SIDE_BY_SIDE = 64
"""Pieces that may lie at one spot along the sheet; with more the search gives up."""
KEY = 22
"""Numbers that tell two states apart: spot, waste before it, four of pieces used, the profile."""
USED = 4
PROBES = 8
SHIFT = 24
LYING, SPOT, LEFT, VALUE, WASTE, FOLLOWING, STARTED = range(7)
"""Rows of what is known of each level: pieces lying there, spot, width left, value, waste before
it, the column to try next, and the one that was started last (-1: none)."""
BEST, SPENT, DEPTH = range(3)
"""Where a search stands."""
PROVEN, GAVE_UP, PAUSED = range(3)
"""How a call ended."""


def bar_table(sizes: Integers, values: Integers, limits: Integers, whole: int) -> IntegerRows:
    """Return the most value of bars: row m of the first m columns, entry r within a size of r."""
    table = np.zeros((sizes.size + 1, whole + 1), np.int64)
    write_bars(sizes, values, limits, whole, table)
    return table


@lent
def write_bars(
    sizes: Integers,
    values: Integers,
    limits: Integers,
    whole: Integer,
    table: IntegerRows,
):
    """Write the table of `bar_table`, whose first row is there."""
    for m in range(sizes.shape[0]):
        row = table[m + 1]
        for r in range(whole + 1):
            row[r] = table[m, r]
        size, value = sizes[m], values[m]
        # Powers of two of copies, which sum up to every number up to the limit.
        left, block = min(limits[m], whole // size), 1
        while left > 0:
            copies = min(block, left)
            for r in range(whole, copies * size - 1, -1):
                value_with = row[r - copies * size] + copies * value
                row[r] = max(row[r], value_with)
            left -= copies
            block *= 2


class Places(NamedTuple):
    """The relaxed sheet: its length (ticks), the columns, and the unit of lines (ticks)."""

    length: Integer
    columns: IntegerRows
    unit: Integer


class Knapsacks(NamedTuple):
    """What bars and lines hold: of the whole of every value, and of a part of it each.

    `bars` bounds the value of one tick along the sheet by the columns and the width left, `lines`
    the value of one unit of width by the length left in units; `bars_part` and `lines_part` do so
    together, each for a part of every value.
    """

    bars: IntegerRows
    lines: Integers
    bars_part: IntegerRows
    lines_part: Integers


class Counted(NamedTuple):
    """How many of each item type may be used, and where they are counted.

    Where `word` is 0 or more, that is in that word from bit `shift` on.
    """

    limits: Integers
    word: Integers
    shift: Integers


class SearchState(NamedTuple):
    """A search that can pause: its branch, the states met, and the best so far.

    `standing` has the most value met, the nodes used and the depth; it starts with the value above
    which to search. `found` takes how often each column is used in the best.
    """

    ends: IntegerRows
    wide: IntegerRows
    levels: IntegerRows
    used: Integers
    words: Integers
    key: Integers
    keys: IntegerRows
    values: Integers
    standing: Integers
    found: Integers


class Branch(NamedTuple):
    """The pieces that lie at the spot of each level, by rising end, and some rows of the levels."""

    ends: IntegerRows
    wide: IntegerRows
    lying: Integers
    spot: Integers
    left: Integers
    value: Integers


def search_state(
    width: int, columns: int, item_types: int, target: int, memory: int
) -> SearchState:
    """Return the start of a search above `target`; `memory` states (a power of two) are kept."""
    levels = np.zeros((STARTED + 1, DEEPEST), np.int64)
    levels[STARTED] = -1
    levels[LEFT, 0], levels[FOLLOWING, 0] = width, columns - 1
    return SearchState(
        ends=np.zeros((DEEPEST, SIDE_BY_SIDE), np.int64),
        wide=np.zeros((DEEPEST, SIDE_BY_SIDE), np.int64),
        levels=levels,
        used=np.zeros(item_types, np.int64),
        words=np.zeros(USED, np.int64),
        key=np.zeros(KEY, np.int64),
        keys=np.zeros((memory, KEY), np.int64),
        values=np.full(memory, -1, np.int64),
        standing=np.array([target, 0, 0], dtype=np.int64),
        found=np.zeros(columns, np.int64),
    )


@lent
def most_on_sheet(
    places: Places,
    knapsacks: Knapsacks,
    counted: Counted,
    nodes: Integer,
    pause: Integer,
    state: SearchState,
):
    """Search until the most is proven, or `nodes` or `pause` nodes are used up; return which.

    A paused search goes on with the next call, just as if it had not stopped. The state is made by
    `search_state` and changed in place.
    """
    length, columns = places.length, places.columns
    limits, word, shift = counted
    levels, used, words, found = state.levels, state.used, state.words, state.found
    lying, spot, left, value = levels[LYING], levels[SPOT], levels[LEFT], levels[VALUE]
    waste, following, started = levels[WASTE], levels[FOLLOWING], levels[STARTED]
    ends, wide, standing = state.ends, state.wide, state.standing
    branch = Branch(ends, wide, lying, spot, left, value)
    best, spent, d = standing[BEST], standing[SPENT], standing[DEPTH]
    ended = PROVEN
    while d >= 0:
        if spent >= pause:
            ended = PAUSED
            break
        j = following[d]
        if j == -2:
            if started[d] >= 0:
                k = columns[started[d], 3]
                used[k] -= 1
                if word[k] >= 0:
                    words[word[k]] -= np.int64(1) << shift[k]
            d -= 1
            continue
        spent += 1
        if spent > nodes or d + 1 >= DEEPEST:
            ended = GAVE_UP
            break
        e = d + 1
        if j >= 0:
            following[d] = j - 1
            k = columns[j, 3]
            size = columns[j, 1]
            end = spot[d] + columns[j, 0]
            if size > left[d] or size <= waste[d] or end > length or used[k] >= limits[k]:
                continue
            if lying[d] + 1 >= SIDE_BY_SIDE:
                ended = GAVE_UP
                break
            _start(ends, wide, lying[d], d, end, size)
            lying[e], spot[e], left[e] = lying[d] + 1, spot[d], left[d] - size
            value[e] = value[d] + columns[j, 0] * columns[j, 2]
            waste[e], following[e], started[e] = waste[d], j, j
            if value[e] > best:
                best = value[e]
                found[:] = 0
                for step in range(1, e + 1):
                    if started[step] >= 0:
                        found[started[step]] += 1
            if best >= _bound(branch, e, j + 1, places, knapsacks):
                continue
            used[k] += 1
            if word[k] >= 0:
                words[word[k]] += np.int64(1) << shift[k]
            d = e
            continue
        following[d] = -2
        if lying[d] == 0:
            continue
        _advance(ends, wide, lying, left, spot, d)
        fitting = _fitting(columns, length - spot[e])
        if fitting == 0:
            continue
        value[e], waste[e], started[e], following[e] = value[d], left[d], -1, fitting - 1
        if best >= _bound(branch, e, fitting, places, knapsacks):
            continue
        if _write_key(state.key, ends, wide, lying, spot, waste, e, columns, words) and _seen(
            state.keys, state.values, state.key, value[e]
        ):
            continue
        d = e
    standing[BEST], standing[SPENT], standing[DEPTH] = best, spent, d
    return ended


@lent
def _start(ends, wide, n, d, end, size):
    """Write to the next level what lies there with one more piece, by rising end."""
    at = 0
    while at < n and ends[d, at] <= end:
        ends[d + 1, at] = ends[d, at]
        wide[d + 1, at] = wide[d, at]
        at += 1
    ends[d + 1, at] = end
    wide[d + 1, at] = size
    for q in range(at, n):
        ends[d + 1, q + 1] = ends[d, q]
        wide[d + 1, q + 1] = wide[d, q]


@lent
def _advance(ends, wide, lying, left, spot, d):
    """Write to the next level what still lies where the first piece ends."""
    x = ends[d, 0]
    free = left[d]
    at = 0
    while at < lying[d] and ends[d, at] == x:
        free += wide[d, at]
        at += 1
    for q in range(at, lying[d]):
        ends[d + 1, q - at] = ends[d, q]
        wide[d + 1, q - at] = wide[d, q]
    lying[d + 1] = lying[d] - at
    left[d + 1] = free
    spot[d + 1] = x


@lent
def _fitting(columns, room):
    """Return how many columns are no longer than that."""
    low, high = 0, columns.shape[0]
    while low < high:
        middle = (low + high) // 2
        if columns[middle, 0] <= room:
            low = middle + 1
        else:
            high = middle
    return low


@lent
def _bound(branch, e, open_here, places, knapsacks):
    """Return what a level can come to: by bars across what is free, by lines along it, or by both.

    Of the columns only the first `open_here` may still start at this spot.
    """
    ends, wide, lying = branch.ends, branch.wide, branch.lying
    length, columns, unit = places
    bars, lines, bars_part, lines_part = knapsacks
    x, free, value = branch.spot[e], branch.left[e], branch.value[e]
    by_bars = value
    by_lines = value + free * lines[(length - x) // unit]
    by_both = value + free * lines_part[(length - x) // unit]
    later = open_here
    if lying[e] > 0:
        later = max(open_here, _fitting(columns, length - ends[e, 0]))
    m = min(open_here, _fitting(columns, length - x))
    for q in range(lying[e]):
        end = ends[e, q]
        if end > x:
            by_bars += bars[m, free] * (end - x)
            by_both += bars_part[m, free] * (end - x)
            x = end
            m = later
        free += wide[e, q]
        by_lines += wide[e, q] * lines[(length - end) // unit]
        by_both += wide[e, q] * lines_part[(length - end) // unit]
    by_bars += bars[m, free] * (length - x)
    by_both += bars_part[m, free] * (length - x)
    return min(by_bars, by_lines, by_both)


@lent
def _write_key(key, ends, wide, lying, spot, waste, e, columns, words):
    """Write what decides the future of a level; return whether there was place for all of it."""
    key[:] = 0
    key[0] = spot[e]
    for j in range(columns.shape[0]):
        if columns[j, 1] <= waste[e]:
            key[1] = max(key[1], columns[j, 1])
    for q in range(USED):
        key[2 + q] = words[q]
    at = 1 + USED
    for q in range(lying[e]):
        if q > 0 and ends[e, q] == ends[e, q - 1]:
            key[at] += wide[e, q]
        else:
            at += 1
            if at >= KEY:
                return False
            key[at] = (ends[e, q] << SHIFT) + wide[e, q]
    return True


@lent
def _seen(keys, values, key, value):
    """Return whether the same state was met with no less value; remember it otherwise."""
    mixed = np.uint64(1469598103934665603)
    for q in range(KEY):
        mixed = (mixed ^ np.uint64(key[q])) * np.uint64(1099511628211)
        mixed ^= mixed >> np.uint64(29)
    size = keys.shape[0]
    home = np.int64(mixed & np.uint64(size - 1))
    for probe in range(PROBES):
        at = (home + probe) & (size - 1)
        if values[at] < 0:
            for q in range(KEY):
                keys[at, q] = key[q]
            values[at] = value
            return False
        same = True
        for q in range(KEY):
            if keys[at, q] != key[q]:
                same = False
                break
        if same:
            if values[at] >= value:
                return True
            values[at] = value
            return False
    return False
