"""Bending of an equal-leg steel angle about the axis along its flat leg, with square corners.

Closed forms of two rectangles by parallel axes. Strength: AISC 360, F10, for angles that nothing
holds against turning sideways, allowable strength design; from memory.
"""

from __future__ import annotations

import math

from parametric.stock.hardware import AngleSection

STEEL_N_MM2 = 200_000.0  # modulus of elasticity; AISC 360
UNRESTRAINED = 0.80  # of the section modulus counts: AISC 360 F10, from memory
SAFETY = 1.67  # AISC 360 F1, allowable strength design; from memory
AISC_F10 = "AISC 360 F10, allowable strength design (from memory)"


def centroid_mm(section: AngleSection) -> float:
    """Return how far the centroid lies from the back of a leg."""
    b, t = section.leg_mm, section.thickness_mm
    return (b * t * t / 2 + (b - t) * t * (t + (b - t) / 2)) / section.area_mm2


def second_moment_mm4(section: AngleSection) -> float:
    """Return the second moment of area about the centroid's axis along one leg."""
    b, t, y = section.leg_mm, section.thickness_mm, centroid_mm(section)
    flat = b * t**3 / 12 + b * t * (y - t / 2) ** 2
    upright = t * (b - t) ** 3 / 12 + (b - t) * t * (t + (b - t) / 2 - y) ** 2
    return flat + upright


def section_modulus_mm3(section: AngleSection) -> float:
    """Return the elastic section modulus to the toe of the upright leg."""
    return second_moment_mm4(section) / (section.leg_mm - centroid_mm(section))


def critical_moment_nmm(section: AngleSection, span_mm: float) -> float:
    """Return the elastic moment at which the angle buckles sideways, its toe in compression.

    AISC 360-16 F10-5a, with Cb = 1; from memory. Safe as well for a toe in tension.
    """
    b, t = section.leg_mm, section.thickness_mm
    slender = span_mm * t / b**2
    return 0.58 * STEEL_N_MM2 * b**4 * t / span_mm**2 * (math.sqrt(1 + 0.88 * slender**2) - 1)


def allowable_moment_nmm(section: AngleSection, span_mm: float) -> float:
    """Return the moment that the angle may bear over the span.

    First yield on 0.80 of the section modulus, less if it buckles sideways before, over 1.67: what
    F10 allows beyond first yield is left in hand.
    """
    yielding = UNRESTRAINED * section.yield_n_mm2 * section_modulus_mm3(section)
    critical = critical_moment_nmm(section, span_mm)
    if yielding <= critical:
        nominal = (1.92 - 1.17 * math.sqrt(yielding / critical)) * yielding
    else:
        nominal = (0.92 - 0.17 * critical / yielding) * critical
    return min(nominal, yielding) / SAFETY
