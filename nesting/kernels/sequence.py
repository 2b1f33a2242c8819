"""Getting all pieces onto a few full sheets: one sequence of all pieces, annealed.

Where a sheet holds many pieces and there are few sheets, ruining two of them throws nearly
everything away. Here the sequence itself is moved about a little at a time, and decoded anew: the
sheets are filled one after the other. Simulated annealing is due to Kirkpatrick et al. (1983).
"""

import numpy as np

from nesting.kernels.compiled import (
    Flags,
    Integer,
    IntegerBlocks,
    IntegerRows,
    Integers,
    RandomState,
    Reals,
    lent,
)
from nesting.kernels.fewer_sheets import copy_rows, waiting_area
from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.random_numbers import below, uniform

HOT, COLD = 0.005, 0.0001
"""Mean growth of the waiting area that is accepted at the start and at the end, in sheets."""
EXCHANGES, MOVES = 0.45, 0.95
"""Up to which chance two pieces change places, or one moves; else a sheet gets another rule."""


@lent
def anneal(
    rooms: IntegerRows,
    free_of: Integers,
    free: IntegerRows,
    kinds: IntegerRows,
    stages: Integer,
    sheets: Integers,
    rules: Integers,
    sequence: Integers,
    waits: Reals,
    first: Integer,
    last: Integer,
    steps: Integer,
    offers: Integer,
    rng: RandomState,
    best: IntegerBlocks,
    n_best: Integers,
    best_waiting: Integers,
    n_best_waiting: Integers,
    scratch: IntegerRows,
    pieces: Integers,
    taken: Flags,
    out: IntegerBlocks,
    n_out: Integers,
):
    """Do steps `first` to `last` of an annealing of `steps`, fewer when `offers` are used up.

    `sequence` has every piece as its kind, `waits` the area that waits now (below 0: not known
    yet), `rules` the rule of each sheet; these are changed in place. The best state met is kept in
    the arrays named so. Return the step reached and the pieces offered.
    """
    n = sequence.shape[0]
    sheet_area = 0.0
    for s in range(sheets.shape[0]):
        sheet_area += float(rooms[sheets[s], 0]) * rooms[sheets[s], 1] / sheets.shape[0]
    least = waiting_area(kinds, best_waiting, n_best_waiting[0])
    spent = 0
    step = first
    while step < last and spent < offers:
        chance = uniform(rng)
        i, j, sheet, old_rule = below(rng, n), below(rng, n), -1, 0
        if waits[0] < 0.0:
            i = j
        elif chance < EXCHANGES:
            sequence[i], sequence[j] = sequence[j], sequence[i]
        elif chance < MOVES:
            move(sequence, i, j)
        else:
            sheet = below(rng, sheets.shape[0])
            old_rule = rules[sheet]
            rules[sheet] = below(rng, rules_of(stages))
        for p in range(n):
            pieces[p] = sequence[p]
        left = n
        now = np.inf
        heat = HOT * (COLD / HOT) ** (step / steps)
        most = waits[0] - heat * sheet_area * np.log(1.0 - uniform(rng))
        if waits[0] < 0.0:
            most = np.inf
        most_left = most
        for s in range(1, sheets.shape[0]):
            most_left += float(rooms[sheets[s], 0]) * rooms[sheets[s], 1]
        for s in range(sheets.shape[0]):
            room = sheets[s]
            free0 = free[free_of[room] : free_of[room + 1]]
            spent += left
            n_out[s] = fill(
                rooms[room, 0],
                rooms[room, 1],
                free0,
                kinds,
                pieces,
                left,
                rules[s],
                stages,
                most_left,
                scratch,
                out[s],
                taken,
            )
            kept = np.int64(0)
            for p in range(left):
                if not taken[p]:
                    pieces[kept] = pieces[p]
                    kept += 1
            left = kept
            now = waiting_area(kinds, pieces, left)
            if now > most_left:
                break
            if s + 1 < sheets.shape[0]:
                most_left -= float(rooms[sheets[s + 1], 0]) * rooms[sheets[s + 1], 1]
        if now <= most:
            waits[0] = now
        elif sheet >= 0:
            rules[sheet] = old_rule
        elif chance < EXCHANGES:
            sequence[i], sequence[j] = sequence[j], sequence[i]
        else:
            move(sequence, j, i)
        if now < least or left == 0:
            least = now
            n_best_waiting[0] = left
            for p in range(left):
                best_waiting[p] = pieces[p]
            for s in range(sheets.shape[0]):
                n_best[s] = n_out[s]
                copy_rows(out[s], best[s], n_out[s])
            if left == 0:
                return step, spent
        step += 1
    return step, spent


@lent
def move(sequence, source, target):
    """Move one entry to another place; those between shift."""
    entry = sequence[source]
    if source < target:
        for q in range(source, target):
            sequence[q] = sequence[q + 1]
    else:
        for q in range(source, target, -1):
            sequence[q] = sequence[q - 1]
    sequence[target] = entry
