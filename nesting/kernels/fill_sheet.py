"""One sheet filled, the way the question says it is cut."""

from nesting.kernels.compiled import Integer, IntegerRows, Integers, Real, lent
from nesting.kernels.max_rects import RULES, SHORT_SIDE, fill_free
from nesting.kernels.sawn_sheet import RULES as SAW_RULES
from nesting.kernels.sawn_sheet import fill_sawn
from nesting.kernels.sheet import Filled, Sheet
from nesting.kernels.skyline import fill_upwards

FREE = -1
UPWARDS, SIDEWAYS = RULES, RULES + 1
"""Rules beyond those of maximal rectangles: the skyline, from either side."""


@lent
def fill(
    sheet: Sheet,
    item_types: IntegerRows,
    order: Integers,
    rule: Integer,
    stages: Integer,
    most_left: Real,
    filled: Filled,
):
    """Fill one sheet; `stages` is -1 for a free nest, 0 for edge-to-edge cuts without limit.

    Return how many pieces were placed; those not taken are left. Once it is sure that the area left
    would be more than `most_left`, the sheet may be given up half filled. `item_types` and `order`
    are those of `fill_free`.
    """
    if stages != FREE:
        return fill_sawn(sheet, item_types, order, rule, stages, filled)
    if rule >= UPWARDS:
        if suits_skyline(sheet, item_types, order):
            return fill_upwards(sheet, item_types, rule - UPWARDS, order, most_left, filled)
        rule = SHORT_SIDE
    return fill_free(sheet, item_types, order, rule, most_left, filled)


@lent
def suits_skyline(sheet, item_types, order):
    """Return whether the whole sheet is free and no piece has a rim rule."""
    free = sheet.free
    if free.shape[0] != 1 or free[0, 2] - free[0, 0] != sheet.length:
        return False
    if free[0, 3] - free[0, 1] != sheet.width:
        return False
    for i in range(order.shape[0]):
        if item_types[order[i], 3] > 0:
            return False
    return True


@lent
def rules_of(stages: Integer):
    """Return how many rules there are to choose from."""
    return RULES + 2 if stages == FREE else SAW_RULES
