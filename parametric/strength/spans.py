"""A beam on two supports, in closed form. Newtons and millimetres."""

from __future__ import annotations


def middle_moment_nmm(force_n: float, span_mm: float) -> float:
    """Return PL/4: the moment under a force in the middle."""
    return force_n * span_mm / 4


def spread_moment_nmm(load_n: float, span_mm: float) -> float:
    """Return WL/8: the moment in the middle under a load spread evenly over the span."""
    return load_n * span_mm / 8


def spread_sag_mm(load_n: float, span_mm: float, stiffness_nmm2: float) -> float:
    """Return 5WL3/384EI: the sag in the middle under a load spread evenly over the span."""
    return 5 * load_n * span_mm**3 / (384 * stiffness_nmm2)


def middle_sag_mm(force_n: float, span_mm: float, stiffness_nmm2: float) -> float:
    """Return PL3/48EI: the sag under a force in the middle."""
    return force_n * span_mm**3 / (48 * stiffness_nmm2)
