"""Filling one sheet freely: the maximal-rectangles method of Jylanki (2010), compiled.

Rectangles are rows of x0, y0, x1, y1. Free rectangles may overlap; every empty place lies in one.
"""

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, Real, inlined, lent
from nesting.kernels.sheet import Filled, Sheet

BOTTOM_LEFT, LEFT_BOTTOM, SHORT_SIDE, LONG_SIDE, AREA, FAR_CORNER, CONTACT = range(7)
RIGHT, ABOVE, LEFT, BELOW = range(4)
"""Sides of a placed piece, each the column of the edge at which what is free beyond it begins."""
RULES = 7
"""How many rules there are to choose from."""
NOWHERE = 1 << 62


@lent
def fill_free(
    sheet: Sheet,
    item_types: IntegerRows,
    order: Integers,
    rule: Integer,
    most_left: Real,
    filled: Filled,
):
    """Place each piece of `order` where the rule likes it best; return how many were placed.

    `item_types` has a row of length, width, turnable, rim for each item type; `order` holds item
    types. Free rectangles for which there is no scratch are forgotten, which is safe. The sheet is
    given up when the pieces that find no place come to more area than `most_left`.
    """
    scratch, taken, out = filled
    n_order, n_free = order.shape[0], sheet.free.shape[0]
    for f in range(n_free):
        for c in range(4):
            scratch[f, c] = sheet.free[f, c]
    least_length, least_width = least_sides(item_types, order)
    for i in range(n_order):
        taken[i] = 0
    placed = np.int64(0)
    refused = -1
    left_area = 0.0
    most_area = largest_area(scratch, n_free)
    for i in range(n_order):
        item_type = order[i]
        area = item_types[item_type, 0] * item_types[item_type, 1]
        best_f, turned = -1, 0
        if item_type != refused and area <= most_area:
            best_f, turned = best_place(
                sheet, item_types, item_type, rule, scratch, n_free, out, placed
            )
        if best_f < 0:
            refused = item_type
            left_area += area
            if left_area > most_left:
                return placed
            continue
        rim = item_types[item_type, 3]
        x = max(scratch[best_f, 0], rim)
        y = max(scratch[best_f, 1], rim)
        out[placed, 0] = item_type
        out[placed, 1] = x
        out[placed, 2] = y
        out[placed, 3] = turned
        placed += 1
        taken[i] = 1
        n_free = cut_out(
            scratch,
            n_free,
            x,
            y,
            x + item_types[item_type, turned],
            y + item_types[item_type, 1 - turned],
            least_length,
            least_width,
        )
        most_area = largest_area(scratch, n_free)
    return placed


@lent
def largest_area(free, n_free):
    """Return the area of the largest free rectangle; 0 if there is none."""
    most = 0
    for f in range(n_free):
        most = max(most, (free[f, 2] - free[f, 0]) * (free[f, 3] - free[f, 1]))
    return most


@lent
def least_sides(item_types, order):
    """Return the least side along x and along y that any piece can take."""
    least_length = NOWHERE
    least_width = NOWHERE
    for i in range(order.shape[0]):
        item_type = order[i]
        a, b = item_types[item_type, 0], item_types[item_type, 1]
        if item_types[item_type, 2]:
            a = min(a, b)
            b = a
        least_length = min(least_length, a)
        least_width = min(least_width, b)
    return least_length, least_width


@lent
def best_place(sheet, item_types, item_type, rule, free, n_free, out, placed):
    """Return the free rectangle the rule likes best (-1: none fits), and whether to turn."""
    length, width = sheet.length, sheet.width
    best_f = -1
    best_turn = 0
    best1 = NOWHERE
    best2 = NOWHERE
    a, b, turnable, rim = (
        item_types[item_type, 0],
        item_types[item_type, 1],
        item_types[item_type, 2],
        item_types[item_type, 3],
    )
    turns = 2 if turnable and a != b else 1
    for f in range(n_free):
        x0, y0, x1, y1 = free[f, 0], free[f, 1], free[f, 2], free[f, 3]
        if rim > 0:
            x0, y0 = max(x0, rim), max(y0, rim)
            x1, y1 = min(x1, length - rim), min(y1, width - rim)
        l, w = a, b
        for turn in range(turns):
            dx, dy = x1 - x0 - l, y1 - y0 - w
            if dx >= 0 and dy >= 0:
                if rule == BOTTOM_LEFT:
                    s1, s2 = y0 + w, x0
                elif rule == LEFT_BOTTOM:
                    s1, s2 = x0 + l, y0
                elif rule == SHORT_SIDE:
                    s1, s2 = min(dx, dy), max(dx, dy)
                elif rule == LONG_SIDE:
                    s1, s2 = max(dx, dy), min(dx, dy)
                elif rule == AREA:
                    s1, s2 = (x1 - x0) * (y1 - y0) - l * w, min(dx, dy)
                elif rule == FAR_CORNER:
                    to_x, to_y = length - x0 - l, width - y0 - w
                    s1, s2 = -(to_x * to_x + to_y * to_y), min(dx, dy)
                else:
                    s1 = -touching(sheet, item_types, out, placed, x0, y0, x0 + l, y0 + w)
                    s2 = min(dx, dy)
                if s1 < best1 or (s1 == best1 and s2 < best2):
                    best1, best2, best_f, best_turn = s1, s2, f, turn
            l, w = b, a
    return best_f, best_turn


