"""A tube that stands free under a deck, as a column: AISC 360, E3 (from memory)."""

from __future__ import annotations

import math

from parametric.strength.steel_angle import SAFETY, STEEL_N_MM2

AISC_E3 = "AISC 360 E3, allowable strength design (from memory)"
FREE_HEAD = 2.1  # effective length of a column fixed at one end, free at the other: AISC C-A-7.1
TUBE_YIELD_N_MM2 = 235.0  # the least that structural tube has: EN 10025-2 S235, from memory

AISC_B4 = "AISC 360 table B4.1a, round tubes (from memory)"


def least_wall_mm(diameter_mm: float) -> float:
    """Return the wall below which the tube dents before it yields: D/t of 0.11 E/Fy."""
    return diameter_mm * TUBE_YIELD_N_MM2 / (0.11 * STEEL_N_MM2)


def allowable_load_n(diameter_mm: float, wall_mm: float, height_mm: float) -> float:
    """Return what the tube may carry, its head free to sway."""
    inside = diameter_mm - 2 * wall_mm
    area = math.pi / 4 * (diameter_mm**2 - inside**2)
    radius = math.sqrt(diameter_mm**2 + inside**2) / 4
    elastic = (math.pi / (FREE_HEAD * height_mm / radius)) ** 2 * STEEL_N_MM2
    ratio = TUBE_YIELD_N_MM2 / elastic
    critical = 0.658**ratio * TUBE_YIELD_N_MM2 if ratio <= 2.25 else 0.877 * elastic
    return critical * area / SAFETY
