"""The most valuable filling of one sheet for given values of the pieces: an annealed sequence.

The sequence is what lies on the sheet, in the order in which it was offered. A step changes it a
little, offers it to an empty sheet, and then all other pieces by falling worth of their area; what
found a place is the next sequence. Simulated annealing is due to Kirkpatrick et al. (1983).
"""

import numpy as np

from nesting.kernels.compiled import Flags, Integer, IntegerRows, Integers, RandomState, Reals, lent
from nesting.kernels.fewer_sheets import copy_rows
from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.random_numbers import below, uniform
from nesting.kernels.sequence import move

HOT, COLD = 0.003, 0.0003
"""Mean loss that is accepted at the start and at the end of a climb, as a share of the value."""

EXCHANGES, MOVES, REPLACEMENTS = 0.3, 0.5, 0.8
"""Up to which chance two pieces change places, one moves, or some are new for others; else new.
"""

MOST_REPLACED, MOST_NEW = 3, 3
"""Most pieces that make way for new ones, and most new ones, all of one kind."""
MOST_OTHERS = 1
"""Most pieces of one kind that are offered after the sequence: few find a place, all take time."""
OTHER_RULE = 0.05
"""Chance of another rule, besides."""

LENGTH, RULE, PLACED = range(3)
"""What the numbers of a climb are: pieces in the sequence, its rule, pieces on the best sheet."""

NOW, BEST = range(2)
"""What its worths are: of the sequence (below 0: not known yet), and of the best sheet."""


@lent
def climb(
    length: Integer,
    width: Integer,
    free0: IntegerRows,
    kinds: IntegerRows,
    stages: Integer,
    values: Reals,
    most: Integers,
    by_worth: Integers,
    first: Integer,
    last: Integer,
    steps: Integer,
    rng: RandomState,
    scratch: IntegerRows,
    order: Integers,
    taken: Flags,
    used: Integers,
    sequence: Integers,
    numbers: Integers,
    worths: Reals,
    out: IntegerRows,
    best: IntegerRows,
):
    """Do steps `first` to `last` of a climb of `steps`; return how many pieces were offered.

    `most` is how many pieces of each kind may lie on the sheet, `by_worth` the kinds in the order
    in which the others are offered. `sequence`, `numbers` and `worths` tell where the climb
    stands, `best` takes the placements of the best sheet met; they are changed in place.
    """
    spent = 0
    n_kinds = kinds.shape[0]
    for step in range(first, last):
        rule = numbers[RULE]
        if worths[NOW] >= 0.0 and uniform(rng) < OTHER_RULE:
            rule = below(rng, rules_of(stages))
        for k in range(n_kinds):
            used[k] = 0
        n = numbers[LENGTH]
        if worths[NOW] < 0.0:
            n = unchanged(sequence, n, most, used, order)
        else:
            n = changed(sequence, n, most, used, order, rng)
        for i in range(n_kinds):
            kind = by_worth[i]
            end = min(most[kind], used[kind] + MOST_OTHERS)
            while used[kind] < end:
                order[n] = kind
                used[kind] += 1
                n += 1
        spent += n
        placed = fill(
            length, width, free0, kinds, order, n, rule, stages, np.inf, scratch, out, taken
        )
        value = 0.0
        for p in range(placed):
            value += values[out[p, 0]]
        if value > worths[BEST]:
            worths[BEST] = value
            numbers[PLACED] = placed
            copy_rows(out, best, placed)
        heat = HOT * (COLD / HOT) ** (step / steps)
        if value >= worths[NOW] * (1.0 + heat * np.log(1.0 - uniform(rng))):
            worths[NOW] = value
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
def offer(kind, most, used, order, written):
    """Write a kind to the order unless it is used up; return how many are written."""
    if used[kind] >= most[kind]:
        return written
    order[written] = kind
    used[kind] += 1
    return written + 1
