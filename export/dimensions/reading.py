"""Sizes as they stand in a drawing: no unit at each of them, and no false digits."""

from __future__ import annotations

from parametric.stock.lengths import MM_PER_INCH, Units, show_cut_length, show_length


def drawn_length(mm: float, units: Units) -> str:
    """Return a length for a drawing, as `show_cut_length` tells it.

    >>> [drawn_length(9.45, Units.MM), drawn_length(9.525, Units.INCH)]
    ['9.5', '3/8"']
    """
    return show_cut_length(mm, units).removesuffix(" mm")


def taped_length(mm: float, units: Units) -> str:
    """Return a length for a drawing of what is measured with a tape: millimetres to 0.1, inches to
    1/32.

    >>> taped_length(404.4, Units.INCH)
    '15 29/32"'
    """
    return show_length(mm, units).removesuffix(" mm")


def drawn_depth(mm: float, units: Units) -> str:
    """Return a depth for a drawing, as fine as it is set at a machine: millimetres to 0.01.

    >>> drawn_depth(9.45, Units.MM), drawn_depth(9.525, Units.INCH)
    ('9.45', '3/8"')
    """
    return drawn_length(mm, units) if units is Units.INCH else f"{round(mm, 2):g}"


MOST_OFF_MM = {Units.MM: 0.05, Units.INCH: 0.0005 * float(MM_PER_INCH)}
"""How far a size may be from what the drawing tells of it."""
