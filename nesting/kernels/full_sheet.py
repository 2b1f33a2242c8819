"""One sheet filled from a list of pieces with as much as possible, by one short climb.

The list starts in falling order of value, a little shaken. A step moves a piece from anywhere to
the front, sends one that lies on the sheet towards the end, or moves one within the front; it is
kept when the sheet is worth no less.
"""

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, RandomState, Reals, lent
from nesting.kernels.fill_sheet import FREE, fill, rules_of
from nesting.kernels.max_rects import CONTACT
from nesting.kernels.random_numbers import below, uniform
from nesting.kernels.sequence import move
from nesting.kernels.sheet import Filled, Sheet
from nesting.kernels.sheets import copy_rows
from nesting.kernels.sorting import sort_falling

MOST_NOISE = 0.3
"""Most of a piece's value by which its place in the first order is shaken."""
FROM_ANYWHERE, TOWARDS_THE_END = 0.2, 0.4
"""How often each kind of step is taken; else a piece moves within the front."""
FRONT = 2
"""Length of the front of the list, in times the pieces that the best sheet holds."""


@lent
def full_sheet(
    sheet: Sheet,
    item_types: IntegerRows,
    stages: Integer,
    values: Reals,
    steps: Integer,
    rng: RandomState,
    pieces: Integers,
    keys: Reals,
    filled: Filled,
    best: IntegerRows,
):
    """Climb `steps` steps; return how many pieces the best sheet holds, and its value.

    `values` has one entry an item type, `pieces` the item types to choose from, one a piece. `best`
    takes the placements as rows of item type, x, y, turned; `keys` and `filled` are scratch. Each
    step offers all pieces.
    """
    n = pieces.shape[0]
    noise = MOST_NOISE * uniform(rng)
    for i in range(n):
        keys[i] = values[pieces[i]] * (1.0 + noise * (uniform(rng) - 0.5))
    sort_falling(keys, pieces, n, filled.scratch.reshape(-1))
    rule = CONTACT if stages == FREE else below(rng, rules_of(stages))
    best_value = -1.0
    n_best = 0
    for step in range(steps):
        start, end = 0, 0
        if step > 0:
            start, end = some_move(pieces, n, best, n_best, rng)
            move(pieces, start, end)
        placed = fill(sheet, item_types, pieces, rule, stages, np.inf, filled)
        value = 0.0
        for p in range(placed):
            value += values[filled.placed[p, 0]]
        if value >= best_value:
            best_value = value
            n_best = placed
            copy_rows(filled.placed, best, placed)
        else:
            move(pieces, end, start)
    return n_best, best_value


@lent
def some_move(pieces, n, best, n_best, rng):
    """Return the places in the list from and to which a piece moves."""
    front = min(n, FRONT * n_best)
    pick = uniform(rng)
    if pick < FROM_ANYWHERE:
        return below(rng, n), below(rng, front)
    if pick < FROM_ANYWHERE + TOWARDS_THE_END:
        item_type = best[below(rng, n_best), 0]
        start = 0
        while pieces[start] != item_type:
            start += 1
        return start, start + below(rng, n - start)
    return below(rng, front), below(rng, front)
