"""Which material a panel drawn elsewhere is cut from: by its thickness, or as its row says."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import SheetMaterial

USUAL_MM = 0.1
"""How far a drawn thickness may be off where a material has no tolerance (common practice, no
source).
"""
_NOISE_MM = 1e-6


class NoMaterial(ValueError):
    """No material, or no single one: what was found, and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(found, allowed)
        self.found = found
        self.allowed = allowed


def material_for(
    thickness_mm: float, key: str, materials: Sequence[SheetMaterial], units: Units
) -> SheetMaterial:
    """Return the material of that key, or the one of that thickness if there is no key.

    Raises:
        NoMaterial: it has another thickness; none has that thickness, or several have.
    """
    fitting = [each for each in materials if _serves(each, thickness_mm)]
    drawn = show_length(round(thickness_mm, 3), units)
    if key:
        named = next(each for each in materials if each.key == key)
        if named in fitting:
            return named
        found = f"{drawn} thick, for {in_words((named,), units)}"
        raise NoMaterial(found, f"a material of that thickness: {_or_none(fitting, units)}")
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        keys = ", ".join(each.key for each in fitting)
        raise NoMaterial(f"none, and {drawn} thick, as several are", f"one of {keys}")
    raise NoMaterial(f"{drawn} thick", f"a thickness in stock: {in_words(materials, units)}")


def in_words(materials: Iterable[SheetMaterial], units: Units) -> str:
    """Return the materials with their thickness and what that may be off."""
    return ", ".join(
        f"{each.key} ({show_length(each.thickness_mm, units)} +/- {_tolerance_mm(each):g} mm)"
        for each in materials
    )


def _or_none(materials: Sequence[SheetMaterial], units: Units) -> str:
    return in_words(materials, units) or "there is none"


def _serves(material: SheetMaterial, thickness_mm: float) -> bool:
    off_mm = abs(material.thickness_mm - thickness_mm)
    return off_mm <= _tolerance_mm(material) + _NOISE_MM


def _tolerance_mm(material: SheetMaterial) -> float:
    tolerance = material.thickness_tolerance
    return USUAL_MM if tolerance is None else tolerance.plus_minus_mm
