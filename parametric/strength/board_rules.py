"""What wood-based boards may bear, how they creep, and the pad that a seat load comes down on.

Strengths are data of the material (`BoardStrength`), with their source. EN 1995-1-1 by number, from
memory; its factors are for structural boards (particleboard of EN 312 P5, MDF of EN 622-5, plywood
of EN 636): for furniture boards they are borrowed, and findings say so.
"""

from __future__ import annotations

from enum import Enum, StrEnum
from math import inf

from parametric.stock.materials import BoardKind, BoardStrength, Figures, SheetMaterial

EN_1995 = "EN 1995-1-1 2.4.1, table 3.1 (from memory)"
BORROWED = f"safety and creep by {EN_1995}, borrowed for boards that are not structural"
EN_1995_CREEP = "EN 1995-1-1 2.2.3 and table 3.2"
LOAD_FACTOR, MATERIAL_FACTOR = 1.5, 1.3  # EN 1990 and EN 1995-1-1 table 2.3; from memory
SCATTER = 0.10  # of one kind of board, standard deviation to mean; from memory
CHARACTERISTIC_OF_MEAN = 1 - 1.645 * SCATTER  # 95 of 100 of a normal distribution bear more
PAD_MM = 200.0
"""Diameter of the pad that a seat load comes down on, its rim no further out than the deck's edge:
the smaller seat loading pad of EN 1728; from memory.
"""


class Climate(StrEnum):
    """What the air of the rooms does to boards: service classes 1 and 2 of EN 1995-1-1 2.3.1.3."""

    HEATED = "heated"  # rarely over 65 % of humidity
    HUMID = "humid"  # rarely over 85 %: kitchens, wash rooms, ships


class Duration(Enum):
    """How long a load lies."""

    ACCIDENT = 0  # both factors are 1: EN 1990 6.4.3.3, EN 1995-1-1 table 2.3
    SHORT = 1  # somebody sits down
    MEDIUM = 2  # what a floor carries: table 2.2
    LONG = 3  # what is stored


# Modification factors for short, medium and long loads: table 3.1. It has none for MDF under loads
# that last in humid rooms.
_K_MOD = {
    (BoardKind.PARTICLEBOARD, Climate.HEATED): (0.85, 0.65, 0.45),
    (BoardKind.PARTICLEBOARD, Climate.HUMID): (0.60, 0.45, 0.30),
    (BoardKind.MDF, Climate.HEATED): (0.80, 0.60, 0.40),
    (BoardKind.MDF, Climate.HUMID): (0.45, 0.0, 0.0),
    (BoardKind.PLYWOOD, Climate.HEATED): (0.90, 0.80, 0.70),
    (BoardKind.PLYWOOD, Climate.HUMID): (0.90, 0.80, 0.70),
}
_K_DEF = {  # table 3.2
    (BoardKind.PARTICLEBOARD, Climate.HEATED): 2.25,
    (BoardKind.PARTICLEBOARD, Climate.HUMID): 3.00,
    (BoardKind.MDF, Climate.HEATED): 2.25,
    (BoardKind.MDF, Climate.HUMID): 3.00,
    (BoardKind.PLYWOOD, Climate.HEATED): 0.80,
    (BoardKind.PLYWOOD, Climate.HUMID): 1.00,
}


class Strength(StrEnum):
    """What of a board is asked for: the name of its figure, in library files too."""

    BENDING = "bending_n_mm2"
    BOND = "internal_bond_n_mm2"
    IN_PLANE = "in_plane_n_mm2"

    def of(self, strength: BoardStrength | None) -> float | None:
        """Return the figure, None where nobody knows it."""
        figure: float | None = getattr(strength, self.value, None)
        return figure


# Characteristic values that no board of the kind exceeds: bending of P7 particleboard of EN 312, of
# the strongest MDF of EN 622-5, of birch plywood; internal bond; compression in the plane. From
# memory, rounded up.
_STRONGEST = {
    BoardKind.PARTICLEBOARD: {
        Strength.BENDING: 20.0,
        Strength.BOND: 0.75,
        Strength.IN_PLANE: 20.0,
    },
    BoardKind.MDF: {Strength.BENDING: 40.0, Strength.BOND: 1.20, Strength.IN_PLANE: 30.0},
    BoardKind.PLYWOOD: {Strength.BENDING: 80.0, Strength.BOND: 3.00, Strength.IN_PLANE: 60.0},
}


def safety(material: SheetMaterial, duration: Duration, climate: Climate) -> float:
    """Return the factor by which a figure of the board must exceed what is asked of it; infinite
    where a load may not lie so long at all. A board of no known kind is taken for the weakest.
    """
    strength = material.strength
    means = strength is not None and strength.figures is Figures.MEAN
    scatter = CHARACTERISTIC_OF_MEAN if means else 1.0
    if duration is Duration.ACCIDENT:
        return 1.0 / scatter
    k_mod = min(_K_MOD[kind, climate][duration.value - 1] for kind in _kinds(material))
    return LOAD_FACTOR * MATERIAL_FACTOR / k_mod / scatter if k_mod else inf


def rule(material: SheetMaterial, climate: Climate) -> tuple[str, ...]:
    """Return in words how figures of the board become what is allowed."""
    strength = material.strength
    taken = [f"{'heated' if climate is Climate.HEATED else 'humid'} rooms", BORROWED]
    if material.kind is None:
        taken.append(f"{material.key} has no kind in its library file: taken for the weakest")
    if strength is not None and strength.figures is Figures.MEAN:
        taken.append(
            f"its figures are means: {CHARACTERISTIC_OF_MEAN:.2f} of each counts, for a scatter of"
            f" {SCATTER:.0%} (from memory)"
        )
    return tuple(taken)


def most_n_mm2(material: SheetMaterial, asked: Strength) -> float:
    """Return the characteristic strength that no board of its kind exceeds."""
    return max(_STRONGEST[kind][asked] for kind in _kinds(material))


def _kinds(material: SheetMaterial) -> tuple[BoardKind, ...]:
    return tuple(BoardKind) if material.kind is None else (material.kind,)


def bending_stress_n_mm2(moment_n: float, thickness_mm: float) -> float:
    """Return m / (t2 / 6) for the moment on each millimetre of width."""
    return 6 * moment_n / thickness_mm**2


def creep_factor(material: SheetMaterial, climate: Climate) -> float:
    """Return k_def: what the library says, else that of the board's kind."""
    if material.strength is not None and material.strength.creep_factor is not None:
        return material.strength.creep_factor
    return max(_K_DEF[kind, climate] for kind in _kinds(material))


def with_creep(sag_mm: float, k_def: float, lasting: float) -> float:
    """Return the sag after years under a load of which a share lasts: u (1 + psi_2 k_def)."""
    return sag_mm * (1 + lasting * k_def)
