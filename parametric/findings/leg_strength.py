"""Whether the legs of a bed bear their deck."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import NEAR_LIMIT, at_least, borne
from parametric.joints import Seated
from parametric.members import Leg
from parametric.space import Axis
from parametric.strength.loads import ADA_903_6, SEAT_N, Loads, source_of
from parametric.strength.steel_angle import SAFETY
from parametric.strength.tube_leg import (
    AISC_B4,
    AISC_E3,
    TUBE_YIELD_N_MM2,
    allowable_load_n,
    least_wall_mm,
)


def leg_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield the load on a leg of each deck that stands on legs, as if they carried it alone, and
    whether the wall of its tube is thick enough for the formula.
    """
    legs: dict[str, list[Leg]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, Seated):
            legs[joint.top] += [leg for leg in assembly.legs if leg.name in joint.on]
    for name, under in legs.items():
        if not under:
            continue
        deck = assembly.board(name).box
        area_m2 = deck.size(Axis.X) * deck.size(Axis.Y) * 1e-6
        load_n = loads.seat_n + loads.spread_n_m2 * area_m2 / len(under)
        hardware = under[0].hardware
        basis = Basis(
            "a column, its head free to sway",
            (
                f"the deck on its {len(under)} legs alone, a seat load over one of them",
                f"yield strength {TUBE_YIELD_N_MM2:.0f} N/mm2",
                "foot and plate held upright by floor and deck; knocks from the side left out",
            ),
            SAFETY,
        )
        wall_mm = hardware.tube_wall_mm
        yield borne(
            code="leg-load",
            where=f"{where}: legs under {name}",
            what="load on a leg",
            measured=load_n,
            allowed=None
            if wall_mm is None
            else allowable_load_n(hardware.tube_diameter_mm, wall_mm, hardware.height_mm),
            missing=f"{hardware.key} has no tube_wall in its library file",
            unit="N",
            source=f"{AISC_E3}; load: {source_of(loads.seat_n, SEAT_N, ADA_903_6)}",
            advice="more legs, or stronger ones",
            basis=basis,
        )
        if wall_mm is None:
            continue
        least_mm = least_wall_mm(hardware.tube_diameter_mm)
        yield at_least(
            code="leg-wall",
            where=f"{where}: legs under {name}",
            what="wall of the tube of a leg",
            measured=wall_mm,
            warn_below=least_mm / NEAR_LIMIT,
            fail_below=least_mm,
            source=AISC_B4,
            advice="a thicker wall, or a thinner tube",
            basis=Basis(
                "the least wall that yields before it dents, D/t of 0.11 E/Fy",
                (f"yield strength {TUBE_YIELD_N_MM2:.0f} N/mm2",),
            ),
        )
