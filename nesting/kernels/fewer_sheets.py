"""Getting all pieces onto a fixed list of sheets: ruin a few sheets, refill them, on and on.

Ruin and recreate is due to Schrimpf et al. (2000). What does not fit waits; the search brings the
area that waits down to nothing. Pieces that wait long come to count more, as in guided local search
(Voudouris and Tsang, 1999), so that the search cannot settle.
"""

import numpy as np

from nesting.kernels.compiled import Integer, Integers, RandomState, Reals, lent
from nesting.kernels.fill_sheet import FREE, UPWARDS, fill, rules_of
from nesting.kernels.random_numbers import below, uniform
from nesting.kernels.sheets import (
    Arrays,
    Refilled,
    SheetsState,
    copy_rows,
    drop_taken,
    filled_in,
    keep_state,
    sheet_in,
    waiting_area,
)
from nesting.kernels.sorting import sort_falling

MOST_RUINED = 3
MORE_RUINED, ONE_RUINED = 0.1, 0.3
"""How often three sheets are ruined, and one; else two. Always two, or three more often, took
longer; one is quick, and changes what waits."""
FULLEST = 0.97
"""A sheet rarely holds more of its area: what needs more than that is given up half-way."""
HEAT = 0.005
"""Mean growth of the waiting area that is accepted, in sheets."""
MOST_NOISE = 0.5
"""Most of a piece's size by which its place in an order is shaken."""
IMPATIENCE = 1.00003
"""What a waiting piece gains in weight at each step."""
MOST_WEIGHT = 10.0
SKYLINE = 0.5
"""How often a free sheet is filled along its skyline; else by maximal rectangles."""
RESORTED = 0.3
"""How often what is left is sorted anew for the next ruined sheet."""


@lent
def fewer_sheets(
    question: Arrays,
    sheets: Integers,
    offers: Integer,
    rng: RandomState,
    weights: Reals,
    now: SheetsState,
    best: SheetsState,
    ruined: Integers,
    work: Refilled,
):
    """Ruin and refill until nothing waits or `offers` pieces were offered; return how many were.

    `sheets` names the room of each sheet, `weights` says what a waiting piece of each item type
    counts for its area. `now` and `best` are the state of the search and the best one met so far;
    they are changed in place. `ruined` and `work` are scratch for the sheets that are ruined at
    once.
    """
    rooms, item_types = question.rooms, question.item_types
    pieces, moved = work.pieces, work.scratch.reshape(-1)
    waiting, n_waiting = now.waiting, now.n_waiting
    n_sheets = sheets.shape[0]
    sheet_area = 0.0
    for s in range(n_sheets):
        sheet_area += rooms[sheets[s], 0] * rooms[sheets[s], 1] / n_sheets
    waits = weighed_area(item_types, weights, waiting, n_waiting[0])
    least = waiting_area(item_types, best.waiting, best.n_waiting[0])
    spent = 0
    while spent < offers and n_waiting[0] > 0:
        n_ruined = choose_ruined(n_sheets, rng, ruined)
        n = np.int64(0)
        for r in range(n_ruined):
            for p in range(now.counts[ruined[r]]):
                pieces[n] = now.placed[ruined[r], p, 0]
                n += 1
        for w in range(n_waiting[0]):
            pieces[n] = waiting[w]
            n += 1
        forced = waiting[below(rng, n_waiting[0])]
        sort_pieces(item_types, weights, pieces, n, rng, work.keys, moved)
        move_to_front(pieces, n, forced)
        left = n
        most = waits - HEAT * sheet_area * np.log(1.0 - uniform(rng))
        most_left = most
        for r in range(1, n_ruined):
            most_left += FULLEST * float(rooms[sheets[ruined[r]], 0]) * rooms[sheets[ruined[r]], 1]
        for r in range(n_ruined):
            if r > 0 and uniform(rng) < RESORTED:
                sort_pieces(item_types, weights, pieces, left, rng, work.keys, moved)
            rule = some_rule(question.stages, rng)
            spent += left
            work.counts[r] = fill(
                sheet_in(question, sheets[ruined[r]]),
                item_types,
                pieces[:left],
                rule,
                question.stages,
                most_left,
                filled_in(work, r),
            )
            left = drop_taken(pieces, left, work.taken)
            if waiting_area(item_types, pieces, left) > most_left:
                break  # then it is more than `most` too
            if r + 1 < n_ruined:
                room = sheets[ruined[r + 1]]
                most_left -= FULLEST * float(rooms[room, 0]) * rooms[room, 1]
        if left == 0 or weighed_area(item_types, weights, pieces, left) <= most:
            for r in range(n_ruined):
                now.counts[ruined[r]] = work.counts[r]
                copy_rows(work.placed[r], now.placed[ruined[r]], work.counts[r])
            n_waiting[0] = left
            for i in range(left):
                waiting[i] = pieces[i]
            area = waiting_area(item_types, waiting, left)
            if area < least:
                least = area
                keep_state(best, now.placed, now.counts, waiting, left)
        grow_impatient(weights, waiting, n_waiting[0])
        waits = weighed_area(item_types, weights, waiting, n_waiting[0])
    return spent


