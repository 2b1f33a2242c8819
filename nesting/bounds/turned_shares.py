"""Several pairs of dual-feasible functions at once, for pieces that may turn.

How many of each piece lie turned is the same number for every pair: one variable per piece links
them all. The linear program that spreads the turned pieces so that the worst pair proves least is
a bound no lower than any single pair's; its duals blend the pairs, and the blend is a certificate
by itself, for whatever weights. Pairs are added as they are found to be violated. Where all sheets
are square and all pieces may turn, the mean of a pair both ways (function_pairs) is as good.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.certificate import Certificate
from nesting.bounds.function_pairs import Table
from nesting.bounds.stopping import Ask, never
from nesting.programs.linear_programs import MasterProblem
from nesting.programs.programs import Column, LinearAnswer, LinearStatus, at_least

Integers = NDArray[np.int64]
Floats = NDArray[np.float64]
Pair = tuple[int, int]

ROUNDS = 25
AT_ONCE = 6
"""Pairs added in a round."""
VIOLATED = 1e-7
WEIGHT = 1 << 40
"""Of a pair that is given the whole weight, for what a sheet holds."""


def blended_pairs(table: Table, ask: Ask = never) -> Certificate | None:
    """Return the certificate of the best blend that was found; None when no pair was."""
    demand = table.demand.astype(float)
    count = demand.size
    x, y = _unit(table.x, table.room_x), _unit(table.y, table.room_y)
    first, second = slice(0, count), slice(count, 2 * count)
    # The least number of sheets, then per piece how many of it lie turned.
    program = MasterProblem([], [Column(cost=1.0, entries=())])
    for need in demand.tolist():
        program.add_column(Column(cost=0.0, entries=(), upper=need))
    turned = demand / 2
    pairs: list[Pair] = []
    sheets, answer = 0.0, None
    for _ in range(ROUNDS):
        value = (x[:, first] * (demand - turned)) @ y[:, first].T
        value += (x[:, second] * turned) @ y[:, second].T
        new = [pair for pair in _largest(value, sheets) if pair not in pairs]
        if not new:
            break
        for along, across in new:
            flat = x[along, first] * y[across, first]
            gains = x[along, second] * y[across, second] - flat
            entries = [(0, 1.0), *((n + 1, -float(gain)) for n, gain in enumerate(gains) if gain)]
            program.add_row(at_least(float(flat @ demand)), entries)
        pairs += new
        answer = program.solve(cancel=ask)
        if answer.status is not LinearStatus.OPTIMAL:
            return None
        sheets, turned = answer.cost, np.array(answer.values[1:])
    return None if answer is None else _blend(table, pairs, answer)


def _largest(value: Floats, sheets: float) -> list[Pair]:
    """Return the pairs that ask for most above the sheets there are, at most one per function."""
    best = value.argmax(axis=1)
    asked = value[np.arange(value.shape[0]), best]
    order = np.argsort(-asked, kind="stable")[:AT_ONCE]
    above = [row for row in order.tolist() if asked[row] > sheets * (1 + VIOLATED) + VIOLATED]
    return [(row, int(best[row])) for row in above]


def _blend(table: Table, pairs: Sequence[Pair], answer: LinearAnswer) -> Certificate:
    count = table.demand.size
    sums = [0] * (2 * count)
    most = [0] * table.room_x.shape[1]
    for (along, across), dual in zip(pairs, answer.duals, strict=True):
        held = _products(table.room_x[along], table.room_y[across])
        weight = round(max(dual, 0.0) * WEIGHT * WEIGHT / max(held))
        if weight:
            values = _products(table.x[along], table.y[across])
            sums = [old + weight * value for old, value in zip(sums, values, strict=True)]
            most = [old + weight * value for old, value in zip(most, held, strict=True)]
    dual_values = [min(pair) for pair in zip(sums[:count], sums[count:], strict=True)]
    return Certificate(dual_values=tuple(dual_values), most=tuple(most))


def _products(one: Integers, other: Integers) -> list[int]:
    return [a * b for a, b in zip(one.tolist(), other.tolist(), strict=True)]


def _unit(values: Integers, rooms: Integers) -> Floats:
    scaled: Floats = values / rooms.max(axis=1, keepdims=True)
    return scaled
