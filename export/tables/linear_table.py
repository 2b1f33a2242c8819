"""The cut list of linear stock: cleats and steel angles, with their drill positions."""

from __future__ import annotations

from collections.abc import Sequence

from export.tables.csv_text import csv_text, fixed
from parametric.cut_list import BarHole, BarPart, CutList
from parametric.lengths import Units, show_length

COLUMNS = (
    "part",
    "description",
    "units",
    "hand",
    "quantity",
    "material",
    "profile",
    "length_mm",
    "mass_kg",
    "drill_positions",
    "length",
)


def linear_csv(cut_list: CutList, units: Units) -> str:
    """Return the linear cut list as CSV; mass is for one piece, in kg."""
    return csv_text(COLUMNS, (_row(bar, units) for bar in cut_list.bars))


def drill_positions(holes: Sequence[BarHole]) -> str:
    """Return the holes in words, in millimetres: those of one face, line and diameter together.

    Example: `flat leg: 5.0 dia at 35.0, 410.0 from left end, 25.4 across`.
    """
    groups: dict[tuple[str, float, float], list[float]] = {}
    for hole in holes:
        key = (hole.face, round(hole.across_mm, 3), round(hole.diameter_mm, 3))
        groups.setdefault(key, []).append(hole.from_end_mm)
    return "; ".join(
        f"{face}: {_mm(diameter)} dia at {', '.join(_mm(at) for at in sorted(places))}"
        f" from left end, {_mm(across)} across"
        for (face, across, diameter), places in sorted(groups.items())
    )


def _row(bar: BarPart, units: Units) -> tuple[object, ...]:
    return (
        bar.number,
        bar.description,
        "; ".join(bar.units),
        bar.hand,
        bar.quantity,
        bar.material,
        bar.profile,
        fixed(bar.length_mm),
        fixed(bar.mass_kg),
        drill_positions(bar.holes),
        show_length(bar.length_mm, units),
    )


def _mm(value: float) -> str:
    """Return a position as a person sets it out: to 0.1 mm."""
    return fixed(value, 1)
