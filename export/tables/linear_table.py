"""The cut list of linear stock: cleats and steel angles, with their drill positions."""

from __future__ import annotations

from collections.abc import Sequence

from export.tables.csv_text import csv_text, fixed
from export.tables.linear_hole_table import across_from
from export.tables.profile_words import profile_shown
from parametric.lists.cut_list import BarHole, BarPart, CutList
from parametric.stock.lengths import Units, show_length

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
    "screw_heads",
    "length",
)

# Clearance holes are drilled straight: which side the head lies on, only assembly shows.
SCREW_HEADS = "flush: countersink each hole on the side where the screw goes in"


def linear_csv(cut_list: CutList, units: Units) -> str:
    """Return the linear cut list as CSV; mass is for one piece, in kg.

    Raises:
        KeyError: a hole is in a face that is not known.
    """
    return csv_text(COLUMNS, (_row(bar, units) for bar in cut_list.bars))


def drill_positions(holes: Sequence[BarHole], units: Units) -> str:
    """Return the holes in words, to 0.1 mm: those of one face, line and diameter together.

    Where the job's units are inches, each position is shown in these as well. Example:
    `flat leg: 5 mm dia at 35 mm (1 3/8"), 60 mm (2 3/8") from left end, 25.4 mm (1") from heel`.

    Raises:
        KeyError: a hole is in a face that is not known.
    """
    groups: dict[tuple[str, float, float], list[float]] = {}
    for hole in holes:
        key = (hole.face, round(hole.across_mm, 3), round(hole.diameter_mm, 3))
        groups.setdefault(key, []).append(hole.from_end_mm)
    return "; ".join(
        f"{face}: {show_length(diameter, Units.MM)} dia"
        f" at {', '.join(_place(at, units) for at in sorted(places))} from left end,"
        f" {_place(across, units)} from {across_from(face)}"
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
        profile_shown(bar.profile, units),
        fixed(bar.length_mm),
        fixed(bar.mass_kg),
        drill_positions(bar.holes, units),
        SCREW_HEADS if bar.holes else "",
        show_length(bar.length_mm, units),
    )


def _place(value_mm: float, units: Units) -> str:
    in_inches = f" ({show_length(value_mm, units)})" if units is Units.INCH else ""
    return show_length(value_mm, Units.MM) + in_inches
