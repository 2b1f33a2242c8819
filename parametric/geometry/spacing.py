"""Where fasteners go along a line."""

from __future__ import annotations

import math
from itertools import pairwise

Interval = tuple[float, float]

LEAST_END_MM = 20.0  # five diameters of a 4 mm screw: NDS 2018 Commentary, table C12.1.5.7
LEAST_APART_MM = 60.0  # between two screws of a row with two more in between; common practice


def spread(length_mm: float, end_mm: float, most_mm: float) -> tuple[float, ...]:
    """Return even positions from `end_mm` to `length_mm - end_mm`, at most `most_mm` apart.

    At least two positions, so that a part cannot turn; one in the middle where two would stand so
    close that a crossing row found no room between them.
    """
    run = length_mm - 2 * end_mm
    if run < LEAST_APART_MM:
        return (length_mm / 2,)
    gaps = max(1, math.ceil(run / most_mm - 1e-9))
    return tuple(end_mm + run * index / gaps for index in range(gaps + 1))


def between(length_mm: float, positions: tuple[float, ...]) -> tuple[float, ...]:
    """Return positions for a second row of fasteners that crosses the first without meeting it.

    Half way between neighbours of the first row; at the thirds where the first row has two
    fasteners, and on both sides of a single one.
    """
    if len(positions) == 1:
        quarter_mm = positions[0] / 2
        end_mm = max(quarter_mm, LEAST_END_MM) if length_mm >= LEAST_APART_MM else quarter_mm
        return (end_mm, length_mm - end_mm)
    if len(positions) == 2:
        a, b = positions
        return (a + (b - a) / 3, a + (b - a) * 2 / 3)
    return tuple((a + b) / 2 for a, b in pairwise(positions))


def evenly_of(positions: tuple[float, ...], count: int) -> tuple[float, ...]:
    """Return at least `count` of the positions, both ends among them, as evenly as they allow and
    the same from either end: one more where the middle one of an odd count is missing.

    All of them where there are no more than `count`.
    """
    last = len(positions) - 1
    count += count % 2 and last % 2
    if last < count:
        return positions
    half = [round(last * at / (count - 1)) for at in range(count // 2)]
    middle = [last // 2] if count % 2 else []
    return tuple(positions[at] for at in (*half, *middle, *(last - at for at in reversed(half))))


def remaining(
    low: float, high: float, gaps: tuple[Interval, ...], least_mm: float
) -> tuple[Interval, ...]:
    """Return what is left of `low` to `high` between the `gaps`, pieces of at least `least_mm`."""
    pieces = []
    start = low
    for gap_low, gap_high in sorted(gaps):
        if gap_high <= start or gap_low >= high:
            continue
        pieces.append((start, gap_low))
        start = gap_high
    pieces.append((start, high))
    return tuple((a, b) for a, b in pieces if b - a >= least_mm)
