"""Filling one sheet by cuts from edge to edge, compiled.

Rectangles are rows of x0, y0, x1, y1 in the grown frame, where a cut has no width. Each free
rectangle is a piece that lies on the saw: its stage tells how far the cutting has come. Cuts in the
direction of its stage cost no further stage, cuts in the other direction are one stage later. Odd
stages cut in the first direction, even ones across it.

A rule is a way to choose the place (fit), a way to cut the rest (split), and the first direction.
"""

import numpy as np

from nesting.kernels.compiled import Flags, Integer, IntegerRows, Integers, lent

ROWS, COLUMNS = range(2)
"""The first direction: cuts along x make rows, cuts along y make columns."""

SHORT_SIDE, LONG_SIDE, AREA, SMALLEST, LOWEST, ACROSS, ALONG = range(7)
SHORT_LEFT, LONG_LEFT, LARGE_REST, EVEN_REST, ALWAYS_ROWS, ALWAYS_COLUMNS = range(6)
FITS, SPLITS, FIRST_CUTS = 7, 6, 2
RULES = FITS * SPLITS * FIRST_CUTS
NO_LIMIT = 1 << 40
NOWHERE = 1 << 62
SIDE_BITS = 28


@lent
def fill_sawn(
    length: Integer,
    width: Integer,
    free0: IntegerRows,
    kinds: IntegerRows,
    order: Integers,
    n_order: Integer,
    rule: Integer,
    stages: Integer,
    scratch: IntegerRows,
    out: IntegerRows,
    taken: Flags,
):
    """Place each piece of `order` where the rule likes it best; return how many were placed.

    `kinds` has a row of length, width, turnable, rim for each kind; `order` holds kinds. A row of
    `out` is kind, x, y, turned. `taken` tells of each piece in `order` whether it was placed.
    `stages` is the most stages, 0 for any number. Parts lie inside the rectangles of `free0`; the
    waste between them, defects included, is cut like any other.

    `scratch` needs two rows for each free rectangle, which are at most one more than the pieces on
    the sheet, and three more for each piece kept off the rim or beside a defect: rectangles stand
    in its first half, their stages in the first column of the second. When it is full, the smallest
    free rectangle is forgotten, which is safe.
    """
    most = stages if stages > 0 else NO_LIMIT
    fit = rule // (FIRST_CUTS * SPLITS) % FITS
    split = rule // FIRST_CUTS % SPLITS
    first = rule % FIRST_CUTS
    least_length, least_width = least_sides(kinds, order, n_order)
    stage_of = scratch[scratch.shape[0] // 2 :, 0]
    scratch[0, 0] = 0
    scratch[0, 1] = 0
    scratch[0, 2] = length
    scratch[0, 3] = width
    stage_of[0] = 1
    n_free = np.int64(1)  # a plain 1 would be compiled a second time
    placed = 0
    refused = -1
    for i in range(n_order):
        taken[i] = 0
        kind = order[i]
        if kind == refused or n_free == 0:
            continue
        f, x, y, turned = best_place(
            length, width, free0, kinds, kind, fit, first, scratch, stage_of, n_free
        )
        if f < 0:
            refused = kind
            continue
        out[placed, 0] = kind
        out[placed, 1] = x
        out[placed, 2] = y
        out[placed, 3] = turned
        placed += 1
        taken[i] = 1
        n_free = cut_free(
            scratch,
            n_free,
            f,
            x,
            y,
            x + kinds[kind, turned],
            y + kinds[kind, 1 - turned],
            split,
            first,
            most,
            least_length,
            least_width,
        )
    return placed


@lent
def least_sides(kinds, order, n_order):
    """Return the least extent along x and along y that any piece to be placed can have."""
    least_length = NOWHERE
    least_width = NOWHERE
    for i in range(n_order):
        kind = order[i]
        if i > 0 and kind == order[i - 1]:
            continue
        along = kinds[kind, 0]
        across = kinds[kind, 1]
        if kinds[kind, 2]:
            along = across = min(along, across)
        least_length = min(least_length, along)
        least_width = min(least_width, across)
    return least_length, least_width


@lent
def best_place(length, width, free0, kinds, kind, fit, first, scratch, stage_of, n_free):
    """Return the free rectangle that the fit likes best (-1: none), the place and the turn."""
    best = NOWHERE
    best_f = -1
    best_x = 0
    best_y = 0
    best_turned = 0
    rim = kinds[kind, 3]
    for turned in range(2 if kinds[kind, 2] else 1):
        along = kinds[kind, turned]
        across = kinds[kind, 1 - turned]
        for f in range(n_free):
            if along > scratch[f, 2] - scratch[f, 0] or across > scratch[f, 3] - scratch[f, 1]:
                continue
            for z in range(free0.shape[0]):
                x = max(scratch[f, 0], free0[z, 0], rim)
                y = max(scratch[f, 1], free0[z, 1], rim)
                over_x = min(scratch[f, 2], free0[z, 2], length - rim) - x - along
                over_y = min(scratch[f, 3], free0[z, 3], width - rim) - y - across
                if over_x < 0 or over_y < 0:
                    continue
                rows = (stage_of[f] % 2 == 1) == (first == ROWS)
                score = fit_score(fit, rows, over_x, over_y, x, y, along, across)
                if score < best:
                    best = score
                    best_f = f
                    best_x = x
                    best_y = y
                    best_turned = turned
    return best_f, best_x, best_y, best_turned


@lent
def fit_score(fit, rows, over_x, over_y, x, y, along, across):
    """Return how little the fit likes a place; `rows`: this stage cuts along x."""
    if fit in (AREA, SMALLEST):
        area = (over_x + along) * (over_y + across)
        return area - along * across if fit == AREA else area
    if fit == SHORT_SIDE:
        main, other = min(over_x, over_y), max(over_x, over_y)
    elif fit == LONG_SIDE:
        main, other = max(over_x, over_y), min(over_x, over_y)
    elif fit == LOWEST:
        main, other = (y, x) if rows else (x, y)
    else:
        # A strip is crosscut: what it loses for good is across its length.
        main, other = (over_x, over_y) if (fit == ACROSS) == rows else (over_y, over_x)
    return (main << SIDE_BITS) + other


@lent
def cut_free(scratch, n_free, f, x0, y0, x1, y1, split, first, most, least_length, least_width):
    """Cut a part out of free rectangle `f` and keep what is left of it; return how many there are.

    Cuts in the direction of the rectangle's stage go first, or those across it: the second set of
    cuts is one stage later. What only a stage beyond the limit could use is waste, and the cut that
    takes it off the part is not counted.
    """
    half = scratch.shape[0] // 2
    left, bottom, right, top = scratch[f, 0], scratch[f, 1], scratch[f, 2], scratch[f, 3]
    stage = scratch[half + f, 0]
    n_free -= 1
    for c in range(4):
        scratch[f, c] = scratch[n_free, c]
    scratch[half + f, 0] = scratch[half + n_free, 0]
    cuts_rows = (stage % 2 == 1) == (first == ROWS)
    rows_first = wants_rows(split, left, bottom, right, top, x0, y0, x1, y1)
    if stage + 2 > most and rows_first != cuts_rows:
        # The other way would turn all that is left in this stage's direction into waste.
        rest_rows = max(y0 - bottom, top - y1)
        rest_columns = max(x0 - left, right - x1)
        spoilt = rest_rows >= least_width if cuts_rows else rest_columns >= least_length
        if spoilt or stage + 1 > most:
            rows_first = cuts_rows
    early = stage if rows_first == cuts_rows else stage + 1
    late = early + 1
    row_stage = early if rows_first else late
    column_stage = late if rows_first else early
    row_x0, row_x1 = (left, right) if rows_first else (x0, x1)
    column_y0, column_y1 = (y0, y1) if rows_first else (bottom, top)
    if row_stage <= most and row_x1 - row_x0 >= least_length:
        if y0 - bottom >= least_width:
            n_free = keep(scratch, n_free, row_x0, bottom, row_x1, y0, row_stage)
        if top - y1 >= least_width:
            n_free = keep(scratch, n_free, row_x0, y1, row_x1, top, row_stage)
    if column_stage <= most and column_y1 - column_y0 >= least_width:
        if x0 - left >= least_length:
            n_free = keep(scratch, n_free, left, column_y0, x0, column_y1, column_stage)
        if right - x1 >= least_length:
            n_free = keep(scratch, n_free, x1, column_y0, right, column_y1, column_stage)
    return n_free


@lent
def wants_rows(split, left, bottom, right, top, x0, y0, x1, y1):
    """Return whether the split cuts along x first, so that what is above keeps the full length."""
    over_x = (right - left) - (x1 - x0)
    over_y = (top - bottom) - (y1 - y0)
    if split == SHORT_LEFT:
        return over_x < over_y
    if split == LONG_LEFT:
        return over_x >= over_y
    row = (right - left) * over_y
    column = (top - bottom) * over_x
    if split == LARGE_REST:
        return row >= column
    if split == EVEN_REST:
        return row < column
    return split == ALWAYS_ROWS


@lent
def keep(scratch, n_free, x0, y0, x1, y1, stage):
    """Add a free rectangle; when there is no row for it, the smallest one goes."""
    half = scratch.shape[0] // 2
    f = n_free
    if n_free == half:
        area = (x1 - x0) * (y1 - y0)
        for g in range(n_free):
            other = (scratch[g, 2] - scratch[g, 0]) * (scratch[g, 3] - scratch[g, 1])
            if other < area:
                area = other
                f = g
        if f == n_free:
            return n_free
        n_free -= 1
    scratch[f, 0] = x0
    scratch[f, 1] = y0
    scratch[f, 2] = x1
    scratch[f, 3] = y1
    scratch[half + f, 0] = stage
    return n_free + 1
