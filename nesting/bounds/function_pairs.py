"""All pairs of dual-feasible functions, one along the sheet and one across it, tried at once.

A piece is worth the product of its two values, and a sheet holds the product of the values of its
own sides at most (Fekete and Schepers 2004, theorem on conservative scales). A piece that may turn
is worth the smaller product. Where all sheets are square, the pair holds with its functions
exchanged too, so the mean of the two is a value that no turn changes: for two turns that is the
bound of Clautiaux, Jouglet and El Hayek (2007), and never below the smaller product.

Products are compared as floats; what is handed back is made of exact integers.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from functools import partial
from math import isqrt

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.certificate import Certificate
from nesting.bounds.dual_feasible import counting_functions, dual_feasible_functions
from nesting.bounds.sides import Turns
from nesting.bounds.stopping import Ask, never
from nesting.question.problem import Room

Integers = NDArray[np.int64]
Floats = NDArray[np.float64]
Score = Callable[[Floats, Floats], Floats]
"""What pairs prove: from their dual values and, per room, what a sheet holds at most."""

NEAR = 1e-9
"""Relative distance within which floats may stand in the wrong order."""
CONFIRMED = 24
AT_ONCE = 1_000_000
"""Products that are summed in one go, over some pairs and all pieces."""


class TurnValue(Enum):
    """How a pair of functions values a piece."""

    ONLY = auto()
    """By its only turn."""
    LESS = auto()
    """By the turn that is worth less."""
    MEAN = auto()
    """By the mean with the functions exchanged."""


class Functions(Enum):
    """Which functions are tried."""

    FIXED = auto()
    """Those that do not depend on the pieces."""
    ALL = auto()
    """Those that count the pieces too, where the rooms agree in their side."""


def best_pairs(
    pieces: Sequence[Turns], rooms: Sequence[Room], functions: Functions, ask: Ask = never
) -> Iterator[Certificate]:
    """Yield the certificates, by piece, of the pairs that prove most for sheets or for price."""
    for way in ways(pieces, rooms):
        table = table_of(pieces, rooms, way, functions)
        ask()
        for along, across in sorted(_most_proving(table, rooms, way, ask)):
            yield table.certificate(along, across, way)


def ways(pieces: Sequence[Turns], rooms: Sequence[Room]) -> list[TurnValue]:
    """Return the ways to value pieces of which none is sure to prove less than another."""
    may_turn = [len(piece.sides) == 2 for piece in pieces]
    if not any(may_turn):
        return [TurnValue.ONLY]
    if not _square(rooms):
        return [TurnValue.LESS]
    return [TurnValue.MEAN] if all(may_turn) else [TurnValue.MEAN, TurnValue.LESS]


@dataclass(frozen=True, slots=True)
class Table:
    """The functions (rows) at the sides of the pieces and of the rooms (columns).

    `x` and `y` hold the first turn of all pieces, then their second, which is the first again
    where there is none.
    """

    x: Integers
    y: Integers
    room_x: Integers
    room_y: Integers
    demand: Integers

    def certificate(self, along: int, across: int, way: TurnValue) -> Certificate:
        """Return what one pair proves, in exact integers."""
        x, y = self.x[along].tolist(), self.y[across].tolist()
        held = zip(self.room_x[along].tolist(), self.room_y[across].tolist(), strict=True)
        most = [a * b for a, b in held]
        products = [a * b for a, b in zip(x, y, strict=True)]
        first, second = products[: self.demand.size], products[self.demand.size :]
        if way is TurnValue.MEAN:
            x, y = self.x[across].tolist(), self.y[along].tolist()
            exchanged = (a * b for a, b in zip(x, y, strict=True))
            dual_values = [a + b for a, b in zip(first, exchanged, strict=False)]
            most = [2 * held for held in most]
        else:
            dual_values = [min(pair) for pair in zip(first, second, strict=True)]
        return Certificate(dual_values=tuple(dual_values), most=tuple(most))


def table_of(
    pieces: Sequence[Turns], rooms: Sequence[Room], way: TurnValue, functions: Functions
) -> Table:
    """Return the table of all functions; for the mean, with the same ones in both directions."""
    demand = np.array([piece.demand for piece in pieces], dtype=np.int64)
    sides = np.array([[piece.sides[0], piece.sides[-1]] for piece in pieces], dtype=np.int64)
    x, y = sides[:, :, 0], sides[:, :, 1]
    lengths = np.array([room.length for room in rooms], dtype=np.int64)
    widths = np.array([room.width for room in rooms], dtype=np.int64)
    along = np.concatenate([x.T.ravel(), lengths])
    across = np.concatenate([y.T.ravel(), widths])
    if way is TurnValue.MEAN:
        # The same functions both ways, so that any two can be exchanged.
        both, turns = np.concatenate([along, across]), np.concatenate([x, y], axis=1)
        rows = _rows(both, lengths, turns, demand, functions)
        rows_x, rows_y = rows[:, : along.size], rows[:, along.size : -1]
    else:
        rows_x = _rows(along, lengths, x, demand, functions)[:, :-1]
        rows_y = _rows(across, widths, y, demand, functions)[:, :-1]
    count = 2 * demand.size
    return Table(rows_x[:, :count], rows_y[:, :count], rows_x[:, count:], rows_y[:, count:], demand)


def _rows(
    argument: Integers, wholes: Integers, turns: Integers, demand: Integers, functions: Functions
) -> Integers:
    whole = int(wholes.max())
    # Each pair is weighed against every room: from four rooms on there are fewer pairs.
    rows = dual_feasible_functions(argument, whole, every=isqrt(wholes.size))
    if functions is Functions.FIXED or wholes.min() < whole:
        return rows
    return np.concatenate([rows, counting_functions(argument, whole, turns, demand)])


def _most_proving(
    table: Table, rooms: Sequence[Room], way: TurnValue, ask: Ask
) -> set[tuple[int, int]]:
    # What the best room holds is 1, so that floats stay small.
    unit_x = table.room_x.max(axis=1, keepdims=True).astype(float)
    unit_y = table.room_y.max(axis=1, keepdims=True).astype(float)
    count = table.demand.size
    x, y = table.x / unit_x, table.y / unit_y
    held = (table.room_x / unit_x)[:, None, :] * (table.room_y / unit_y)[None, :, :]
    value = (x[:, :count] * table.demand) @ y[:, :count].T
    found: set[tuple[int, int]] = set()
    if way is TurnValue.MEAN:
        value = (value + value.T) / 2
    if way is TurnValue.LESS:
        # No pair is worth more than all pieces in their first turn, or all in their second.
        value = np.minimum(value, (x[:, count:] * table.demand) @ y[:, count:].T)
    for score in _scores(rooms):
        scored = score(value, held)
        if way is TurnValue.LESS:
            scored = _refined(scored, x, y, held, table.demand, score, ask)
        found.update(_top(scored))
    return found


def _refined(
    upper: Floats, x: Floats, y: Floats, held: Floats, demand: Integers, score: Score, ask: Ask
) -> Floats:
    """Return the true scores of the pairs that can be best; those of the others are 0."""
    count = demand.size
    true = np.zeros_like(upper)
    order = np.argsort(-upper, axis=None, kind="stable")
    pairs = max(1, AT_ONCE // count)
    for start in range(0, order.size, pairs):
        ask()
        along, across = np.unravel_index(order[start : start + pairs], upper.shape)
        if upper[along[0], across[0]] < true.max() * (1 - NEAR):
            break
        products = x[along] * y[across]
        value = np.minimum(products[:, :count], products[:, count:]) @ demand.astype(float)
        true[along, across] = score(value, held[along, across])
    return true


def _top(scored: Floats) -> list[tuple[int, int]]:
    near = np.flatnonzero(scored >= scored.max() * (1 - NEAR))[:CONFIRMED]
    along, across = np.unravel_index(near, scored.shape)
    return list(zip(along.tolist(), across.tolist(), strict=True))


def _scores(rooms: Sequence[Room]) -> list[Score]:
    limits = np.array([np.inf if room.on_hand is None else room.on_hand for room in rooms])
    costs = [np.ones(len(rooms))]
    if len(rooms) > 1:
        costs.append(np.array([room.price for room in rooms]))
    return [partial(_least, costs=cost, limits=limits) for cost in costs]


def _least(value: Floats, held: Floats, *, costs: Floats, limits: Floats) -> Floats:
    """Return the least cost of fractions of sheets that hold so much, infinite when none do."""
    # What is free is taken first, all at once: there may be many remnants.
    free = (costs == 0) & np.isfinite(limits)
    missing = np.maximum(value - held[..., free] @ limits[free], 0.0)
    held, costs, limits = held[..., ~free], costs[~free], limits[~free]
    with np.errstate(divide="ignore", invalid="ignore"):
        ratios = np.where(held > 0, costs / held, np.inf)
    order = np.argsort(ratios, axis=-1, kind="stable")
    cost = np.zeros_like(value)
    for rank in range(costs.size):
        place = order[..., rank : rank + 1]
        ratio = np.take_along_axis(ratios, place, -1)[..., 0]
        ratio[np.isinf(ratio)] = 0.0  # of a room that holds nothing, and none is taken
        room = np.take_along_axis(held, place, -1)[..., 0]
        with np.errstate(invalid="ignore"):
            within = np.where(room > 0, room * limits[place[..., 0]], 0.0)
        taken = np.minimum(missing, within)
        cost += taken * ratio
        missing = missing - taken
    return np.where(missing > NEAR * value, np.inf, cost)


def _square(rooms: Sequence[Room]) -> bool:
    return all(room.length == room.width for room in rooms)
