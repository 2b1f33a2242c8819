"""Lengths of one hardware entry that bound each other: at the very limit, and just beyond it."""

import pytest

from casewright.intake.catalogue_schema import (
    AngleEntry,
    BarEntry,
    LegEntry,
    ScrewEntry,
    WallPlateEntry,
)
from casewright.intake.entry import Entry
from casewright.intake.entry_checks import excesses

# Good lengths in millimetres, of real hardware as a shop has it.
GOOD: dict[type[Entry], dict[str, float]] = {
    ScrewEntry: {
        "root_diameter": 2.5,
        "pilot_diameter": 3.0,
        "major_diameter": 4.0,
        "clearance_diameter": 4.5,
        "head_diameter": 8.0,
    },
    BarEntry: {"thickness": 19.0, "width": 38.0},
    AngleEntry: {"thickness": 6.0, "leg": 50.0},
    LegEntry: {
        "tube_diameter": 50.0,
        "plate": 90.0,
        "hole_spacing": 60.0,
        "plate_thickness": 5.0,
        "height": 340.0,
    },
    WallPlateEntry: {"hole_spacing": 100.0, "length": 150.0, "thickness": 5.0, "height": 50.0},
}

# What is changed to its limit, whether that is allowed, and what then is too large for what. A
# thread is deeper than nothing; a head that passes its hole holds nothing; legs of an angle as
# thick as half of it leave no corner between them; a hole on the rim of a plate is open.
LIMITS = [
    (ScrewEntry, {"root_diameter": 4.0}, "root_diameter less than major_diameter"),
    (ScrewEntry, {"pilot_diameter": 4.0}, ""),
    (ScrewEntry, {"pilot_diameter": 4.01}, "pilot_diameter at most major_diameter"),
    (ScrewEntry, {"clearance_diameter": 4.0}, ""),
    (ScrewEntry, {"clearance_diameter": 3.99}, "major_diameter at most clearance_diameter"),
    (ScrewEntry, {"clearance_diameter": 8.0}, "clearance_diameter less than head_diameter"),
    (BarEntry, {"thickness": 38.0}, ""),
    (BarEntry, {"thickness": 38.01}, "thickness at most width"),
    (AngleEntry, {"thickness": 24.99}, ""),
    (AngleEntry, {"thickness": 25.0}, "thickness less than half of leg"),
    (LegEntry, {"tube_diameter": 90.0}, ""),
    (LegEntry, {"tube_diameter": 90.01}, "tube_diameter at most plate"),
    (LegEntry, {"hole_spacing": 89.99}, ""),
    (LegEntry, {"hole_spacing": 90.0}, "hole_spacing less than plate"),
    (LegEntry, {"plate_thickness": 340.0}, "plate_thickness less than height"),
    (WallPlateEntry, {"hole_spacing": 150.0}, "hole_spacing less than length"),
    (WallPlateEntry, {"thickness": 24.99}, ""),
    (WallPlateEntry, {"thickness": 25.0}, "thickness less than half of height"),
]


@pytest.mark.parametrize(("kind", "change", "told"), LIMITS)
def test_a_length_at_its_limit(kind: type[Entry], change: dict[str, float], told: str) -> None:
    entry = kind.model_construct(**{**GOOD[kind], **change})
    assert [f"{each.key} {each.bound} {each.other}" for each in excesses(entry)] == (
        [told] if told else []
    )


@pytest.mark.parametrize("kind", list(GOOD))
def test_good_hardware_is_good(kind: type[Entry]) -> None:
    assert not list(excesses(kind.model_construct(**GOOD[kind])))
