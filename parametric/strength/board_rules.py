"""What wood-based boards may bear, how they creep, and the pad that a seat load comes down on.

Strengths are data of the material (`BoardStrength`), with their source. EN 1995-1-1 by number; its
factors are for the structural boards of EN 312 (P4 to P7): for furniture boards they are borrowed,
and findings say so.
"""

from __future__ import annotations

from enum import Enum

EN_1995 = "EN 1995-1-1 2.4.1, table 3.1 (from memory)"
BORROWED = f"safety and creep by {EN_1995}, borrowed for boards that are no structural ones"
EN_1995_CREEP = "EN 1995-1-1 2.2.3 and table 3.2"
LOAD_FACTOR, MATERIAL_FACTOR = 1.5, 1.3  # EN 1990 and EN 1995-1-1 table 2.3; from memory
ACCIDENT_SAFETY = (
    1.0  # both factors are 1 in an accident: EN 1990, EN 1995-1-1 table 2.3; from memory
)
PAD_MM = 200.0
"""Diameter of the pad that a seat load comes down on, its rim no further out than the deck's edge:
the smaller seat loading pad of EN 1728; from memory.
"""


class Duration(Enum):
    """How long a load lies: modification factor in a heated room, EN 1995-1-1 table 3.1 (from
    memory). It is that of MDF, the least of the boards that sets are made of.
    """

    SHORT = 0.80  # somebody sits down
    MEDIUM = 0.60  # what a floor carries: table 2.2
    LONG = 0.40  # what is stored

    @property
    def safety(self) -> float:
        """The factor by which the board's strength must exceed the stress."""
        return LOAD_FACTOR * MATERIAL_FACTOR / self.value


def bending_stress_n_mm2(moment_n: float, thickness_mm: float) -> float:
    """Return m / (t2 / 6) for the moment on each millimetre of width."""
    return 6 * moment_n / thickness_mm**2


def with_creep(sag_mm: float, creep_factor: float, lasting: float) -> float:
    """Return the sag after years under a load of which a share lasts: u (1 + psi_2 k_def)."""
    return sag_mm * (1 + lasting * creep_factor)
