"""Dual-feasible functions: other lengths for the sides of pieces that keep every row of them legal.

Sides that lie in one row within `whole` also do when each is replaced by its value, against the
value of `whole`. All functions here are superadditive and never fall, so that their value at the
length of a smaller room is what a row there can hold at most. None is chosen by the pieces: with
a piece less, the same ones are tried.

Sources: Fekete and Schepers (2001, 2004) for the threshold and rounding functions, Carlier,
Clautiaux and Moukrim (2007) for `f2`; Clautiaux, Alves and Valerio de Carvalho (2010) review them
and their compositions.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Sides = NDArray[np.int64]
"""Sides in ticks, each from 0 to `whole`."""

FINEST = 400
"""Up to this many ticks every threshold is tried, above it as many as would fit half of them."""
ROUNDINGS = 20
MOST_FUNCTIONS = 1_000
"""About as many functions are there; of very many sides, each is tried on fewer of them."""
MOST_VALUES = 4_000_000
MOST_COUNTED = 150
COARSEST = 40


def dual_feasible_functions(sides: Sides, whole: int, every: int = 1) -> NDArray[np.int64]:
    """Return the different functions as rows: the values of the sides, then the one of `whole`.

    Of all functions it may be every second one only, and so on, beginning with the first.
    """
    argument = np.append(sides, whole)
    step = max(every, -(-MOST_FUNCTIONS * argument.size // MOST_VALUES))
    rows = _functions(argument, whole, step)
    return rows[_distinct(rows)]


def counting_functions(
    sides: Sides, whole: int, turns: Sides, copies: NDArray[np.int64]
) -> NDArray[np.int64]:
    """Return Carlier, Clautiaux and Moukrim's f1 as rows, which counts the pieces that there are.

    `turns` has a row per piece with the sides that it may have along `whole`, of which one at a
    time lies in a row. These are chosen by the pieces: with a piece less, they may prove more.
    """
    argument = np.append(sides, whole)
    least = np.unique(turns[2 * turns <= whole])
    least = least[:: -(-least.size // MOST_COUNTED) or 1]
    rows = [counted(argument, whole, int(side), turns, copies) for side in least if side > 0]
    if not rows:
        return np.zeros((0, argument.size), dtype=np.int64)
    stacked = np.stack(rows)
    return stacked[_distinct(stacked)]


def counted(sides: Sides, whole: int, least: int, turns: Sides, copies: NDArray[np.int64]) -> Sides:
    """Return f1: a side from `least` to half counts 1, a longer one what it leaves no place for."""
    small = (turns >= least) & (2 * turns <= whole)
    own = np.where(small, turns, whole + 1).min(axis=1)
    order = np.argsort(own[own <= whole], kind="stable")
    sizes, counts = own[own <= whole][order], copies[own <= whole][order]
    most = _packed(np.array([whole]), sizes, counts)
    beside = _packed(whole - sides, sizes, counts)
    return np.where(2 * sides > whole, most - beside, np.where(sides >= least, 1, 0))


def _packed(lengths: Sides, sizes: Sides, counts: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return how many of the pieces fit each length in a row; sizes rise."""
    number = np.concatenate([[0], np.cumsum(counts)])
    reach = np.concatenate([[0], np.cumsum(sizes * counts)])
    whole = np.searchsorted(reach, lengths, side="right") - 1
    following = np.append(sizes, 1)[whole]
    part = np.where(whole < sizes.size, (lengths - reach[whole]) // following, 0)
    return number[whole] + part


def threshold(sides: Sides, whole: int, least: int | Sides) -> Sides:
    """Return Fekete and Schepers' U: nothing below `least`, all of the row where no more fits."""
    return np.where(sides > whole - least, whole, np.where(sides < least, 0, sides))


def rounding(sides: Sides, whole: int, parts: int | Sides) -> Sides:
    """Return Fekete and Schepers' u with k = `parts`, times k times `whole`."""
    grown = (parts + 1) * sides
    return np.where(grown % whole == 0, parts * sides, grown // whole * whole)


def counting(sides: Sides, whole: int, unit: int | Sides) -> Sides:
    """Return Carlier, Clautiaux and Moukrim's f2: how many units a side leaves no place for."""
    most = whole // unit
    above = 2 * (most - (whole - sides) // unit)
    return np.where(2 * sides > whole, above, np.where(2 * sides == whole, most, sides // unit * 2))


def _functions(sides: Sides, whole: int, step: int) -> NDArray[np.int64]:
    """Return every so many of all functions as rows."""
    thresholds, units = _thresholds(whole), _units(whole)
    both: list[tuple[int, ...]] = [(least, parts) for least in thresholds for parts in (1, 2)]
    # Each kind of function with what its functions differ in: all of a kind are computed at once.
    kinds: list[tuple[Callable[..., Sides], list[tuple[int, ...]]]] = [
        (lambda sides, _: sides[None, :], [()]),
        (threshold, [(least,) for least in thresholds]),
        (rounding, [(parts,) for parts in range(1, ROUNDINGS + 1)]),
        (_rounded_threshold, both),
        (counting, [(unit,) for unit in units]),
    ]
    rows, first = [], 0
    for function, those in kinds:
        chosen = np.array(those[first::step], dtype=np.int64)
        if len(chosen):
            rows.append(function(sides, whole, *chosen.T[:, :, None]))
        first = (first - len(those)) % step
    return np.concatenate(rows)


def _rounded_threshold(sides: Sides, whole: int, least: Sides, parts: Sides) -> Sides:
    return rounding(threshold(sides, whole, least), whole, parts)


def _thresholds(whole: int) -> list[int]:
    if whole <= FINEST:
        return list(range(1, whole // 2 + 1))
    even = {whole * n // FINEST for n in range(1, FINEST // 2 + 1)}
    return sorted(even.union(_units(whole)))


def _units(whole: int) -> list[int]:
    """Return the lengths of which exactly 2, 3, ... fit, the shortest and the longest of each."""
    if whole <= FINEST:
        return list(range(1, whole // 2 + 1))
    longest = {whole // n for n in range(2, COARSEST + 1)}
    shortest = {whole // (n + 1) + 1 for n in range(2, COARSEST + 1)}
    return sorted(longest | shortest)


def _distinct(rows: NDArray[np.int64]) -> list[int]:
    """Return the first of each set of rows that are equal but for their unit."""
    holding = np.flatnonzero(rows[:, -1] > 0)
    units = rows[holding]
    units //= np.gcd.reduce(units, axis=1, keepdims=True)
    seen: dict[bytes, int] = {}
    for place, row in zip(holding.tolist(), units, strict=True):
        seen.setdefault(row.tobytes(), place)
    return list(seen.values())
