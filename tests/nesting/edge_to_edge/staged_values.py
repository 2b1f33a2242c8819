"""The most valuable sheet by methods of other kinds: tick by tick, and as an integer program."""

from collections.abc import Sequence
from functools import cache

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

Item = tuple[int, int, float]
"""Length, width, value."""


def unlimited_value(length: int, width: int, items: Sequence[Item], stages: int | None) -> float:
    """Return the best value when there is no limit on the number of any item.

    The recursion of Gilmore and Gomory (1966) over all whole numbers; an item may be cut out of any
    larger piece at last, as that takes off waste only.
    """

    @cache
    def best(a: int, b: int, direction: int, left: int) -> float:
        single = max((v for l, w, v in items if l <= a and w <= b), default=0.0)
        if left == 0:
            return single
        top = max(single, best(a, b, 1 - direction, left - 1))
        for place in range(1, (a, b)[direction] // 2 + 1):
            if direction == 0:
                parts = best(place, b, 0, left) + best(a - place, b, 0, left)
            else:
                parts = best(a, place, 1, left) + best(a, b - place, 1, left)
            top = max(top, parts)
        return top

    if stages is None:
        return _any_stages(length, width, items)
    return max(best(length, width, direction, stages) for direction in (0, 1))


def _any_stages(length: int, width: int, items: Sequence[Item]) -> float:
    @cache
    def best(a: int, b: int) -> float:
        top = max((v for l, w, v in items if l <= a and w <= b), default=0.0)
        for place in range(1, a // 2 + 1):
            top = max(top, best(place, b) + best(a - place, b))
        for place in range(1, b // 2 + 1):
            top = max(top, best(a, place) + best(a, b - place))
        return top

    return best(length, width)


def two_stage_value(length: int, width: int, pieces: Sequence[Item]) -> float:
    """Return the best value of single pieces in strips along the length.

    Model M1 of Lodi and Monaci (2003): piece k, with pieces by falling width, starts strip k or
    lies in the strip of a piece before it.
    """
    pieces = sorted(pieces, key=lambda piece: -piece[1])
    n = len(pieces)
    pairs = [(k, j) for k in range(n) for j in range(k, n)]
    column = {pair: index for index, pair in enumerate(pairs)}
    rows, uppers = [], []
    for j in range(n):
        row = np.zeros(len(pairs))
        for k in range(j + 1):
            row[column[k, j]] = 1
        rows.append(row)
        uppers.append(1.0)
    for k in range(n):
        row = np.zeros(len(pairs))
        for j in range(k + 1, n):
            row[column[k, j]] = pieces[j][0]
        row[column[k, k]] = -(length - pieces[k][0])
        rows.append(row)
        uppers.append(0.0)
    heights = np.zeros(len(pairs))
    for k in range(n):
        heights[column[k, k]] = pieces[k][1]
    rows.append(heights)
    uppers.append(float(width))
    answer = milp(
        [-pieces[j][2] for _, j in pairs],
        integrality=np.ones(len(pairs)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(np.array(rows), ub=np.array(uppers)),
        options={"mip_rel_gap": 0.0},
    )
    assert answer.success
    return float(round(-answer.fun))
