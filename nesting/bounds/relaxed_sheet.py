"""What one sheet can hold at most, proven on a relaxed sheet.

On the relaxed sheet a piece has a place along one side only; at every spot there the pieces must
fit side by side across. Every true layout is one of the relaxed ones: it is the resource relaxation
of two-dimensional packing (Martello, Monaci and Vigo 2003; Cote, Dell'Amico and Iori 2014), here
with dual values to be collected. Branches are cut off by bars across the free part (a knapsack of
widths at every spot), by lines along it (a knapsack of lengths for every unit of width), and by
both at once, each for a part of every dual value: the bar relaxation of Scheithauer (1999) in both
directions.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto
from functools import reduce
from math import gcd

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.sides import Turns
from nesting.bounds.stopping import Ask, never
from nesting.kernels.bound_sheet import (
    BEST,
    PAUSED,
    PROVEN,
    SPENT,
    USED,
    Counted,
    Knapsacks,
    Places,
    bar_table,
    most_on_sheet,
    search_state,
)
from nesting.question.problem import Room

Integers = NDArray[np.int64]
Floats = NDArray[np.float64]

UNITS = 8192
"""A side is cut into so many units at most; sizes of pieces are rounded down to them."""
MEMORY = 1 << 17
"""States remembered at most."""
AT_ONCE = 500_000
"""Nodes between two looks at whether to stop: some tens of milliseconds."""
BITS = 62
FALL = 0.001
"""How much lower each threshold is than what is proven, as a share."""
DEARER = 3
"""With fewer than so many times the nodes of the last search left, thresholds fall half as fast."""
FINEST = 1e-4
"""Thresholds that fall by less are not tried."""
FINE = 1 << 48
"""Of a value of 1, for bars and lines that prove nothing."""
GOALS = (75, 50, 35, 25, 15, 8, 3, 0)
"""Thresholds to search above: percent of the way from the target to what is proven at once."""
GLANCE = 50
"""A search for a layout below a threshold that could not be proven takes one of so many shares."""


class Along(Enum):
    """The side of a sheet along which pieces have a place."""

    LENGTH = auto()
    WIDTH = auto()


@dataclass(frozen=True, slots=True)
class _Tables:
    """The value of a tick of each turn, and what bars and lines hold: of all, and of parts of it.

    `units` is the value of one unit of a turn's width.
    """

    ticks: Integers
    units: Integers
    bars: Integers
    lines: Integers
    bars_part: Integers
    lines_part: Integers


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The most value that a sheet can hold, as far as proven, and what came up on the way.

    `counts` is how often each piece lies in a relaxed layout worth more than the target; `mix` is
    a fractional layout worth `most`, for want of a layout that is. None where there is none.
    """

    most: int
    counts: tuple[int, ...] | None
    mix: tuple[float, ...] | None
    nodes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Above:
    """What a search for layouts worth more than a goal came to.

    `found` is how often each piece lies in such layouts. `most` is what no sheet holds more of, at
    most the goal; None unless the search shows that there are no such layouts.
    """

    most: int | None
    found: tuple[tuple[int, ...], ...]
    nodes: int