@lent
def some_rule(stages, rng):
    """Return a rule at random."""
    if stages != FREE:
        return below(rng, rules_of(stages))
    if uniform(rng) < SKYLINE:
        return UPWARDS + below(rng, np.int64(2))
    return below(rng, np.int64(UPWARDS))


@lent
def choose_ruined(n_sheets, rng, ruined):
    """Choose one to three different sheets, fewer if there are not as many; return how many."""
    chance = uniform(rng)
    n = 2
    if chance < MORE_RUINED:
        n = MOST_RUINED
    elif chance < MORE_RUINED + ONE_RUINED:
        n = 1
    n = min(n_sheets, n)
    for r in range(n):
        again = True
        while again:
            ruined[r] = below(rng, n_sheets)
            again = False
            for q in range(r):
                again = again or ruined[q] == ruined[r]
    return n


@lent
def sort_pieces(item_types, weights, pieces, n, rng, keys, moved):
    """Put pieces in falling order of area or of a side, more or less shaken."""
    by = below(rng, np.int64(4))
    noise = uniform(rng)
    noise = MOST_NOISE * noise * noise
    for i in range(n):
        length, width = float(item_types[pieces[i], 0]), float(item_types[pieces[i], 1])
        if by == 0:
            key = np.sqrt(length * width)
        elif by == 1:
            key = max(length, width)
        elif by == 2:
            key = width
        else:
            key = length
        keys[i] = key * weights[pieces[i]] * (1.0 + noise * (uniform(rng) - 0.5))
    sort_falling(keys, pieces, n, moved)


@lent
def move_to_front(pieces, n, item_type):
    """Move the first piece of an item type to the front of the list."""
    for i in range(n):
        if pieces[i] == item_type:
            for j in range(i, 0, -1):
                pieces[j] = pieces[j - 1]
            pieces[0] = item_type
            return


@lent
def grow_impatient(weights, waiting, n_waiting):
    """Let each waiting piece gain in weight; halve all weights when one grows too large."""
    greatest = 0.0
    for i in range(n_waiting):
        weights[waiting[i]] *= IMPATIENCE
        greatest = max(greatest, weights[waiting[i]])
    if greatest > MOST_WEIGHT:
        for k in range(weights.shape[0]):
            weights[k] = max(1.0, 0.5 * weights[k])


@lent
def weighed_area(item_types, weights, waiting, n_waiting):
    """Return the area that waits, each piece counted by its weight."""
    total = 0.0
    for i in range(n_waiting):
        total += float(item_types[waiting[i], 0]) * item_types[waiting[i], 1] * weights[waiting[i]]
    return total
