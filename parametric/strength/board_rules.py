"""What wood-based boards may bear, how they creep, and how wide a strip shares a load.

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
PATCH_MM = 200.0
"""Across the pad that a seat load comes down on, its rim no further out than the deck's edge; as
seats are tested; from memory."""


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


def width_between_mm(from_support_mm: float, span_mm: float) -> float:
    """Return how wide a strip shares a load that stands between two supports.

    The pad and 2.24 x (1 - x/L): the rule for a slab that spans one way and is continuous, IS 456
    clause 24.3.2.1 (from memory). It follows from the bending of an elastic plate, whatever that is
    made of.
    """
    share = from_support_mm * (1 - from_support_mm / span_mm)
    return PATCH_MM + 2.24 * max(0.0, share)


def width_beyond_mm(from_support_mm: float) -> float:
    """Return how wide a strip shares a load that stands beyond the last support.

    The pad and 1.2 times its distance: the same clause (from memory).
    """
    return PATCH_MM + 1.2 * from_support_mm


def bending_stress_n_mm2(moment_nmm: float, width_mm: float, thickness_mm: float) -> float:
    """Return M / (b t2 / 6)."""
    return 6 * moment_nmm / (width_mm * thickness_mm**2)


def with_creep(sag_mm: float, creep_factor: float, lasting: float) -> float:
    """Return the sag after years under a load of which a share lasts: u (1 + psi_2 k_def)."""
    return sag_mm * (1 + lasting * creep_factor)
