"""Several sheets for the compiled loops: the question, and what lies on each and what waits."""

from typing import NamedTuple, Self

import numpy as np

from nesting.kernels.compiled import (
    Flags,
    Integer,
    IntegerBlocks,
    IntegerRows,
    Integers,
    Reals,
    lent,
)
from nesting.kernels.sheet import Filled, Sheet, scratch_for


class Arrays(NamedTuple):
    """A question: item types as rows of length, width, turnable, rim; rooms of length, width.

    The free rectangles of room r are the rows `free_of[r]` to `free_of[r + 1]` of `free`, as x0,
    y0, x1, y1. `stages` is -1 for a free nest, 0 for edge-to-edge cuts without limit.
    """

    item_types: IntegerRows
    rooms: IntegerRows
    free: IntegerRows
    free_of: Integers
    stages: Integer

    def sheet(self, room: int) -> Sheet:
        """Return an empty sheet of a room."""
        length, width = self.rooms[room].tolist()
        return Sheet(length, width, self.free[self.free_of[room] : self.free_of[room + 1]])


class SheetsState(NamedTuple):
    """What lies on each sheet as rows of item type, x, y, turned, and the item types that wait.

    `counts` says how many rows of each sheet are in use; `n_waiting` has one entry.
    """

    placed: IntegerBlocks
    counts: Integers
    waiting: Integers
    n_waiting: Integers

    def copy(self) -> Self:
        """Return an independent copy."""
        return type(self)(*(array.copy() for array in self))


class Refilled(NamedTuple):
    """Some sheets filled anew, how many pieces lie on each, and scratch for lists of pieces."""

    scratch: IntegerRows
    taken: Flags
    pieces: Integers
    keys: Reals
    placed: IntegerBlocks
    counts: Integers

    def of(self, sheets: int) -> Self:
        """Return the arrays for another number of sheets, with the same scratch."""
        most = self.placed.shape[1]
        return self._replace(
            placed=np.empty((sheets, most, 4), np.int64), counts=np.zeros(sheets, np.int64)
        )


def not_refilled(sheets: int, most: int, pieces: int) -> Refilled:
    """Return the arrays for so many sheets with at most so many of all the pieces on each."""
    return Refilled(
        scratch=scratch_for(pieces),
        taken=np.zeros(pieces, np.uint8),
        pieces=np.zeros(pieces, np.int64),
        keys=np.zeros(pieces),
        placed=np.empty((sheets, most, 4), np.int64),
        counts=np.zeros(sheets, np.int64),
    )


@lent
def sheet_in(question, room):
    """Return an empty sheet of a room, as `Arrays.sheet` does."""
    free = question.free[question.free_of[room] : question.free_of[room + 1]]
    return Sheet(question.rooms[room, 0], question.rooms[room, 1], free)


@lent
def filled_in(work, n):
    """Return the arrays for sheet `n` of those that are filled anew."""
    return Filled(work.scratch, work.taken, work.placed[n])


@lent
def drop_taken(pieces, n, taken):
    """Keep of the first `n` pieces those that were not taken; return how many there are."""
    kept = np.int64(0)
    for i in range(n):
        if not taken[i]:
            pieces[kept] = pieces[i]
            kept += 1
    return kept


@lent
def copy_rows(source, target, n):
    """Copy the first `n` rows of four numbers."""
    for i in range(n):
        for c in range(4):
            target[i, c] = source[i, c]


@lent
def waiting_area(item_types, waiting, n_waiting):
    """Return the area that waits."""
    total = 0.0
    for i in range(n_waiting):
        total += float(item_types[waiting[i], 0]) * item_types[waiting[i], 1]
    return total


@lent
def keep_state(best, placed, counts, waiting, n_waiting):
    """Write a state to the best one: what lies on each sheet, and what waits."""
    best.n_waiting[0] = n_waiting
    for i in range(n_waiting):
        best.waiting[i] = waiting[i]
    for s in range(counts.shape[0]):
        best.counts[s] = counts[s]
        copy_rows(placed[s], best.placed[s], counts[s])