class RelaxedSheet:
    """The relaxed sheet of one room."""

    def __init__(self, pieces: Sequence[Turns], room: Room, along: Along, ask: Ask = never) -> None:
        """Take the turns that are no larger than the room, and whom to ask whether to stop."""
        self._ask = ask
        sides = (room.length, room.width)
        self._length, self._width = sides if along is Along.LENGTH else sides[::-1]
        turns = sorted(
            (*(turn if along is Along.LENGTH else turn[::-1]), number)
            for number, piece in enumerate(pieces)
            for turn in piece.within(room)
        )
        columns = np.array(turns, dtype=np.int64).reshape(len(turns), 3)
        self._lengths, self._widths, self._piece = columns.T.copy()
        self._unit_along = _unit(self._length, self._lengths)
        self._long, self._units_along = (
            self._lengths // self._unit_along,
            self._length // self._unit_along,
        )
        unit = _unit(self._width, self._widths)
        self._wide, self._units_across = self._widths // unit, self._width // unit
        demand = np.array([piece.demand for piece in pieces], dtype=np.int64)
        self._count, self._copies = demand.size, demand[self._piece]
        self._counted = _counted(
            demand, self._piece, self._length * self._width // (self._lengths * self._widths)
        )
        self._parts = np.ones(self._piece.size)

    @property
    def turns(self) -> list[int]:
        """Return the piece of each turn that is no larger than the room."""
        return [int(piece) for piece in self._piece]

    def part(self, parts: Floats) -> None:
        """Say which part of each turn's value (0 to 1) bars carry when lines carry the rest.

        It only says where to look: any parts prove what they prove.
        """
        self._parts = parts

    @property
    def bars_of_one(self) -> Floats:
        """Return how many of each turn the sheet takes when all its bars hold that turn only."""
        across = np.minimum(self._copies, self._units_across // self._wide)
        return np.asarray(across * (self._length / self._lengths))

    @property
    def lines_of_one(self) -> Floats:
        """Return the same for lines."""
        along = np.minimum(self._copies, self._units_along // self._long)
        return np.asarray(along * (self._units_across / self._wide))

    def best_bar(self, dual_values: Floats) -> tuple[float, Floats]:
        """Return the most value of one bar repeated along the sheet, and how often it takes each.

        `dual_values` are of each turn and at most about 1.
        """
        ticks = (dual_values * FINE / self._lengths).astype(np.int64)
        bars = bar_table(self._wide, ticks, self._copies, self._units_across)
        taken = _taken(bars, self._wide, ticks) * (self._length / self._lengths)
        return self._length * int(bars[-1, -1]) / FINE, taken

    def best_line(self, dual_values: Floats) -> tuple[float, Floats]:
        """Return the same for a line repeated across the sheet."""
        units = (dual_values * FINE / self._wide).astype(np.int64)
        lines = bar_table(self._long, units, self._copies, self._units_along)
        taken = _taken(lines, self._long, units) * (self._units_across / self._wide)
        return self._units_across * int(lines[-1, -1]) / FINE, taken

    @property
    def usable(self) -> bool:
        """Return whether every turn is at least a unit long and wide."""
        return bool((self._long > 0).all() and (self._wide > 0).all())

    def most(self, dual_values: Sequence[int], target: int, nodes: int) -> Held:
        """Return the most that the pieces on a sheet are worth, as near to `target` as proven.

        It takes about `nodes` nodes; with none, bars and lines alone decide. The value of as many
        copies of any piece as the sheet's area holds must stay below 2**58.
        """
        if not self._piece.size:
            return Held(most=0, counts=None, mix=None, nodes=0)
        tables = self._tables(dual_values)
        by_bars = self._length * int(tables.bars[-1, -1])
        by_lines = self._units_across * int(tables.lines[-1, -1])
        least, shown, counts, spent = self._at_once(tables), target, None, 0
        proving = True
        for goal in _goals(target, least) if nodes else ():
            allowed = max(1, (nodes - spent) // 2 if proving else nodes // GLANCE)
            best, more, complete, found = self._searched(tables, goal, allowed)
            spent += more
            # Without a find the search hands back the goal.
            if best > max(goal, shown):
                shown, counts = best, found
            if complete:
                least = best
            proving = proving and complete
            if best > goal:
                break
        mix = None
        if shown < least and by_bars <= by_lines:
            taken = _taken(tables.bars, self._wide, tables.ticks) * (self._length / self._lengths)
            mix = self._mix(taken * (least / by_bars))
        elif shown < least:
            taken = _taken(tables.lines, self._long, tables.units)
            mix = self._mix(taken * (self._units_across / self._wide) * (least / by_lines))
        return Held(most=least, counts=counts, mix=mix, nodes=spent)

    def above(self, dual_values: Sequence[int], goal: int, nodes: int) -> Above:
        """Search for a layout worth more than the goal.

        It takes about `nodes` nodes, and the dual values are limited as those of `most`.
        """
        if not self._piece.size:
            return Above(most=0, found=(), nodes=0)
        tables = self._tables(dual_values)
        least = self._at_once(tables)
        if least <= goal:
            return Above(most=least, found=(), nodes=0)
        best, spent, complete, counts = self._searched(tables, goal, nodes)
        found = (counts,) if best > goal else ()
        none = complete and not found
        return Above(most=goal if none else None, found=found, nodes=spent)

    def least(self, dual_values: Sequence[int], nodes: int) -> Held:
        """Return the same, searched above thresholds that fall step by step until nodes run out.

        It proves more than `most` does of dual values that are good already, and needs more nodes.
        """
        if not self._piece.size:
            return Held(most=0, counts=None, mix=None, nodes=0)
        tables = self._tables(dual_values)
        least = self._at_once(tables)
        counts, spent, step = None, 0, FALL
        while spent < nodes:
            goal = least - int(least * step)
            best, more, complete, found = self._searched(tables, goal, (nodes - spent) // 2 + 1)
            spent += more
            if best > goal:
                counts = found
            if complete:
                least = best
            if best > goal:
                break
            if not complete or more * DEARER > nodes - spent:
                step /= 2
            if step < FINEST:
                break
        return Held(most=least, counts=counts, mix=None, nodes=spent)

    def _at_once(self, tables: _Tables) -> int:
        by_bars = self._length * int(tables.bars[-1, -1])
        by_lines = self._units_across * int(tables.lines[-1, -1])
        by_both = self._length * int(tables.bars_part[-1, -1])
        by_both += self._units_across * int(tables.lines_part[-1, -1])
        return min(by_bars, by_lines, by_both)

    def _tables(self, dual_values: Sequence[int]) -> _Tables:
        ticks = -(-np.array(dual_values, dtype=np.int64)[self._piece] // self._lengths)
        # A piece lies in as many lines as it has units of width.
        units = -(-ticks * self._lengths // self._wide)
        across, along = self._units_across, self._units_along
        bars = bar_table(self._wide, ticks, self._copies, across)
        lines = bar_table(self._long, units, self._copies, along)
        if (self._parts >= 1.0).all():
            bars_part, lines_part = bars, np.zeros_like(lines)
        else:
            part = np.minimum(ticks, (ticks * self._parts).astype(np.int64))
            rest = -(-(ticks - part) * self._lengths // self._wide)
            bars_part = bar_table(self._wide, part, self._copies, across)
            lines_part = bar_table(self._long, rest, self._copies, along)
        return _Tables(
            ticks=ticks,
            units=units,
            bars=bars,
            lines=lines,
            bars_part=bars_part,
            lines_part=lines_part,
        )

    def _searched(
        self, tables: _Tables, goal: int, nodes: int
    ) -> tuple[int, int, bool, tuple[int, ...]]:
        columns = np.stack([self._lengths, self._wide, tables.ticks, self._piece], axis=1)
        memory = min(MEMORY, 1 << max(8, (nodes // 64).bit_length()))
        state = search_state(self._units_across, len(columns), self._count, goal, memory)
        places = Places(self._length, columns, self._unit_along)
        knapsacks = Knapsacks(
            bars=tables.bars,
            lines=tables.lines[-1].copy(),
            bars_part=tables.bars_part,
            lines_part=tables.lines_part[-1].copy(),
        )
        ended = PAUSED
        while ended == PAUSED:
            self._ask()
            pause = int(state.standing[SPENT]) + AT_ONCE
            ended = most_on_sheet(places, knapsacks, self._counted, nodes, pause, state)
        counts = np.zeros(self._count, dtype=np.int64)
        np.add.at(counts, self._piece, state.found)
        best, spent = int(state.standing[BEST]), int(state.standing[SPENT])
        return best, spent, ended == PROVEN, tuple(counts.tolist())

    def _mix(self, taken: Floats) -> tuple[float, ...]:
        mix = np.zeros(self._count)
        np.add.at(mix, self._piece, taken)
        return tuple(mix.tolist())


def _taken(table: Integers, sizes: Integers, dual_values: Integers) -> Floats:
    """Return how often the best bar of a table takes each turn."""
    taken, left = np.zeros(sizes.size), table.shape[1] - 1
    for m in range(sizes.size, 0, -1):
        size, value = int(sizes[m - 1]), int(dual_values[m - 1])
        copies = 0
        while table[m, left] != table[m - 1, left - copies * size] + copies * value:
            copies += 1
        left -= copies * size
        taken[m - 1] = copies
    return taken


def _counted(demand: Integers, piece: Integers, fitting: Integers) -> Counted:
    """Return how many of each piece to use, and the bits where those are counted that limits bind.

    Where the bits do not suffice, any number may be used: a relaxation.
    """
    word, shift = np.full(demand.size, -1, dtype=np.int64), np.zeros(demand.size, dtype=np.int64)
    limits = np.full(demand.size, np.iinfo(np.int64).max, dtype=np.int64)
    room = dict(zip(piece.tolist(), fitting.tolist(), strict=True))
    at = bits = 0
    for one in sorted(room, key=lambda one: (int(demand[one]), one)):
        copies = int(demand[one])
        needed = copies.bit_length()
        if copies >= room[one]:
            continue
        if bits + needed > BITS:
            at, bits = at + 1, 0
        if at >= USED or needed > BITS:
            break
        word[one], shift[one], limits[one] = at, bits, copies
        bits += needed
    return Counted(limits, word, shift)


def _goals(target: int, least: int) -> list[int]:
    return [target + max(0, least - target) * share // 100 for share in GOALS]


def _unit(side: int, sizes: Integers) -> int:
    """Return the length of which all sizes are multiples, or one so large that few units remain."""
    common = reduce(gcd, sizes.tolist(), 0) or 1
    return common if side // common <= UNITS else -(-side // UNITS)
