"""Filling one sheet by cuts from edge to edge, compiled.

Rectangles are rows of x0, y0, x1, y1 in the grown frame, where a cut has no width. Each free
rectangle is a piece that lies on the saw: its stage tells how far the cutting has come. Cuts in the
direction of its stage cost no further stage, cuts in the other direction are one stage later. Odd
stages cut in the first direction, even ones across it.

A rule is a way to choose the place (fit), a way to cut the rest (split), and the first direction.
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, lent
from nesting.kernels.sheet import Filled, Sheet

ROWS, COLUMNS = range(2)
"""The first direction: cuts along x make rows, cuts along y make columns."""

SHORT_SIDE, LONG_SIDE, AREA, SMALLEST, LOWEST, ACROSS, ALONG = range(7)
SHORT_LEFT, LONG_LEFT, LARGE_REST, EVEN_REST, ALWAYS_ROWS, ALWAYS_COLUMNS = range(6)
FITS, SPLITS, FIRST_CUTS = 7, 6, 2
RULES = FITS * SPLITS * FIRST_CUTS
NO_LIMIT = 1 << 40
NOWHERE = 1 << 62
SIDE_BITS = 28


class Way(NamedTuple):
    """How a sheet is cut: the parts of the rule, and the most stages."""

    fit: Integer
    split: Integer
    first: Integer
    most: Integer


class Box(NamedTuple):
    """A rectangle by its sides (ticks)."""

    left: Integer
    bottom: Integer
    right: Integer
    top: Integer


class Least(NamedTuple):
    """The least extent along x and along y that any piece to be placed can have (ticks)."""

    length: Integer
    width: Integer


@lent
def fill_sawn(
    sheet: Sheet,
    item_types: IntegerRows,
    order: Integers,
    rule: Integer,
    stages: Integer,
    filled: Filled,
):
    """Place each piece of `order` where the rule likes it best; return how many were placed.

    `item_types` has a row of length, width, turnable, rim for each item type; `order` holds item
    types. `stages` is the most stages, 0 for any number. Parts lie inside the sheet's free
    rectangles; the waste between them, defects included, is cut like any other.

    The scratch needs two rows for each free rectangle, which are at most one more than the pieces
    on the sheet, and three more for each piece kept off the rim or beside a defect: rectangles
    stand in its first half, their stages in the first column of the second. When it is full, the
    smallest free rectangle is forgotten, which is safe.
    """
    scratch, taken, out = filled
    way = Way(
        rule // (FIRST_CUTS * SPLITS) % FITS,
        rule // FIRST_CUTS % SPLITS,
        rule % FIRST_CUTS,
        stages if stages > 0 else NO_LIMIT,
    )
    least = least_sides(item_types, order)
    stage_of = scratch[scratch.shape[0] // 2 :, 0]
    scratch[0, 0] = 0
    scratch[0, 1] = 0
    scratch[0, 2] = sheet.length
    scratch[0, 3] = sheet.width
    stage_of[0] = 1
    n_free = np.int64(1)  # a plain 1 would be compiled a second time
    placed = 0
    refused = -1
    for i in range(order.shape[0]):
        taken[i] = 0
        item_type = order[i]
        if item_type == refused or n_free == 0:
            continue
        f, x, y, turned = best_place(sheet, item_types, item_type, way, scratch, stage_of, n_free)
        if f < 0:
            refused = item_type
            continue
        out[placed, 0] = item_type
        out[placed, 1] = x
        out[placed, 2] = y
        out[placed, 3] = turned
        placed += 1
        taken[i] = 1
        part = Box(x, y, x + item_types[item_type, turned], y + item_types[item_type, 1 - turned])
        n_free = cut_free(scratch, n_free, f, part, way, least)
    return placed


@lent
def least_sides(item_types, order):
    """Return the least sides that any piece to be placed can have."""
    least_length = NOWHERE
    least_width = NOWHERE
    for i in range(order.shape[0]):
        item_type = order[i]
        if i > 0 and item_type == order[i - 1]:
            continue
        along = item_types[item_type, 0]
        across = item_types[item_type, 1]
        if item_types[item_type, 2]:
            along = across = min(along, across)
        least_length = min(least_length, along)
        least_width = min(least_width, across)
    return Least(least_length, least_width)


@lent
def best_place(sheet, item_types, item_type, way, scratch, stage_of, n_free):
    """Return the free rectangle that the fit likes best (-1: none), the place and the turn."""
    length, width, clear = sheet
    best = NOWHERE
    best_f = -1
    best_x = 0
    best_y = 0
    best_turned = 0
    rim = item_types[item_type, 3]
    for turned in range(2 if item_types[item_type, 2] else 1):
        along = item_types[item_type, turned]
        across = item_types[item_type, 1 - turned]
        for f in range(n_free):
            if along > scratch[f, 2] - scratch[f, 0] or across > scratch[f, 3] - scratch[f, 1]:
                continue
            for z in range(clear.shape[0]):
                x = max(scratch[f, 0], clear[z, 0], rim)
                y = max(scratch[f, 1], clear[z, 1], rim)
                over_x = min(scratch[f, 2], clear[z, 2], length - rim) - x - along
                over_y = min(scratch[f, 3], clear[z, 3], width - rim) - y - across
                if over_x < 0 or over_y < 0:
                    continue
                rows = (stage_of[f] % 2 == 1) == (way.first == ROWS)
                score = fit_score(way.fit, rows, over_x, over_y, x, y, along, across)
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
def cut_free(scratch, n_free, f, part, way, least):
    """Cut a part out of free rectangle `f` and keep what is left of it; return how many there are.

    Cuts in the direction of the rectangle's stage go first, or those across it: the second set of
    cuts is one stage later. What only a stage beyond the limit could use is waste, and the cut that
    takes it off the part is not counted.
    """
    half = scratch.shape[0] // 2
    free = Box(scratch[f, 0], scratch[f, 1], scratch[f, 2], scratch[f, 3])
    left, bottom, right, top = free
    x0, y0, x1, y1 = part
    stage, most = scratch[half + f, 0], way.most
    n_free -= 1
    for c in range(4):
        scratch[f, c] = scratch[n_free, c]
    scratch[half + f, 0] = scratch[half + n_free, 0]
    cuts_rows = (stage % 2 == 1) == (way.first == ROWS)
    rows_first = wants_rows(way.split, free, part)
    if stage + 2 > most and rows_first != cuts_rows:
        # The other way would turn all that is left in this stage's direction into waste.
        rest_rows = max(y0 - bottom, top - y1)
        rest_columns = max(x0 - left, right - x1)
        spoilt = rest_rows >= least.width if cuts_rows else rest_columns >= least.length
        if spoilt or stage + 1 > most:
            rows_first = cuts_rows
    early = stage if rows_first == cuts_rows else stage + 1
    late = early + 1
    row_stage = early if rows_first else late
    column_stage = late if rows_first else early
    row_x0, row_x1 = (left, right) if rows_first else (x0, x1)
    column_y0, column_y1 = (y0, y1) if rows_first else (bottom, top)
    if row_stage <= most and row_x1 - row_x0 >= least.length:
        if y0 - bottom >= least.width:
            n_free = keep(scratch, n_free, row_x0, bottom, row_x1, y0, row_stage)
        if top - y1 >= least.width:
            n_free = keep(scratch, n_free, row_x0, y1, row_x1, top, row_stage)
    if column_stage <= most and column_y1 - column_y0 >= least.width:
        if x0 - left >= least.length:
            n_free = keep(scratch, n_free, left, column_y0, x0, column_y1, column_stage)
        if right - x1 >= least.length:
            n_free = keep(scratch, n_free, x1, column_y0, right, column_y1, column_stage)
    return n_free


@lent
def wants_rows(split, free, part):
    """Return whether the split cuts along x first, so that what is above keeps the full length."""
    length, width = free.right - free.left, free.top - free.bottom
    over_x = length - (part.right - part.left)
    over_y = width - (part.top - part.bottom)
    if split == SHORT_LEFT:
        return over_x < over_y
    if split == LONG_LEFT:
        return over_x >= over_y
    row = length * over_y
    column = width * over_x
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
