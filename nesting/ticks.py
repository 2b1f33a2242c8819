"""Millimetres to ticks and back.

A tick is the whole-number length that the nest works in. Rounding always goes the safe way: a
piece or a gap never shrinks, a sheet never grows, so what fits in ticks fits in millimetres.
"""

import math

TICK_MM = 0.01
"""Length of one tick in millimetres."""

_GUARD_MM = 1e-6
"""Float noise that does not count as length: 400.0000001 mm is still 400 mm."""

_TICKS_PER_MM = 100


def piece_ticks(mm: float) -> int:
    """Return a piece's length in ticks, rounded up from millimetres.

    Raises:
        ValueError: the length is not a finite number.
    """
    return _up(mm)


def sheet_ticks(mm: float) -> int:
    """Return a sheet's length in ticks, rounded down from millimetres.

    Raises:
        ValueError: the length is not a finite number.
    """
    _require_finite(mm)
    return math.floor((mm + _GUARD_MM) * _TICKS_PER_MM)


def gap_ticks(mm: float) -> int:
    """Return a gap or a trim in ticks, rounded up from millimetres.

    Raises:
        ValueError: the length is not a finite number.
    """
    return _up(mm)


def to_mm(ticks: int) -> float:
    """Return the length in millimetres of a whole number of ticks."""
    return ticks / _TICKS_PER_MM


def _up(mm: float) -> int:
    _require_finite(mm)
    return math.ceil((mm - _GUARD_MM) * _TICKS_PER_MM)


def _require_finite(mm: float) -> None:
    if not math.isfinite(mm):
        raise ValueError(f"a length must be a finite number of millimetres, found {mm}")
