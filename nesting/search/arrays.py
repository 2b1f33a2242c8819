"""A problem as plain arrays for the compiled loops."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.kernels.sheets import Arrays
from nesting.question.problem import Problem
from nesting.search.pattern import Pattern, Spot, pattern_of

Whole = NDArray[np.int64]

FREE_NEST = -1
ANY_STAGES = 0


def arrays_of(problem: Problem) -> Arrays:
    """Return the problem as arrays."""
    free = [
        (rectangle.x, rectangle.y, rectangle.x + rectangle.length, rectangle.y + rectangle.width)
        for room in problem.rooms
        for rectangle in room.free
    ]
    starts = np.cumsum([0, *(len(room.free) for room in problem.rooms)])
    stages = FREE_NEST if problem.saw is None else problem.saw.stages or ANY_STAGES
    return Arrays(
        item_types=_rows(
            [(k.length, k.width, int(k.turnable), k.rim) for k in problem.item_types], 4
        ),
        rooms=_rows([(room.length, room.width) for room in problem.rooms], 2),
        free=_rows(free, 4),
        free_of=starts.astype(np.int64),
        stages=stages,
    )


def pattern_from(room: int, rows: Whole) -> Pattern:
    """Return the pattern whose placements are rows of item type, x, y, turned."""
    return pattern_of(room, [Spot(k, x, y, bool(turned)) for k, x, y, turned in rows.tolist()])


def rows_from(pattern: Pattern) -> Whole:
    """Return the placements of a pattern as rows of item type, x, y, turned."""
    return _rows([(s.item_type, s.x, s.y, int(s.turned)) for s in pattern.spots], 4)


def _rows(rows: Sequence[tuple[int, ...]], columns: int) -> Whole:
    return np.array(rows, dtype=np.int64).reshape(len(rows), columns)
