"""One sheet for the compiled loops, and the arrays that its filling is written to."""

from typing import NamedTuple

import numpy as np

from nesting.kernels.compiled import Flags, Integer, IntegerRows

FREE_RECTANGLES = 1024
"""Room for free rectangles beside that for three times the pieces, which the skyline needs; on a
sheet with more of them some are forgotten, which is safe."""


class Sheet(NamedTuple):
    """A sheet's sides in ticks, and its free rectangles as rows of x0, y0, x1, y1."""

    length: Integer
    width: Integer
    free: IntegerRows


class Filled(NamedTuple):
    """What lies on a sheet, and scratch to find it with; made once and used again.

    A row of `placed` is item type, x, y, turned; `taken` tells of each piece that was offered
    whether it was placed. `scratch` has rows of four for free rectangles, or for the skyline and
    its offers.
    """

    scratch: IntegerRows
    taken: Flags
    placed: IntegerRows


def scratch_for(pieces: int) -> IntegerRows:
    """Return scratch for the filling of a sheet that is offered so many pieces at most."""
    return np.empty((FREE_RECTANGLES + 3 * pieces + 1, 4), np.int64)


def unfilled(pieces: int) -> Filled:
    """Return the arrays for sheets that are offered so many pieces at most."""
    return Filled(
        scratch=scratch_for(pieces),
        taken=np.zeros(pieces, np.uint8),
        placed=np.empty((pieces, 4), np.int64),
    )