@lent
def touching(sheet, item_types, out, placed, x0, y0, x1, y1):
    """Return how much of a place's outline lies against pieces or the sheet's edges."""
    shared = 0
    if x0 == 0:
        shared += y1 - y0
    if y0 == 0:
        shared += x1 - x0
    if x1 == sheet.length:
        shared += y1 - y0
    if y1 == sheet.width:
        shared += x1 - x0
    for p in range(placed):
        turned = out[p, 3]
        px0, py0 = out[p, 1], out[p, 2]
        px1, py1 = px0 + item_types[out[p, 0], turned], py0 + item_types[out[p, 0], 1 - turned]
        if px0 == x1 or px1 == x0:
            shared += max(0, min(y1, py1) - max(y0, py0))
        if py0 == y1 or py1 == y0:
            shared += max(0, min(x1, px1) - max(x0, px0))
    return shared


@inlined
def cut_out(free, n_free, x0, y0, x1, y1, least_length, least_width):
    """Take a placed rectangle out of the free ones; return how many there are then.

    What a split rectangle leaves on one side of the placed one can only lie inside what another
    leaves on that side, or inside a whole one that ends there too.
    """
    capacity = free.shape[0]
    whole = np.int64(0)
    split = capacity  # split rectangles gather at the end, downwards
    for f in range(n_free):
        a0, b0, a1, b1 = free[f, 0], free[f, 1], free[f, 2], free[f, 3]
        if x0 >= a1 or x1 <= a0 or y0 >= b1 or y1 <= b0:
            free[whole, 0], free[whole, 1], free[whole, 2], free[whole, 3] = a0, b0, a1, b1
            whole += 1
        elif split > n_free:
            split -= 1
            free[split, 0], free[split, 1], free[split, 2], free[split, 3] = a0, b0, a1, b1
    kept = whole
    for side in (RIGHT, ABOVE, LEFT, BELOW):
        first = kept
        for s in range(split, capacity):
            a0, b0, a1, b1 = free[s, 0], free[s, 1], free[s, 2], free[s, 3]
            if side == RIGHT:
                a0 = edge = x1
            elif side == ABOVE:
                b0 = edge = y1
            elif side == LEFT:
                a1 = edge = x0
            else:
                b1 = edge = y0
            needless = a1 - a0 < least_length or b1 - b0 < least_width or kept == split
            for k in range(whole):
                if needless:
                    break
                needless = free[k, side] == edge and holds(free, k, a0, b0, a1, b1)
            for k in range(first, kept):
                if needless:
                    break
                needless = holds(free, k, a0, b0, a1, b1)
            if needless:
                continue
            others = first
            for k in range(first, kept):
                c0, d0, c1, d1 = free[k, 0], free[k, 1], free[k, 2], free[k, 3]
                if not (a0 <= c0 and b0 <= d0 and c1 <= a1 and d1 <= b1):
                    free[others, 0], free[others, 1] = c0, d0
                    free[others, 2], free[others, 3] = c1, d1
                    others += 1
            free[others, 0], free[others, 1], free[others, 2], free[others, 3] = a0, b0, a1, b1
            kept = others + 1
    return kept


@lent
def holds(free, f, x0, y0, x1, y1):
    """Return whether a rectangle lies inside a free one."""
    return free[f, 0] <= x0 and free[f, 1] <= y0 and x1 <= free[f, 2] and y1 <= free[f, 3]
