"""One sheet filled, the way the question says it is cut."""

from nesting.kernels.compiled import Flags, Integer, IntegerRows, Integers, Real, lent
from nesting.kernels.max_rects import RULES, SHORT_SIDE, fill_free
from nesting.kernels.sawn_sheet import RULES as SAW_RULES
from nesting.kernels.sawn_sheet import fill_sawn
from nesting.kernels.skyline import fill_upwards

FREE = -1
UPWARDS, SIDEWAYS = RULES, RULES + 1
"""Rules beyond those of maximal rectangles: the skyline, from either side."""


@lent
def fill(
    length: Integer,
    width: Integer,
    free0: IntegerRows,
    kinds: IntegerRows,
    order: Integers,
    n_order: Integer,
    rule: Integer,
    stages: Integer,
    most_left: Real,
    scratch: IntegerRows,
    out: IntegerRows,
    taken: Flags,
):
    """Fill one sheet; `stages` is -1 for a free nest, 0 for edge-to-edge cuts without limit.

    Return how many pieces were placed; those not `taken` are left. Once it is sure that the area
    left would be more than `most_left`, the sheet may be given up half filled. The arrays are those
    of `fill_free`.
    """
    if stages != FREE:
        return fill_sawn(
            length, width, free0, kinds, order, n_order, rule, stages, scratch, out, taken
        )
    if rule >= UPWARDS:
        if suits_skyline(length, width, free0, kinds, order, n_order):
            flip = rule - UPWARDS
            return fill_upwards(
                length, width, kinds, flip, order, n_order, most_left, scratch, out, taken
            )
        rule = SHORT_SIDE
    return fill_free(
        length, width, free0, kinds, order, n_order, rule, most_left, scratch, out, taken
    )


@lent
def suits_skyline(length, width, free0, kinds, order, n_order):
    """Return whether the whole sheet is free and no piece has a rim rule."""
    if free0.shape[0] != 1 or free0[0, 2] - free0[0, 0] != length:
        return False
    if free0[0, 3] - free0[0, 1] != width:
        return False
    for i in range(n_order):
        if kinds[order[i], 3] > 0:
            return False
    return True


@lent
def rules_of(stages: Integer):
    """Return how many rules there are to choose from."""
    return RULES + 2 if stages == FREE else SAW_RULES
