"""The most valuable pattern of one sheet for given values of the pieces: an annealed sequence.

The sequence is what lies on the sheet, in the order in which it was offered. A step changes it a
little, offers it to an empty sheet, and then all other pieces by falling value of their area; what
found a place is the next sequence. Simulated annealing is due to Kirkpatrick et al. (1983).
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, IntegerRows, Integers, RandomState, Reals, lent
from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.random_numbers import below, uniform
from nesting.kernels.sequence import Steps, move
from nesting.kernels.sheet import Filled, Sheet
from nesting.kernels.sheets import copy_rows

HOT, COLD = 0.003, 0.0003
"""Mean loss that is accepted at the start and at the end of a climb, as a share of the value."""

EXCHANGES, MOVES, REPLACEMENTS = 0.3, 0.5, 0.8
"""Up to which chance two pieces change places, one moves, or some are new for others; else new.
"""

MOST_REPLACED, MOST_NEW = 3, 3
"""Most pieces that make way for new ones, and most new ones, all of one item type."""
MOST_OTHERS = 1
"""Most pieces of an item type offered after the sequence: few find a place, all take time."""
OTHER_RULE = 0.05
"""Chance of another rule, besides."""

LENGTH, RULE, PLACED = range(3)
"""What the numbers of a climb are: pieces in the sequence, its rule, pieces on the best sheet."""

NOW, BEST = range(2)
"""What its totals are: values of the sequence (below 0: not known yet), and of the best sheet."""


class Wanted(NamedTuple):
    """Item types as rows of length, width, turnable, rim, with the value of a piece of each.

    `most` is how many pieces of each item type may lie on the sheet, `by_value` the item types in
    the order in which pieces beyond the sequence are offered.
    """

    item_types: IntegerRows
    values: Reals
    most: Integers
    by_value: Integers


class Climb(NamedTuple):
    """Where a climb stands: its sequence of item types, and the placements of the best sheet met.

    `order` and `used` are scratch for the pieces offered, and for how many there are of each item
    type.
    """

    sequence: Integers
    numbers: Integers
    totals: Reals
    best: IntegerRows
    order: Integers
    used: Integers


def not_begun(pieces: int, item_types: int) -> Climb:
    """Return the arrays for climbs with at most so many pieces of so many item types."""
    return Climb(
        sequence=np.zeros(pieces, np.int64),
        numbers=np.zeros(3, np.int64),
        totals=np.zeros(2),
        best=np.empty((pieces, 4), np.int64),
        order=np.zeros(pieces, np.int64),
        used=np.zeros(item_types, np.int64),
    )


def begin(now: Climb, sequence: Sequence[int]) -> None:
    """Begin anew with a sequence of item types; the rule stays."""
    now.sequence[: len(sequence)] = sequence
    now.numbers[LENGTH], now.numbers[PLACED] = len(sequence), 0
    now.totals[NOW], now.totals[BEST] = -1.0, 0.0


@lent
def climb(
    sheet: Sheet,
    wanted: Wanted,
    stages: Integer,
    steps: Steps,
    rng: RandomState,
    now: Climb,
    filled: Filled,
):
    """Do some steps of a climb, which are changes of `now`; return how many pieces were offered."""
    item_types, values, most, by_value = wanted
    sequence, numbers, totals, best, order, used = now
    out = filled.placed
    spent = 0
    n_item_types = item_types.shape[0]
    for step in range(steps.first, steps.last):
        rule = numbers[RULE]
        if totals[NOW] >= 0.0 and uniform(rng) < OTHER_RULE:
            rule = below(rng, rules_of(stages))
        for k in range(n_item_types):
            used[k] = 0
        n = numbers[LENGTH]
        if totals[NOW] < 0.0:
            n = unchanged(sequence, n, most, used, order)
        else:
            n = changed(sequence, n, most, used, order, rng)
        for i in range(n_item_types):
            item_type = by_value[i]
            end = min(most[item_type], used[item_type] + MOST_OTHERS)
            while used[item_type] < end:
                order[n] = item_type
                used[item_type] += 1
                n += 1
        spent += n
        placed = fill(sheet, item_types, order[:n], rule, stages, np.inf, filled)
        value = 0.0
        for p in range(placed):
            value += values[out[p, 0]]
        if value > totals[BEST]:
            totals[BEST] = value
            numbers[PLACED] = placed
            copy_rows(out, best, placed)
        heat = HOT * (COLD / HOT) ** (step / steps.of)
        if value >= totals[NOW] * (1.0 + heat * np.log(1.0 - uniform(rng))):
            totals[NOW] = value
            numbers[RULE] = rule
            numbers[LENGTH] = placed
            for p in range(placed):
                sequence[p] = out[p, 0]
    return spent


@lent
def unchanged(sequence, n, most, used, order):
    """Write the sequence to the order, without what is too many; return how long it is."""
    written = np.int64(0)
    for p in range(n):
        written = offer(sequence[p], most, used, order, written)
    return written


@lent
def changed(sequence, n, most, used, order, rng):
    """Write the sequence to the order, changed a little; return how long it is."""
    chance = uniform(rng)
    if n == 0 or chance >= MOVES:
        cut = below(rng, n) if n > 0 and chance < REPLACEMENTS else n
        end = cut + 1 + below(rng, np.int64(MOST_REPLACED))
        new, place = below(rng, most.shape[0]), below(rng, n + 1)
        written = np.int64(0)
        for p in range(n + 1):
            if p == place:
                for _ in range(1 + below(rng, np.int64(MOST_NEW))):
                    written = offer(new, most, used, order, written)
            if p < n and (p < cut or p >= end):
                written = offer(sequence[p], most, used, order, written)
        return written
    written = unchanged(sequence, n, most, used, order)
    if written > 0:
        i, j = below(rng, written), below(rng, written)
        if chance < EXCHANGES:
            order[i], order[j] = order[j], order[i]
        else:
            move(order, i, j)
    return written


@lent
def offer(item_type, most, used, order, written):
    """Write an item type to the order unless it is used up; return how many are written."""
    if used[item_type] >= most[item_type]:
        return written
    order[written] = item_type
    used[item_type] += 1
    return written + 1
