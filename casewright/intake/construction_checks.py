"""Checks across the roles of a construction: things that could not be put together at all.

How well they hold, and whether a screw comes out on the far side, is left to the findings.
"""

from __future__ import annotations

from collections.abc import Iterator

from casewright.intake.misfit import Misfit
from parametric.stock.construction import Construction
from parametric.stock.lengths import Units, show_length
from parametric.stock.made_in import MadeIn


def construction_misfits(construction: Construction, units: Units) -> Iterator[Misfit]:
    """Yield the roles that do not go together, lengths shown in `units`."""
    yield from _thicknesses(construction, units)
    for role, length_mm, through_mm, through in _screws(construction):
        if length_mm <= through_mm:
            yield Misfit(
                (role,),
                f"a screw of {show_length(length_mm, units)}",
                f"one longer than {show_length(through_mm, units)}, to come through {through}",
            )
    yield from _cap(construction, units)
    yield from _made_in(construction)


def _made_in(construction: Construction) -> Iterator[Misfit]:
    if construction.boxes_made_in is MadeIn.SHOP is not construction.cleats_made_in:
        yield Misfit(
            ("boxes_made_in",),
            "'shop', with cleats put on in the room",
            "'site', or 'shop' with cleats_made_in: shop",
        )


def _cap(construction: Construction, units: Units) -> Iterator[Misfit]:
    recess_mm = construction.cap.recess_depth_mm
    deepest_mm = min(construction.carcass.thickness_mm, construction.wall_panel.thickness_mm) / 2
    if recess_mm > deepest_mm:
        yield Misfit(
            ("cap",),
            f"a recess {show_length(recess_mm, units)} deep",
            "at most half of the thinner of carcass and wall_panel "
            f"({show_length(deepest_mm, units)})",
        )
    head_mm, cap_mm = construction.screw_panel.head_diameter_mm, construction.cap.diameter_mm
    if cap_mm < head_mm:
        yield Misfit(
            ("cap",),
            f"a recess of {show_length(cap_mm, units)} diameter",
            f"at least the head of screw_panel ({show_length(head_mm, units)})",
        )


def _thicknesses(construction: Construction, units: Units) -> Iterator[Misfit]:
    banded = ("deck", "base_panel", "carcass", "wall_panel")
    thinnest_mm = min(getattr(construction, role).thickness_mm for role in banded)
    for role, what, value_mm, limit_mm, limit in (
        ("band", "thickness", construction.band.thickness_mm, thinnest_mm, "the boards it is on"),
        (
            "housing_depth",
            "grooves",
            construction.housing_depth_mm + construction.housing_clearance_mm,
            construction.carcass.thickness_mm,
            "the thickness of carcass",
        ),
        (
            "wall_plate",
            "lip",
            construction.wall_plate.lip_mm,
            construction.wall_panel.thickness_mm,
            "the thickness of wall_panel",
        ),
    ):
        if value_mm >= limit_mm:
            yield Misfit(
                (role,),
                f"{what} of {show_length(value_mm, units)}",
                f"less than {limit} ({show_length(limit_mm, units)})",
            )


def _screws(construction: Construction) -> Iterator[tuple[str, float, float, str]]:
    """Yield for each role with a screw: role, its length, what it must come through, in words."""
    cleat, leg, plate = construction.cleat, construction.leg, construction.wall_plate
    panel_mm = construction.wall_panel.thickness_mm - construction.cap.recess_depth_mm
    yield ("screw_cleat_thin", construction.screw_cleat_thin.length_mm, cleat.thickness_mm, "cleat")
    yield ("screw_cleat_wide", construction.screw_cleat_wide.length_mm, cleat.width_mm, "cleat")
    angle_mm = construction.angle.thickness_mm
    yield ("screw_angle", construction.screw_angle.length_mm, angle_mm, "angle")
    rail_mm = construction.rail.thickness_mm
    yield ("screw_wall", construction.screw_wall.length_mm, rail_mm, "rail")
    yield ("screw_panel", construction.screw_panel.length_mm, panel_mm, "wall_panel")
    yield ("leg", leg.screw.length_mm, leg.plate_thickness_mm, "its plate")
    yield ("wall_plate", plate.screw.length_mm, plate.thickness_mm, "its plate")
