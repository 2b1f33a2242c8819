"""All sets of pieces worth more than a goal that a sheet may hold, one item type after the other.

A set grows by a piece of the same item type or of one that comes later, until it is worth more than
the goal. It goes no further where the sheet cannot hold it, or where no more of these item types
can lift it above the goal; both are told by functions that are dual-feasible in both directions,
and the first by looking at the set itself too.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerBlocks, IntegerRows, Integers, RealRows, lent
from nesting.kernels.piece_set import (
    DEEPEST,
    LEVEL_ROWS,
    MOST_PIECES,
    MOST_SUMS,
    NO,
    OPEN,
    YES,
    PieceSet,
    Placing,
    at_corners,
    filled,
    grown,
    side_by_side,
)

GLIMPSE, LOOK = 300, 3_000
"""Nodes for a set in each direction: for any, and at first for one above the goal."""
FUNCTIONS_A_NODE = 200
"""Functions that take as long as one node."""
NEAR = 1e-9
"""Share by which floats may be wrong."""
MOST_FOUND = 64
"""Sets handed back at once."""
VALUE, NEXT, KIND = range(3)
"""Rows of what is known of each level: value, the item type to try next, and the one added last."""
DEPTH, SPENT, FOUND = range(3)
"""Where an enumeration stands."""
COMPLETE, FULL, GAVE_UP, PAUSED = range(4)
"""How a call ended."""


class Offered(NamedTuple):
    """The sheet's sides (ticks), and the item types: sides, turns, demand and value of each.

    Sides are indexed by item type, turn and axis, as those of a set of pieces.
    """

    length: Integer
    width: Integer
    sides: IntegerBlocks
    turns: Integers
    demand: Integers
    values: Integers


class FunctionRows(NamedTuple):
    """Functions as rows with a column for each item type: a sheet holds no more than 1 of any.

    The first `tight` are those for which `ratios` has the most value for one of it, of that item
    type and all later ones.
    """

    values: RealRows
    ratios: RealRows
    tight: Integer


class SetSearch(NamedTuple):
    """An enumeration that can pause, and its scratch.

    A row of `found` is how often a set has each item type.
    """

    used: RealRows
    stack: IntegerRows
    counts: Integers
    standing: Integers
    found: IntegerRows
    alone: PieceSet
    placing: Placing
    sums: IntegerRows


def set_search(item_types: int, functions: int) -> SetSearch:
    """Return the start of an enumeration of sets of so many item types."""
    return SetSearch(
        used=np.zeros((MOST_PIECES + 1, functions)),
        stack=np.zeros((3, MOST_PIECES + 1), np.int64),
        counts=np.zeros(item_types, np.int64),
        standing=np.zeros(3, np.int64),
        found=np.zeros((MOST_FOUND, item_types), np.int64),
        alone=PieceSet(
            sides=np.zeros((MOST_PIECES, 2, 2), np.int64),
            turns=np.zeros(MOST_PIECES, np.int64),
            counts=np.ones(MOST_PIECES, np.int64),
        ),
        placing=Placing(
            ends=np.zeros((DEEPEST, DEEPEST), np.int64),
            wide=np.zeros((DEEPEST, DEEPEST), np.int64),
            levels=np.zeros((LEVEL_ROWS, DEEPEST), np.int64),
            left=np.zeros(max(item_types, MOST_PIECES), np.int64),
        ),
        sums=np.zeros((2, MOST_SUMS), np.int64),
    )


@lent
def sets_above(
    offered: Offered,
    functions: FunctionRows,
    goal: Integer,
    look: Integer,
    nodes: Integer,
    pause: Integer,
    state: SetSearch,
):
    """Enumerate until all sets are met, `found` is full, or `nodes` or `pause` nodes are used up.

    A paused enumeration goes on with the next call. A set above the goal gets up to `look` nodes in
    each direction and at corners. The state is made by `set_search` and changed in place. A set in
    `found` may fit the sheet; every set above the goal that does fit is or contains one of those,
    unless the enumeration ended early.
    """
    length, width, sides, turns, demand, values = offered
    used, stack, counts, standing = state.used, state.stack, state.counts, state.standing
    pieces_now, placing, sums = PieceSet(sides, turns, counts), state.placing, state.sums
    value, following, last = stack[VALUE], stack[NEXT], stack[KIND]
    item_types = values.shape[0]
    d, spent, met = standing[DEPTH], standing[SPENT], standing[FOUND]
    ended = COMPLETE
    while d >= 0:
        if spent >= pause:
            ended = PAUSED
            break
        k = following[d]
        if k >= item_types or not _may_exceed(used, d, k, value[d], functions, goal):
            d -= 1
            if d >= 0:
                counts[last[d]] -= 1
            continue
        if met >= state.found.shape[0]:
            ended = FULL
            break
        if spent > nodes or d >= MOST_PIECES:
            ended = GAVE_UP
            break
        following[d] = k + 1
        if counts[k] >= demand[k]:
            continue
        spent += 1 + functions.values.shape[0] // FUNCTIONS_A_NODE
        if not _held(used, d, k, functions.values):
            continue
        counts[k] += 1
        pieces = d + 1
        above = value[d] + values[k] > goal
        long = filled(pieces_now, 0, length, sums)
        wider = filled(pieces_now, 1, width, sums)
        known, more = _looked_at(pieces_now, long, wider, GLIMPSE, placing)
        spent += more
        if known != NO and above:
            known, more = _looked_at(pieces_now, long, wider, LOOK, placing)
            spent += more
            if known != NO:
                _alone(pieces_now, state.alone)
                if grown(state.alone, pieces, length, width, sums) > length * width:
                    known = NO
                spent += LOOK
            if known != NO:
                known, more = _looked_at(pieces_now, long, wider, look, placing)
                spent += more
            if known != NO:
                known, more = at_corners(pieces_now, long, wider, look, placing)
                spent += more
            if known != NO:
                for own in range(item_types):
                    state.found[met, own] = counts[own]
                met += 1
        if known == NO or above:
            counts[k] -= 1
            continue
        value[pieces], following[pieces] = value[d] + values[k], k
        last[d] = k
        d = pieces
    standing[DEPTH], standing[SPENT], standing[FOUND] = d, spent, met
    return ended


@lent
def _may_exceed(used, d, k, value, functions, goal):
    """Return whether pieces of that item type and later ones could lift the set above the goal."""
    for row in range(functions.tight):
        ratio = functions.ratios[row, k]
        if ratio < np.inf and value + max(0.0, 1.0 - used[d, row]) * ratio <= goal * (1.0 - NEAR):
            return False
    return True


@lent
def _held(used, d, k, functions):
    """Return whether no function forbids one more of that item type; write what each then has."""
    for row in range(functions.shape[0]):
        used[d + 1, row] = used[d, row] + functions[row, k]
        if used[d + 1, row] > 1.0 + NEAR:
            return False
    return True


@lent
def _looked_at(pieces, length, width, nodes, work):
    """Look at a set in both directions: NO where one forbids it."""
    known, spent = side_by_side(pieces, 0, length, width, nodes, work)
    if known == NO:
        return NO, spent
    across, more = side_by_side(pieces, 1, width, length, nodes, work)
    if across == NO:
        return NO, spent + more
    return (YES if known == YES and across == YES else OPEN), spent + more


@lent
def _alone(pieces, alone):
    """Write every piece of a set as a group of its own."""
    at = 0
    for k in range(pieces.counts.shape[0]):
        for _ in range(pieces.counts[k]):
            for t in range(2):
                alone.sides[at, t, 0] = pieces.sides[k, t, 0]
                alone.sides[at, t, 1] = pieces.sides[k, t, 1]
            alone.turns[at] = pieces.turns[k]
            at += 1
