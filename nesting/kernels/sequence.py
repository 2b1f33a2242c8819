"""Getting all pieces onto a few full sheets: one sequence of all pieces, annealed.

Where a sheet holds many pieces and there are few sheets, ruining two of them throws nearly
everything away. Here the sequence itself is moved about a little at a time, and decoded anew: the
sheets are filled one after the other. Simulated annealing is due to Kirkpatrick et al. (1983).
"""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Integer, Integers, RandomState, Reals, lent
from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.random_numbers import below, uniform
from nesting.kernels.sheets import (
    Arrays,
    Refilled,
    SheetsState,
    drop_taken,
    filled_in,
    keep_state,
    sheet_in,
    waiting_area,
)

HOT, COLD = 0.005, 0.0001
"""Mean growth of the waiting area that is accepted at the start and at the end, in sheets."""
EXCHANGES, MOVES = 0.45, 0.95
"""Up to which chance two pieces change places, or one moves; else a sheet gets another rule."""


class Steps(NamedTuple):
    """The steps to do now, from `first` to before `last`, of so many in all."""

    first: Integer
    last: Integer
    of: Integer


class Annealed(NamedTuple):
    """Every piece as its item type, the rule of each sheet, and the area that waits with these.

    `waits` has one entry, below 0 where it is not known yet.
    """

    pieces: Integers
    rules: Integers
    waits: Reals


@lent
def anneal(
    question: Arrays,
    sheets: Integers,
    now: Annealed,
    steps: Steps,
    offers: Integer,
    rng: RandomState,
    best: SheetsState,
    work: Refilled,
):
    """Do some steps of an annealing, fewer when `offers` are used up.

    `sheets` names the room of each sheet. `now` and `best`, the best state met, are changed in
    place; `work` is scratch for all sheets. Return the step reached and the pieces offered.
    """
    rooms, item_types, stages = question.rooms, question.item_types, question.stages
    sequence, rules, waits = now
    pieces = work.pieces
    n = sequence.shape[0]
    sheet_area = 0.0
    for s in range(sheets.shape[0]):
        sheet_area += float(rooms[sheets[s], 0]) * rooms[sheets[s], 1] / sheets.shape[0]
    least = waiting_area(item_types, best.waiting, best.n_waiting[0])
    spent = 0
    step = steps.first
    while step < steps.last and spent < offers:
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
        area = np.inf
        heat = HOT * (COLD / HOT) ** (step / steps.of)
        most = waits[0] - heat * sheet_area * np.log(1.0 - uniform(rng))
        if waits[0] < 0.0:
            most = np.inf
        most_left = most
        for s in range(1, sheets.shape[0]):
            most_left += float(rooms[sheets[s], 0]) * rooms[sheets[s], 1]
        for s in range(sheets.shape[0]):
            spent += left
            work.counts[s] = fill(
                sheet_in(question, sheets[s]),
                item_types,
                pieces[:left],
                rules[s],
                stages,
                most_left,
                filled_in(work, s),
            )
            left = drop_taken(pieces, left, work.taken)
            area = waiting_area(item_types, pieces, left)
            if area > most_left:
                break
            if s + 1 < sheets.shape[0]:
                most_left -= float(rooms[sheets[s + 1], 0]) * rooms[sheets[s + 1], 1]
        if area <= most:
            waits[0] = area
        elif sheet >= 0:
            rules[sheet] = old_rule
        elif chance < EXCHANGES:
            sequence[i], sequence[j] = sequence[j], sequence[i]
        else:
            move(sequence, j, i)
        if area < least or left == 0:
            least = area
            keep_state(best, work.placed, work.counts, pieces, left)
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
