"""Sizes as they stand in a drawing: no unit at each of them, and no false digits."""

from __future__ import annotations

from parametric.geometry.space import SAME_MM
from parametric.stock.lengths import FINE_INCH, MM_PER_INCH, Units, show_length

_STEP_MM = float(FINE_INCH * MM_PER_INCH)


def drawn_length(mm: float, units: Units) -> str:
    """Return a length for a drawing: millimetres to 0.1; inches as fractions to 1/64 where the
    length is one, else in thousandths, which a rule does not show but a calliper does.

    >>> [drawn_length(9.45, Units.MM), drawn_length(9.525, Units.INCH)]
    ['9.5', '3/8"']
    >>> drawn_length(404.4, Units.INCH)
    '15.921"'
    """
    if units is Units.MM:
        return show_length(mm, units).removesuffix(" mm")
    steps = round(mm / _STEP_MM)
    if abs(steps * _STEP_MM - mm) > SAME_MM:
        return f'{mm / float(MM_PER_INCH):.3f}"'
    whole, part = divmod(steps * FINE_INCH, 1)
    words = [str(whole)] if whole or not part else []
    words += [f"{part.numerator}/{part.denominator}"] if part else []
    return f'{" ".join(words)}"'


MOST_OFF_MM = {Units.MM: 0.05, Units.INCH: 0.0005 * float(MM_PER_INCH)}
"""How far a size may be from what the drawing tells of it."""
