"""Dual values that bars across and lines along the sheet, taken together, prove the most of.

Bars carry a part of the value of each turn of a piece and lines the rest; a sheet holds no more
than both together: the bar relaxation in both directions at once (Scheithauer 1999), as a linear
program whose rows are the bars and lines met so far. It proves nothing by itself.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.relaxed_sheet import RelaxedSheet
from nesting.bounds.stopping import Ask, never
from nesting.programs.linear_programs import MasterProblem
from nesting.programs.programs import Column, LinearStatus, at_least

Floats = NDArray[np.float64]

ROUNDS = 60
TURNS = 3000
"""Turns looked at in all rounds together: with many turns there are fewer rounds."""
KEPT = 0.5
"""How much of the best point remains in the next one: duals jump about less."""
ENOUGH = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True)
class BothWays:
    """What a piece of each item type is worth in sheets, and per room the part that bars carry."""

    dual_values: Floats
    parts: tuple[Floats, ...]


def both_ways(
    sheets: Sequence[RelaxedSheet], costs: Sequence[float], demand: Floats, ask: Ask = never
) -> BothWays | None:
    """Return the best dual values found, for rooms that cost something; None: there are none."""
    program = _Program(sheets, costs, demand)
    best: Floats | None = None
    proven = 0.0
    turns = max(1, sum(len(sheet.turns) for sheet in sheets))
    for _ in range(min(ROUNDS, TURNS // turns)):
        answer = program.master.solve(cancel=ask)
        if answer.status is not LinearStatus.OPTIMAL:
            break
        point = np.array(answer.values)
        if best is not None:
            point = KEPT * best + (1 - KEPT) * point
        held = program.look(point)
        value = float(program.dual_values(point) @ demand) / held if held > 0 else 0.0
        if best is None or value > proven:
            best, proven = point, value
        if -answer.cost < proven * (1 + ENOUGH):
            break
    if best is None or not proven:
        return None
    return BothWays(dual_values=program.dual_values(best), parts=program.parts(best))


@dataclass(slots=True)
class _RoomVariables:
    """Where the variables of a room are: bars and lines, then each turn's part of either."""

    sheet: RelaxedSheet
    cost: float
    turns: list[int]
    held: tuple[int, int]
    parts: tuple[slice, slice] = field(init=False)

    def __post_init__(self) -> None:
        first, count = self.held[1] + 1, len(self.turns)
        self.parts = slice(first, first + count), slice(first + count, first + 2 * count)


class _Program:
    """The linear program: dual values of pieces first, then the variables of each room."""

    def __init__(
        self, sheets: Sequence[RelaxedSheet], costs: Sequence[float], demand: Floats
    ) -> None:
        self._pieces = demand.size
        columns = [Column(cost=-need, entries=()) for need in demand.tolist()]
        self._rooms = []
        for sheet, cost in zip(sheets, costs, strict=True):
            room = _RoomVariables(sheet, cost, sheet.turns, (len(columns), len(columns) + 1))
            columns += [Column(cost=0.0, entries=())] * (2 + 2 * len(room.turns))
            self._rooms.append(room)
        self.master = MasterProblem([], columns)
        for room in self._rooms:
            self.master.add_row(at_least(-room.cost), [(at, -1.0) for at in room.held])
            for turn, piece in enumerate(room.turns):
                ways = [(part.start + turn, 1.0) for part in room.parts]
                self.master.add_row(at_least(0.0), [(piece, -1.0), *ways])
            # Bars and lines of one turn each: no value is without limit.
            for way, alone in enumerate((room.sheet.bars_of_one, room.sheet.lines_of_one)):
                for often in np.diag(alone):
                    self._add(room, way, often)

    def look(self, point: Floats) -> float:
        """Add the best bar and line of each room; return what a sheet holds at most by cost."""
        held = 0.0
        for room in self._rooms:
            both = 0.0
            looks: tuple[Callable[[Floats], tuple[float, Floats]], ...]
            looks = room.sheet.best_bar, room.sheet.best_line
            for way, (part, best) in enumerate(zip(room.parts, looks, strict=True)):
                most, taken = best(np.maximum(point[part], 0.0) / room.cost)
                self._add(room, way, taken)
                both += most
            held = max(held, both)
        return held

    def dual_values(self, point: Floats) -> Floats:
        """Return the dual values that both ways carry in every room."""
        dual_values = np.full(self._pieces, np.inf)
        for room in self._rooms:
            carried = sum(np.maximum(point[part], 0.0) for part in room.parts)
            np.minimum.at(dual_values, room.turns, carried)
        return np.where(np.isfinite(dual_values), dual_values, 0.0)

    def parts(self, point: Floats) -> tuple[Floats, ...]:
        """Return the part of each turn's value that bars carry, per room."""
        return tuple(
            point[bars] / np.maximum(point[bars] + point[lines], 1e-300)
            for bars, lines in (room.parts for room in self._rooms)
        )

    def _add(self, room: _RoomVariables, way: int, taken: Floats) -> None:
        first = room.parts[way].start
        entries = [(first + n, -float(often)) for n, often in enumerate(taken) if often]
        self.master.add_row(at_least(0.0), [(room.held[way], 1.0), *entries])
