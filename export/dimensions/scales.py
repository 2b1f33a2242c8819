"""The scales of drawings by the units of a job, and how a scale is told on its page."""

from __future__ import annotations

from fractions import Fraction

from parametric.stock.lengths import Units

_INCHES_PER_FOOT = 12

# ISO 5455 has 1 : 2, 5, 10 and so on, and others between only where these do not serve: at 1 : 2.5,
# 7.5, 15, 25 and 30 a drawing is a third larger, or twice as large, as at the next of them, which
# would leave half of a page empty and its sizes hard to read. Inches: scales of buildings and
# cabinets, from 3" to 1/8" for a foot, and halves and wholes of what is drawn larger (common
# practice, no source).
_SCALES: dict[Units, tuple[float, ...]] = {
    Units.MM: (1, 2, 2.5, 5, 7.5, 10, 15, 20, 25, 30, 50, 100),
    Units.INCH: (1, 2, 4, 8, 12, 16, 24, 48, 96),
}


def scales_of(units: Units) -> tuple[float, ...]:
    """Return the scales that drawings may have, 1 to each of these, the largest first."""
    return _SCALES[units]


def told_scale(scale: float, units: Units) -> str:
    """Return how a scale is told: in inches also by what stands for a foot.

    >>> told_scale(2.5, Units.MM), told_scale(1, Units.INCH)
    ('1 : 2.5', '1 : 1')
    >>> told_scale(8, Units.INCH)
    '1 : 8, 1 1/2" = 1\\'-0"'
    """
    plain = f"1 : {scale:g}"
    if units is Units.MM or scale == 1 or scale not in _SCALES[units]:
        return plain
    whole, part = divmod(Fraction(_INCHES_PER_FOOT, int(scale)), 1)
    words = [*([str(whole)] if whole else []), *([str(part)] if part else [])]
    return f'{plain}, {" ".join(words)}" = 1\'-0"'
