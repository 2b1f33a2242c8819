"""The certificates of a thorough look: counted functions, then bars, then relaxed layouts."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.bounds.certificate import Certificate
from nesting.bounds.relaxed_patterns import CALLS, Worths
from nesting.bounds.relaxed_sheet import Along
from nesting.bounds.scale_pairs import Functions, Worth, best_pairs, table_of, ways
from nesting.bounds.sides import Turns
from nesting.bounds.turned_shares import blended_pairs
from nesting.problem import Room
from nesting.solution import BoundKind

Floats = NDArray[np.float64]

MOST_KINDS = 200
"""With more sizes of piece the linear programs are left out."""
BAR_ROUNDS = 40
LEVELLED = 1
"""Place of the levelled values among the starts."""
KEPT = 0.3
"""How much of the values given remains in the levelled ones; the rest are areas."""
PATTERN_ROUNDS = 400


def thorough_certificates(
    pieces: Sequence[Turns], rooms: Sequence[Room], values: Floats | None, nodes: int
) -> Iterator[tuple[BoundKind, Certificate]]:
    """Yield certificates with their kind, starting the worths of pieces from the values given."""
    area = max(room.area for room in rooms)
    starts = [np.array([p.sides[0][0] * p.sides[0][1] / area for p in pieces])]
    for certificate in best_pairs(pieces, rooms, Functions.ALL):
        yield BoundKind.DUAL_FEASIBLE, certificate
        if len(starts) == 1:
            starts.append(np.array([float(worth) for worth in certificate.worths]))
    if Worth.LESS in ways(pieces, rooms):
        blend = blended_pairs(table_of(pieces, rooms, Worth.LESS, Functions.ALL))
        if blend is not None:
            yield BoundKind.DUAL_FEASIBLE, blend
    if len(pieces) > MOST_KINDS or not nodes:
        return
    if values is not None:
        own = np.where(np.isfinite(values), np.maximum(values, 0.0), 0.0)
        if own.any():
            same = own * float(starts[0] @ _needs(pieces)) / float(own @ _needs(pieces))
            # Less spread is easier to prove much of.
            starts.insert(LEVELLED, KEPT * same + (1 - KEPT) * starts[0])
            starts.append(own)
    goals = _goals(rooms)
    for costs in goals:
        for along in Along:
            worths = Worths(pieces, rooms, along, costs)
            if worths.usable:
                yield from _by_bars(worths, starts)
                starts.append(worths.best)
        # The levelled values, or else what bars like best.
        start = starts[-1] if values is None else starts[LEVELLED]
        yield from _by_patterns(pieces, rooms, costs, start, nodes // len(goals))


def _by_bars(worths: Worths, starts: Sequence[Floats]) -> Iterator[tuple[BoundKind, Certificate]]:
    for start in starts:
        yield BoundKind.BARS, worths.start(start, 0)[0]
    for certificate in worths.improve(BAR_ROUNDS, 0):
        yield BoundKind.BARS, certificate


def _by_patterns(
    pieces: Sequence[Turns],
    rooms: Sequence[Room],
    costs: Sequence[float],
    start: Floats,
    nodes: int,
) -> Iterator[tuple[BoundKind, Certificate]]:
    """Yield what relaxed layouts prove, along the side that proves more at first."""
    sides = [Worths(pieces, rooms, along, costs) for along in Along]
    sides = [worths for worths in sides if worths.usable]
    left = nodes
    for worths in sides:
        certificate, spent = worths.start(start, max(1, nodes // CALLS))
        left -= spent
        yield BoundKind.PATTERNS, certificate
    if sides and left > 0:
        chosen = max(sides, key=lambda worths: worths.proven)
        for certificate in chosen.improve(PATTERN_ROUNDS, left):
            yield BoundKind.PATTERNS, certificate


def _goals(rooms: Sequence[Room]) -> list[list[float]]:
    """Return the costs of a sheet of each room that the worths are to prove much of."""
    goals = [[1.0] * len(rooms)]
    prices = [room.price for room in rooms]
    if len(rooms) > 1 and all(prices):
        goals.append(prices)
    return goals


def _needs(pieces: Sequence[Turns]) -> Floats:
    return np.array([float(piece.demand) for piece in pieces])
