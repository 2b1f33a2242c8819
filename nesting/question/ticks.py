"""Millimetres to ticks and back.

A tick is the whole-number length that the nest works in: 1/1600 mm, of which 16 are 0.01 mm and
635 are 1/64 in, so that lengths on either grid are exact. What is on neither is rounded the safe
way: a piece or a gap never shrinks, a sheet never grows, so what fits in ticks fits in millimetres.
"""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

Millimetres: TypeAlias = float | Fraction
"""A length; a fraction holds what was typed without rounding."""

TICKS_PER_MM = 1600
TICKS_PER_INCH = 40640
"""The inch is 25.4 mm (agreement of 1959)."""

_GUARD_MM = 1e-6
"""Float noise that does not count as length: 400.0000001 mm is still 400 mm."""


def piece_ticks(mm: Millimetres) -> int:
    """Return a piece's length in ticks, rounded up from millimetres.

    Raises:
        ValueError: the length is not a finite number.
    """
    return _up(mm)


def sheet_ticks(mm: Millimetres) -> int:
    """Return a sheet's length in ticks, rounded down from millimetres.

    Raises:
        ValueError: the length is not a finite number.
    """
    return -_up(-mm)


def gap_ticks(mm: Millimetres) -> int:
    """Return a gap or a trim in ticks, rounded up from millimetres.

    Raises:
        ValueError: the length is not a finite number.
    """
    return _up(mm)


def to_mm(ticks: int) -> float:
    """Return the length in millimetres of a whole number of ticks."""
    return ticks / TICKS_PER_MM


def to_m2(square_ticks: int) -> float:
    """Return an area in square metres."""
    return square_ticks / (1000 * TICKS_PER_MM) ** 2


@dataclass(slots=True)
class Grid:
    """Rounds lengths to ticks as the functions here do, and keeps the most that one was rounded."""

    rounded_mm: float = 0.0

    def piece(self, mm: Millimetres) -> int:
        """Return a piece's length in ticks."""
        return self._kept(mm, piece_ticks(mm))

    def sheet(self, mm: Millimetres) -> int:
        """Return a sheet's length in ticks."""
        return self._kept(mm, sheet_ticks(mm))

    def gap(self, mm: Millimetres) -> int:
        """Return a gap or a trim in ticks."""
        return self._kept(mm, gap_ticks(mm))

    def _kept(self, mm: Millimetres, ticks: int) -> int:
        off_mm = float(abs(ticks - mm * TICKS_PER_MM)) / TICKS_PER_MM
        if off_mm > _GUARD_MM:
            self.rounded_mm = max(self.rounded_mm, off_mm)
        return ticks


def _up(mm: Millimetres) -> int:
    if isinstance(mm, Fraction):
        return math.ceil(mm * TICKS_PER_MM)
    if not math.isfinite(mm):
        raise ValueError(f"a length must be a finite number of millimetres, found {mm}")
    return math.ceil((mm - _GUARD_MM) * TICKS_PER_MM)
