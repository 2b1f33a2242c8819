"""What one sheet can hold at most, proven by going through sets of pieces one by one.

Where few pieces fill a sheet, few sets of them are worth more than a sheet costs, and a search for
a packing shows of nearly all of them that no sheet holds them all. It is the exact way to price in
a linear program over layouts (Pisinger and Sigurd 2007), here to prove a bound.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.function_pairs import Functions, TurnValue, table_of
from nesting.bounds.relaxed_sheet import Above
from nesting.bounds.sides import Turns
from nesting.bounds.stopping import Ask, never
from nesting.kernels.valuable_sets import (
    COMPLETE,
    FOUND,
    PAUSED,
    SPENT,
    FunctionRows,
    Offered,
    set_search,
    sets_above,
)
from nesting.programs.linear_programs import MasterProblem
from nesting.programs.programs import Column, LinearStatus, at_least
from nesting.question.problem import Room

Integers = NDArray[np.int64]
Floats = NDArray[np.float64]

AT_ONCE = 500_000
"""Nodes between two looks at whether to stop: some tens of milliseconds."""
MOST_ROUNDS = 60
ADDED = 5
"""Functions that join those for the dual values in each of so many rounds at most."""
NEAR = 1e-9
CLOSE = 1.1
"""Dual values of which the functions allow fewer times a sheet's cost are for other searches."""


class PieceSets:
    """The sets of pieces on a sheet of one room."""

    def __init__(self, pieces: Sequence[Turns], room: Room, look: int, ask: Ask = never) -> None:
        """Take the turns no larger than the room, nodes for one set, and whom to ask to stop."""
        self._ask, self._look = ask, look
        self._length, self._width = room.length, room.width
        self._turns = [piece.within(room) for piece in pieces]
        self._demand = np.array([piece.demand for piece in pieces], dtype=np.int64)
        self._area = np.array([piece.sides[0][0] * piece.sides[0][1] for piece in pieces])
        table = table_of(pieces, [room], TurnValue.LESS, Functions.ALL)
        count = len(pieces)
        x, y = table.x / table.room_x.astype(float), table.y / table.room_y.astype(float)
        first = x[:, None, :count] * y[None, :, :count]
        second = x[:, None, count:] * y[None, :, count:]
        products = np.minimum(first, second).reshape(-1, count)
        _, kept = np.unique(np.round(products, 9), axis=0, return_index=True)
        self._functions = products[np.sort(kept)]

    def close(self, dual_values: Floats, cost: float) -> bool:
        """Return whether the functions allow little more of the dual values than a sheet costs."""
        _, most = self._tight(dual_values / cost)
        return most < CLOSE

    def above(self, dual_values: Sequence[int], goal: int, nodes: int) -> Above:
        """Search for sets worth more than the goal that a sheet may hold.

        It takes about `nodes` nodes. The value of as many copies of any piece as the sheet's area
        holds must stay below 2**58.
        """
        all_values = np.array(dual_values, dtype=np.int64)
        own = [n for n, turns in enumerate(self._turns) if turns and dual_values[n] > 0]
        if not own:
            return Above(most=goal, found=(), nodes=0)
        own.sort(key=lambda n: (-int(self._area[n]), n))
        functions = self._functions_of(own, all_values, goal)
        offered = self._offered(own, all_values)
        state = set_search(len(own), len(functions.values))
        ended = PAUSED
        while ended == PAUSED:
            self._ask()
            pause = int(state.standing[SPENT]) + AT_ONCE
            ended = sets_above(offered, functions, goal, self._look, nodes, pause, state)
        found = np.zeros((int(state.standing[FOUND]), len(dual_values)), dtype=np.int64)
        found[:, own] = state.found[: len(found)]
        return Above(
            most=goal if ended == COMPLETE and not len(found) else None,
            found=tuple(tuple(counts) for counts in found.tolist()),
            nodes=int(state.standing[SPENT]),
        )

    def _functions_of(self, own: list[int], dual_values: Integers, goal: int) -> FunctionRows:
        """Return the functions of some pieces, first those that tell most of their values."""
        tight, _ = self._tight(dual_values / goal)
        rest = np.setdiff1d(np.arange(len(self._functions)), tight)
        rest = rest[np.argsort(-self._functions[rest][:, own].sum(axis=1), kind="stable")]
        values = np.ascontiguousarray(self._functions[np.concatenate([tight, rest])][:, own])
        return FunctionRows(values, _ratios(values[: len(tight)], dual_values[own]), len(tight))

    def _offered(self, own: list[int], dual_values: Integers) -> Offered:
        """Return the sheet and some of the pieces."""
        sides = [[self._turns[n][0], self._turns[n][-1]] for n in own]
        return Offered(
            length=self._length,
            width=self._width,
            sides=np.array(sides, dtype=np.int64),
            turns=np.array([len(self._turns[n]) for n in own], dtype=np.int64),
            demand=self._demand[own],
            values=dual_values[own],
        )

    def _tight(self, dual_values: Floats) -> tuple[Integers, float]:
        """Return the functions that together allow the least of these dual values, and how much."""
        master = MasterProblem(at_least(value) for value in dual_values.tolist())
        chosen: list[int] = []
        room = self._functions.sum(axis=1)
        joining = np.argsort(-room, kind="stable")[:ADDED]
        most = float("inf")
        for _ in range(MOST_ROUNDS):
            for row in joining.tolist():
                entries = tuple((n, f) for n, f in enumerate(self._functions[row].tolist()) if f)
                master.add_column(Column(cost=1.0, entries=entries))
                chosen.append(row)
            answer = master.solve(cancel=self._ask)
            if answer.status is not LinearStatus.OPTIMAL:
                # No functions chosen so far count all pieces.
                joining = self._missing(dual_values, chosen)
                if not joining.size:
                    break
                continue
            most = answer.cost
            reached = self._functions @ np.maximum(answer.duals, 0.0)
            order = np.argsort(-reached, kind="stable")[:ADDED]
            joining = order[reached[order] > 1.0 + NEAR]
            if not joining.size:
                break
        return np.array(chosen, dtype=np.int64), most

    def _missing(self, dual_values: Floats, chosen: Sequence[int]) -> Integers:
        """Return the function that counts most of the pieces no chosen one counts."""
        missed = (dual_values > 0) & ~(self._functions[list(chosen)] > 0).any(axis=0)
        counted = self._functions[:, missed].sum(axis=1)
        best = int(counted.argmax()) if counted.size else -1
        return np.array([best] if best >= 0 and counted[best] > 0 else [], dtype=np.int64)


def _ratios(functions: Floats, dual_values: Integers) -> Floats:
    """Return the most value for one of each function, of each item type and all later ones."""
    with np.errstate(divide="ignore"):
        each = dual_values / functions
    return np.ascontiguousarray(np.maximum.accumulate(each[:, ::-1], axis=1)[:, ::-1])
