"""Wood screws in solid wood: withdrawal, lateral load and both together, by NDS 2018.

National Design Specification for Wood Construction, 2018 edition; clauses beside each formula, read
in secondary text. They hold for the side grain of solid wood of specific gravity .31 to .73 and for
nothing else: not for particleboard, MDF or end grain. Factors for duration, moisture and heat are
1.0. The publication counts in pounds and inches; here newtons and millimetres go in and out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric.stock.hardware import MadeFor, Screw

INCH_MM = 25.4
POUND_N = 4.4482216152605  # exact: NIST SP 811, appendix B
PSI_N_MM2 = POUND_N / INCH_MM**2
NDS = "NDS 2018 chapter 12 (solid wood only)"
NUMBER_6_MM = 0.138 * INCH_MM  # the thinnest of table 12.2B
GRAVITIES = (0.31, 0.73)  # NDS 2018 table 12.2B
STEEL_PLATE_N_MM2 = 61_850 * PSI_N_MM2  # bearing of a thin steel plate: NDS 2018 table 12M, note 2
FULL_PENETRATION, LEAST_PENETRATION = 10.0, 6.0  # diameters: NDS 2018 tables 12L and 12M, 12.1.5.6
# Bending yield strength of the screw by its diameter: NDS 2018 appendix I, table I1.
_BENDING_YIELD_PSI = ((0.142, 100_000.0), (0.177, 90_000.0), (0.236, 80_000.0), (0.273, 70_000.0))


def covers(screw: Screw) -> bool:
    """Return whether the formulas here are for the screw: a wood screw, No. 6 and up, and thinner
    than 1/4 in, where the rules for bearing and reduction change.
    """
    thick_enough = NUMBER_6_MM - 0.2 <= screw.major_diameter_mm < INCH_MM / 4
    return thick_enough and screw.made_for is MadeFor.WOOD


def withdrawal_n(gravity: float, diameter_mm: float, thread_mm: float) -> float:
    """Return the design withdrawal of a thread in side grain: 2850 G2 D per inch, equation 12.2-2.

    Raises:
        ValueError: the specific gravity is outside the table.
    """
    _refuse_other_wood(gravity)
    per_inch = 2850.0 * gravity**2 * diameter_mm / INCH_MM
    return per_inch * POUND_N * thread_mm / INCH_MM


def wood_bearing_n_mm2(gravity: float) -> float:
    """Return the bearing strength of solid wood under a screw thinner than 1/4 in: 16600 G^1.84,
    rounded to 50 psi; table 12.3.3, note 2.

    Raises:
        ValueError: the specific gravity is outside the table.
    """
    _refuse_other_wood(gravity)
    psi = 50 * round(float(16_600 * gravity**1.84) / 50)
    return psi * PSI_N_MM2


def bending_yield_n_mm2(diameter_mm: float) -> float:
    """Return the bending yield strength of a screw of a nominal diameter; appendix I, table I1.

    Raises:
        ValueError: it is thicker than the table goes.
    """
    for up_to, psi in _BENDING_YIELD_PSI:
        if diameter_mm <= up_to * INCH_MM:
            return psi * PSI_N_MM2
    raise ValueError(f"no bending yield strength for a screw of {diameter_mm:.2f} mm")


def reduction(root_mm: float) -> float:
    """Return R_d = K_D of a screw thinner than 1/4 in by its root diameter; table 12.3.1B."""
    root_in = root_mm / INCH_MM
    return 2.2 if root_in <= 0.17 else 10 * root_in + 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class SingleShear:
    """A screw through a side member into solid wood, perhaps across a gap of lining between them.

    `side_mm` and `main_mm` are the lengths that bear, `side_n_mm2` and `main_n_mm2` the bearing
    strengths, `gap_mm` what lies between and is taken to bear nothing.
    """

    diameter_mm: float
    root_mm: float
    side_mm: float
    side_n_mm2: float
    main_mm: float
    main_n_mm2: float
    gap_mm: float = 0.0

    def modes_n(self) -> dict[str, float]:
        """Return the design load of each yield mode.

        The dowel equations of AWC Technical Report 12 (from memory); without a gap they are those
        of NDS 2018 table 12.3.1A, which knows none.
        """
        side = self.side_n_mm2 * self.root_mm
        main = self.main_n_mm2 * self.root_mm
        bending = bending_yield_n_mm2(self.diameter_mm) * self.root_mm**3 / 6
        s, m, gap = self.side_mm, self.main_mm, self.gap_mm
        yields = {
            "Im": main * m,
            "Is": side * s,
            "II": _root(
                1 / (4 * side) + 1 / (4 * main),
                s / 2 + gap + m / 2,
                side * s**2 / 4 + main * m**2 / 4,
            ),
            "IIIm": _root(1 / (2 * side) + 1 / (4 * main), gap + m / 2, bending + main * m**2 / 4),
            "IIIs": _root(1 / (4 * side) + 1 / (2 * main), s / 2 + gap, side * s**2 / 4 + bending),
            "IV": _root(1 / (2 * side) + 1 / (2 * main), gap, 2 * bending),
        }
        return {mode: value / reduction(self.root_mm) for mode, value in yields.items()}

    def design_n(self, penetration_mm: float) -> float:
        """Return the least of the modes, less for a screw that goes in less than ten diameters; 0
        below six (12.1.5.6; tables 12L and 12M, note 3).
        """
        diameters = penetration_mm / self.diameter_mm
        if diameters < LEAST_PENETRATION:
            return 0.0
        return min(self.modes_n().values()) * min(1.0, diameters / FULL_PENETRATION)


def combined_n(withdrawal: float, lateral: float, angle_deg: float) -> float:
    """Return what a screw bears of a force at an angle to the face of the wood, equation 12.4-1: 90
    degrees is straight withdrawal.
    """
    along = math.cos(math.radians(angle_deg)) ** 2
    out = math.sin(math.radians(angle_deg)) ** 2
    return withdrawal * lateral / (withdrawal * along + lateral * out)


def thread_mm(screw: Screw) -> float:
    """Return the length that is threaded at least: the greater of four diameters and two thirds of
    the screw; appendix L, table L3, note 3.
    """
    return max(4 * screw.major_diameter_mm, screw.length_mm * 2 / 3)


def _root(a: float, b: float, c: float) -> float:
    """Return the positive root of a x2 + b x = c."""
    return (math.sqrt(b * b + 4 * a * c) - b) / (2 * a)


def _refuse_other_wood(gravity: float) -> None:
    least, most = GRAVITIES
    if not least <= gravity <= most:
        raise ValueError(f"specific gravity {gravity}: NDS covers solid wood of {least} to {most}")
