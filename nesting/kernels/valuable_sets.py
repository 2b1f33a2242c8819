"""All sets of pieces worth more than a goal that a sheet may hold, one kind after the other.

A set grows by a piece of the same kind or of one that comes later, until it is worth more than the
goal. It goes no further where the sheet cannot hold it, or where no more of these kinds can lift it
above the goal; both are told by functions that are dual-feasible in both directions, and the first
by looking at the set itself too.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nesting.kernels.compiled import Integer, IntegerBlocks, IntegerRows, Integers, RealRows, lent
from nesting.kernels.piece_set import (
    DEEPEST,
    LEVEL_ROWS,
    MOST_PIECES,
    MOST_SUMS,
    NO,
    OPEN,
    YES,
    at_corners,
    filled,
    grown,
    side_by_side,
)

Whole = NDArray[np.int64]
Floats = NDArray[np.float64]

GLIMPSE, LOOK = 300, 3_000
"""Nodes for a set in each direction: for any, and at first for one above the goal."""
FUNCTIONS_A_NODE = 200
"""Functions that take as long as one node."""
NEAR = 1e-9
"""Share by which floats may be wrong."""
MOST_FOUND = 64
"""Sets handed back at once."""
VALUE, NEXT, KIND = range(3)
"""Rows of what is known of each level: worth, the kind to try next, and the one added last."""
DEPTH, SPENT, FOUND = range(3)
"""Where an enumeration stands."""
COMPLETE, FULL, GAVE_UP, PAUSED = range(4)
"""How a call ended."""


@dataclass(frozen=True, slots=True)
class SetSearch:
    """An enumeration that can pause, and its scratch."""

    used: Floats
    stack: Whole
    counts: Whole
    standing: Whole
    found: Whole
    alone_sides: Whole
    alone_turns: Whole
    ends: Whole
    wide: Whole
    levels: Whole
    left: Whole
    sums: Whole


def set_search(kinds: int, functions: int) -> SetSearch:
    """Return the start of an enumeration of sets of so many kinds."""
    return SetSearch(
        used=np.zeros((MOST_PIECES + 1, functions)),
        stack=np.zeros((3, MOST_PIECES + 1), np.int64),
        counts=np.zeros(kinds, np.int64),
        standing=np.zeros(3, np.int64),
        found=np.zeros((MOST_FOUND, kinds), np.int64),
        alone_sides=np.zeros((MOST_PIECES, 2, 2), np.int64),
        alone_turns=np.zeros(MOST_PIECES, np.int64),
        ends=np.zeros((DEEPEST, DEEPEST), np.int64),
        wide=np.zeros((DEEPEST, DEEPEST), np.int64),
        levels=np.zeros((LEVEL_ROWS, DEEPEST), np.int64),
        left=np.zeros(max(kinds, MOST_PIECES), np.int64),
        sums=np.zeros((2, MOST_SUMS), np.int64),
    )


@lent
def sets_above(
    length: Integer,
    width: Integer,
    sides: IntegerBlocks,
    turns: Integers,
    demand: Integers,
    worths: Integers,
    functions: RealRows,
    ratios: RealRows,
    tight: Integer,
    goal: Integer,
    look: Integer,
    nodes: Integer,
    pause: Integer,
    used: RealRows,
    stack: IntegerRows,
    counts: Integers,
    standing: Integers,
    found: IntegerRows,
    alone_sides: IntegerBlocks,
    alone_turns: Integers,
    ends: IntegerRows,
    wide: IntegerRows,
    levels: IntegerRows,
    left: Integers,
    sums: IntegerRows,
):
    """Enumerate until all sets are met, `found` is full, or `nodes` or `pause` nodes are used up.

    A paused enumeration goes on with the next call. `functions` has a row for each and a column for
    each kind: a sheet holds no more than 1 of any; the first `tight` are those for which `ratios`
    has the most worth for one of it, of that kind and all later ones. A set above the goal gets up
    to `look` nodes in each direction and at corners. The arrays from `used` on are made by
    `set_search`. A set in `found` may fit the sheet; every set above the goal that does fit is or
    contains one of those, unless the enumeration ended early.
    """
    value, following, last = stack[VALUE], stack[NEXT], stack[KIND]
    kinds = worths.shape[0]
    d, spent, met = standing[DEPTH], standing[SPENT], standing[FOUND]
    ended = COMPLETE
    while d >= 0:
        if spent >= pause:
            ended = PAUSED
            break
        k = following[d]
        if k >= kinds or not _may_exceed(used, d, k, value[d], ratios, tight, goal):
            d -= 1
            if d >= 0:
                counts[last[d]] -= 1
            continue
        if met >= found.shape[0]:
            ended = FULL
            break
        if spent > nodes or d >= MOST_PIECES:
            ended = GAVE_UP
            break
        following[d] = k + 1
        if counts[k] >= demand[k]:
            continue
        spent += 1 + functions.shape[0] // FUNCTIONS_A_NODE
        if not _held(used, d, k, functions):
            continue
        counts[k] += 1
        pieces = d + 1
        above = value[d] + worths[k] > goal
        long = filled(sides, turns, counts, kinds, 0, length, sums[0], sums[1])
        wider = filled(sides, turns, counts, kinds, 1, width, sums[0], sums[1])
        known, more = _looked_at(
            sides, turns, counts, kinds, long, wider, GLIMPSE, ends, wide, levels, left
        )
        spent += more
        if known != NO and above:
            known, more = _looked_at(
                sides, turns, counts, kinds, long, wider, LOOK, ends, wide, levels, left
            )
            spent += more
            if known != NO:
                _alone(sides, turns, counts, kinds, alone_sides, alone_turns)
                area = grown(alone_sides, alone_turns, pieces, length, width, sums[0], sums[1])
                if area > length * width:
                    known = NO
                spent += LOOK
            if known != NO:
                known, more = _looked_at(
                    sides, turns, counts, kinds, long, wider, look, ends, wide, levels, left
                )
                spent += more
            if known != NO:
                known, more = at_corners(
                    sides, turns, counts, kinds, long, wider, look, ends, wide, levels, left
                )
                spent += more
            if known != NO:
                for own in range(kinds):
                    found[met, own] = counts[own]
                met += 1
        if known == NO or above:
            counts[k] -= 1
            continue
        value[pieces], following[pieces] = value[d] + worths[k], k
        last[d] = k
        d = pieces
    standing[DEPTH], standing[SPENT], standing[FOUND] = d, spent, met
    return ended


@lent
def _may_exceed(used, d, k, value, ratios, tight, goal):
    """Return whether pieces of that kind and later ones could lift the set above the goal."""
    for row in range(tight):
        ratio = ratios[row, k]
        if ratio < np.inf and value + max(0.0, 1.0 - used[d, row]) * ratio <= goal * (1.0 - NEAR):
            return False
    return True


@lent
def _held(used, d, k, functions):
    """Return whether no function forbids one more of that kind; write what is then used of each."""
    for row in range(functions.shape[0]):
        used[d + 1, row] = used[d, row] + functions[row, k]
        if used[d + 1, row] > 1.0 + NEAR:
            return False
    return True


@lent
def _looked_at(sides, turns, counts, n, length, width, nodes, ends, wide, levels, left):
    """Look at a set in both directions: NO where one forbids it."""
    known, spent = side_by_side(
        sides, turns, counts, n, 0, length, width, nodes, ends, wide, levels, left
    )
    if known == NO:
        return NO, spent
    across, more = side_by_side(
        sides, turns, counts, n, 1, width, length, nodes, ends, wide, levels, left
    )
    if across == NO:
        return NO, spent + more
    return (YES if known == YES and across == YES else OPEN), spent + more


@lent
def _alone(sides, turns, counts, kinds, alone_sides, alone_turns):
    """Write every piece of a set as a group of its own."""
    at = 0
    for k in range(kinds):
        for _ in range(counts[k]):
            for t in range(2):
                alone_sides[at, t, 0], alone_sides[at, t, 1] = sides[k, t, 0], sides[k, t, 1]
            alone_turns[at] = turns[k]
            at += 1
