"""Scratch arrays of the compiled loops, made once and used again."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FREE_RECTANGLES = 1024
"""Room for free rectangles beside that for three times the pieces, which the skyline needs; on a
sheet with more of them some are forgotten, which is safe."""

Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class SheetWork:
    """Scratch for filling sheets from lists of at most so many pieces."""

    scratch: Whole
    order: Whole
    keys: NDArray[np.float64]
    taken: NDArray[np.uint8]


def sheet_work(pieces: int) -> SheetWork:
    """Return scratch for lists of at most so many pieces."""
    return SheetWork(
        scratch=np.empty((FREE_RECTANGLES + 3 * pieces + 1, 4), np.int64),
        order=np.zeros(pieces, np.int64),
        keys=np.zeros(pieces, np.float64),
        taken=np.zeros(pieces, np.uint8),
    )
