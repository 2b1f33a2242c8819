"""Checks inside one entry of a library: hardware that could not exist."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import NamedTuple

from casewright.intake.catalogue_schema import (
    AngleEntry,
    BarEntry,
    LegEntry,
    ScrewEntry,
    WallPlateEntry,
)
from casewright.intake.entry import Entry


class Bound(StrEnum):
    """How one length of an entry bounds another."""

    AT_MOST = "at most"
    LESS = "less than"
    LESS_THAN_HALF = "less than half of"


class Excess(NamedTuple):
    """A length that breaks its bound: `key` must be `bound` `other`."""

    key: str
    bound: Bound
    other: str


def excesses(entry: Entry) -> Iterator[Excess]:
    """Yield the lengths of a library entry that could not go together."""
    for rule in _RULES.get(type(entry), ()):
        value_mm, limit_mm = getattr(entry, rule.key), getattr(entry, rule.other)
        if not _holds(value_mm, rule.bound, limit_mm):
            yield rule


def _holds(value_mm: float, bound: Bound, limit_mm: float) -> bool:
    match bound:
        case Bound.AT_MOST:
            return value_mm <= limit_mm
        case Bound.LESS:
            return value_mm < limit_mm
        case Bound.LESS_THAN_HALF:
            return value_mm < limit_mm / 2


_RULES: dict[type[Entry], tuple[Excess, ...]] = {
    ScrewEntry: (
        Excess("root_diameter", Bound.LESS, "major_diameter"),
        Excess("pilot_diameter", Bound.AT_MOST, "major_diameter"),
        Excess("major_diameter", Bound.AT_MOST, "clearance_diameter"),
        Excess("clearance_diameter", Bound.LESS, "head_diameter"),
    ),
    BarEntry: (Excess("thickness", Bound.AT_MOST, "width"),),
    AngleEntry: (Excess("thickness", Bound.LESS_THAN_HALF, "leg"),),
    LegEntry: (
        Excess("tube_diameter", Bound.AT_MOST, "plate"),
        Excess("hole_spacing", Bound.LESS, "plate"),
        Excess("plate_thickness", Bound.LESS, "height"),
    ),
    WallPlateEntry: (
        Excess("hole_spacing", Bound.LESS, "length"),
        Excess("thickness", Bound.LESS_THAN_HALF, "height"),
    ),
}
