"""Whether the plates of hung panels hold."""

from __future__ import annotations

import math
from collections.abc import Iterator

from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.findings.wall_strength import (
    blocking,
    in_wood,
    no_rule,
    thread_in_wood_mm,
    with_thread,
)
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Hung
from parametric.shapes.mass import mass_kg
from parametric.shapes.members import WallPlate
from parametric.stock.amounts import NEWTONS, force
from parametric.strength.loads import STANDARD_GRAVITY, Loads
from parametric.strength.wood_screws import (
    NDS,
    STEEL_PLATE_N_MM2,
    SingleShear,
    combined_n,
    withdrawal_n,
    wood_bearing_n_mm2,
)

SHARING_PLATES = 2  # that carry a hung panel, however many there are: common practice, no source


def plate_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield for each hung panel the load on a screw of its plates: down at the lip, so that it also
    levers the screws out.
    """
    fixings = assembly.wall_fixings()
    for joint in assembly.joints:
        if not isinstance(joint, Hung):
            continue
        sharing = min(SHARING_PLATES, len(joint.plates))
        panel_n = mass_kg(assembly.board(joint.panel)) * STANDARD_GRAVITY
        down_n = (panel_n + loads.panel_n) / sharing
        worst = max(
            (
                _on_screw(plate, fixings[plate.name], down_n)
                for plate in assembly.wall_plates
                if plate.name in joint.plates
            ),
            key=lambda force: math.hypot(*force),
        )
        plate = next(each for each in assembly.wall_plates if each.name in joint.plates)
        fixing = min(
            (fixing for name in joint.plates for fixing in fixings[name]),
            key=lambda fixing: thread_in_wood_mm(fixing, loads),
        )
        down, out = worst
        yield borne(
            code="plate-load",
            where=f"{where}: {joint.panel}",
            what="load of",
            under=(" on each screw of a wall plate", with_thread(fixing, loads)),
            measured=math.hypot(down, out),
            allowed=_held_n(plate, fixing, down, out, loads),
            missing=no_rule(fixing.screw, loads),
            unit=NEWTONS,
            source=(
                f"{NDS}, table 12.3.1A and equation 12.4-1; load: ",
                force(loads.panel_n),
                " and the panel",
            ),
            advice="use more plates, longer or thicker screws, or blocking flush with the lining",
            basis=Basis(
                "yield modes across the lining (AWC Technical Report 12, from memory) and"
                " withdrawal, combined",
                (
                    f"all of the load on {sharing} plates",
                    *blocking(loads),
                    "the lining bears nothing",
                    "screws levered out about the plate's lower edge",
                ),
            ),
            at=fixing.head,
        )


def _on_screw(
    plate: WallPlate, fixings: tuple[FixedToWall, ...], down_n: float
) -> tuple[float, float]:
    """Return what each screw of a plate bears: along the wall, and out of it."""
    arm_mm = plate.hardware.thickness_mm + plate.hardware.lip_mm / 2
    to_toe_mm = min(joint.head.z for joint in fixings) - plate.box.low.z
    return down_n / len(fixings), down_n * arm_mm / to_toe_mm / len(fixings)


def _held_n(
    plate: WallPlate, fixing: FixedToWall, down: float, out: float, loads: Loads
) -> float | None:
    """Return what NDS allows of a force that points down and out in this proportion, None where it
    does not cover the screw.
    """
    screw, thread = fixing.screw, thread_in_wood_mm(fixing, loads)
    if not in_wood(screw, loads):
        return None
    lateral = SingleShear(
        diameter_mm=screw.major_diameter_mm,
        root_mm=screw.root_diameter_mm,
        side_mm=plate.hardware.thickness_mm,
        side_n_mm2=STEEL_PLATE_N_MM2,
        main_mm=max(0.0, thread - screw.major_diameter_mm),
        main_n_mm2=wood_bearing_n_mm2(loads.blocking_gravity),
        gap_mm=loads.lining_mm,
    )
    across = lateral.design_n(thread)
    pulled = withdrawal_n(loads.blocking_gravity, screw.major_diameter_mm, thread)
    if not across or not pulled:
        return 0.0
    return combined_n(pulled, across, math.degrees(math.atan2(out, down)))
