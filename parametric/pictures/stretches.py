"""What convex pieces leave of edges, for the viewer to see: compiled.

The bounds are those that `sight` explains: along the edge at `t` the ray must keep to
`rise * r + slope * t <= room` of each side of a piece.
"""

from typing import NamedTuple

import numba
import numpy as np
from numpy.typing import NDArray

EDGE_ON = 1e-9  # a side that is seen edge on bounds the point, not how far the ray goes
FLAT = 1e-12  # a slope that is none

_OPTIONS = {"nogil": True, "no_cfunc_wrapper": True, "error_model": "numpy"}


class Pieces(NamedTuple):
    """Convex pieces, one after another. Those of piece `p` are the sides from `side[p]` on, each
    with its way `out` and its `distance` along it; and from `pair[p]` on the pairs of sides
    `meeting` in an edge. Both end where those of the next piece begin.
    """

    out: NDArray[np.float64]
    distance: NDArray[np.float64]
    side: NDArray[np.int64]
    meeting: NDArray[np.int64]
    pair: NDArray[np.int64]


def _compiled(function):
    """Compile a function when it is first called; kept on disk where anything can be."""
    try:
        return numba.njit(cache=True, **_OPTIONS)(function)
    except RuntimeError:  # what numba raises when it finds no folder
        return numba.njit(**_OPTIONS)(function)


_part = numba.njit(inline="always", **_OPTIONS)


@_compiled
def write_seen(starts, runs, pieces, rises, left, seen):
    """Write into rows of `seen` an edge and the stretch of it, from share to share, that no piece
    hides; return how many there are, those too that found no row. Edges run from rows of `starts`
    by rows of `runs`; `rises` are the sides' along the ray; `left` is room for what is left of one
    edge, a row more than there are pieces.
    """
    found = 0
    for edge in range(len(starts)):
        left[0, 0], left[0, 1] = 0.0, 1.0
        count = 1
        for piece in range(len(pieces.side) - 1):
            low, high = _hidden(starts[edge], runs[edge], pieces, piece, rises)
            if low <= high:
                count = _without(left, count, low, high)
                if count == 0:
                    break
        for at in range(count):
            if found < len(seen):
                seen[found, 0], seen[found, 1], seen[found, 2] = edge, left[at, 0], left[at, 1]
            found += 1
    return found


@_part
def _hidden(start, run, pieces, piece, rises):
    """Return from where to where a piece hides an edge; what ends before it begins is nothing."""
    low, high = 0.0, 1.0
    for side in range(pieces.side[piece], pieces.side[piece + 1]):
        rise = rises[side]
        if rise > -EDGE_ON:
            slope, room = _bound(start, run, pieces, side)
            if rise >= EDGE_ON:  # the piece is before the point, not behind it
                slope, room = slope / rise, room / rise
            low, high = _narrowed(low, high, slope, room)
            if low > high:
                return low, high
    for at in range(pieces.pair[piece], pieces.pair[piece + 1]):
        below, above = pieces.meeting[at, 0], pieces.meeting[at, 1]
        if rises[below] > rises[above]:
            below, above = above, below
        if rises[below] <= -EDGE_ON and rises[above] >= EDGE_ON:
            slope, room = _bound(start, run, pieces, above)
            slope_below, room_below = _bound(start, run, pieces, below)
            slope = slope / rises[above] - slope_below / rises[below]
            room = room / rises[above] - room_below / rises[below]
            low, high = _narrowed(low, high, slope, room)
            if low > high:
                return low, high
    return low, high


@_part
def _bound(start, run, pieces, side):
    """Return the slope and the room that a side leaves the ray."""
    x, y, z = pieces.out[side, 0], pieces.out[side, 1], pieces.out[side, 2]
    depth = start[0] * x + start[1] * y + start[2] * z
    return run[0] * x + run[1] * y + run[2] * z, pieces.distance[side] - depth


@_part
def _narrowed(low, high, slope, room):
    """Return what of an interval has slope * t <= room."""
    if slope >= FLAT:
        return low, min(high, room / slope)
    if slope <= -FLAT:
        return max(low, room / slope), high
    return (np.inf if room < 0.0 else low), high


@_part
def _without(left, count, low, high):
    """Take the interval out of the first so many rows of `left`; return how many are left."""
    kept, split, split_end = 0, 0.0, -1.0
    for at in range(count):
        begin, end = left[at, 0], left[at, 1]
        if begin < low and high < end:
            split, split_end = high, end
        if begin < low:
            left[kept, 0], left[kept, 1] = begin, min(low, end)
            kept += 1
        elif high < end:
            left[kept, 0], left[kept, 1] = max(begin, high), end
            kept += 1
    if split_end > 0.0:
        left[kept, 0], left[kept, 1] = split, split_end
        kept += 1
    return kept
