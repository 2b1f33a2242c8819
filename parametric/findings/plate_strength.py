"""Whether the plates of hung panels hold."""

from __future__ import annotations

import math
from collections.abc import Iterator

from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import borne
from parametric.findings.wall_hold import (
    by_nds,
    depth_in_words,
    held_by,
    lining_mm,
    missing,
    source_of_hold,
    thread_in_wood_mm,
)
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Hung
from parametric.shapes.mass import mass_kg
from parametric.shapes.members import WallPlate
from parametric.stock.amounts import NEWTONS, force
from parametric.strength.loads import STANDARD_GRAVITY, Loads
from parametric.strength.wood_screws import (
    STEEL_PLATE_N_MM2,
    SingleShear,
    combined_n,
    withdrawal_n,
    wood_bearing_n_mm2,
)

SHARING_PLATES = 2  # that carry a hung panel, however many there are: common practice, no source

_IN_WOOD = (
    "yield modes across the lining (AWC Technical Report 12, from memory) and withdrawal, combined"
)
_AS_GIVEN = "as allowed for the fixing, shares of shear and pull added up"


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
            under=(" on each screw of a wall plate", depth_in_words(fixing, loads)),
            measured=math.hypot(down, out),
            allowed=_held_n(plate, fixing, down, out, loads),
            missing=missing(fixing),
            unit=NEWTONS,
            source=(
                f"{source_of_hold(fixing, 'table 12.3.1A and equation 12.4-1')}; load: ",
                force(loads.panel_n),
                " and the panel",
            ),
            advice="use more plates, longer or thicker screws, or blocking flush with the lining",
            basis=Basis(
                _IN_WOOD if fixing.given is None else _AS_GIVEN,
                (
                    f"all of the load on {sharing} plates",
                    *held_by(fixing, loads),
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
    """Return what is allowed of a force that points down and out in this proportion, None where
    nothing says.
    """
    if fixing.given is not None:
        return fixing.given.allowed_n(down, out)
    if not by_nds(fixing):
        return None
    screw, thread = fixing.screw, thread_in_wood_mm(fixing, loads)
    lateral = SingleShear(
        diameter_mm=screw.major_diameter_mm,
        root_mm=screw.root_diameter_mm,
        side_mm=plate.hardware.thickness_mm,
        side_n_mm2=STEEL_PLATE_N_MM2,
        main_mm=max(0.0, thread - screw.major_diameter_mm),
        main_n_mm2=wood_bearing_n_mm2(loads.blocking_gravity),
        gap_mm=lining_mm(fixing, loads),
    )
    across = lateral.design_n(thread)
    pulled = withdrawal_n(loads.blocking_gravity, screw.major_diameter_mm, thread)
    if not across or not pulled:
        return 0.0
    return combined_n(pulled, across, math.degrees(math.atan2(out, down)))
