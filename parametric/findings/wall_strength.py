"""Whether what is fixed to the wall holds: units pulled away from it, and hung panels."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.board import Board
from parametric.findings.deck_strength import NEAR_LIMIT
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import at_most, not_known
from parametric.findings.screws import wall_bite_mm
from parametric.joints import FixedToWall, Hung
from parametric.mass import mass_kg
from parametric.members import WallPlate
from parametric.strength.board_rules import Duration
from parametric.strength.loads import (
    ADA_903_6,
    NDS_SPRUCE,
    SEAT_N,
    STANDARD_GRAVITY,
    Loads,
    source_of,
)
from parametric.strength.wood_screws import (
    NDS,
    STEEL_PLATE_N_MM2,
    SingleShear,
    combined_n,
    thread_mm,
    withdrawal_n,
    wood_bearing_n_mm2,
)

SHARING_SCREWS = 2  # that share a pull at one place; common practice, no source
SHARING_PLATES = 2  # that carry a hung panel, however many there are: common practice, no source


def wall_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield pull on the wall screws of each part, and load on the plates of each hung panel."""
    hung = [joint for joint in assembly.joints if isinstance(joint, Hung)]
    panels = {joint.panel for joint in hung}
    by_part: dict[str, list[FixedToWall]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, FixedToWall):
            by_part[joint.through].append(joint)
    for name, joints in by_part.items():
        part = assembly.part(name)
        if isinstance(part, Board) and name not in panels:
            yield from _pulled(f"{where}: {name}", part, joints, loads)
    for joint in hung:
        yield from _plates(where, assembly, joint, by_part, loads)


def _wood(loads: Loads) -> str:
    wood = "" if loads.blocking_gravity != Loads().blocking_gravity else f" ({NDS_SPRUCE})"
    return f"blocking or studs of specific gravity {loads.blocking_gravity:.2f}{wood}"


def _pulled(place: str, part: Board, joints: list[FixedToWall], loads: Loads) -> Iterator[Finding]:
    pull_n = loads.seat_n / min(SHARING_SCREWS, len(joints))
    joint = min(joints, key=wall_bite_mm)
    bite_mm = max(0.0, min(wall_bite_mm(joint) - loads.lining_mm, thread_mm(joint.screw)))
    held = withdrawal_n(loads.blocking_gravity, joint.screw.major_diameter_mm, bite_mm)
    shared = f"shared by {min(SHARING_SCREWS, len(joints))} of its screws"
    load = source_of(loads.seat_n, SEAT_N, ADA_903_6)
    yield at_most(
        code="wall-pull",
        where=place,
        what=f"pull on a screw with {bite_mm:.0f} mm of thread in wood",
        measured=pull_n,
        warn_above=NEAR_LIMIT * held,
        fail_above=held,
        unit="N",
        source=f"{NDS}, equation 12.2-2; load: {load}",
        advice="a longer or thicker screw, or denser blocking",
        basis=Basis(
            f"withdrawal from side grain; {shared}",
            (_wood(loads), f"lining of {loads.lining_mm:.0f} mm", "duration factor 1.0"),
        ),
    )
    strength = part.material.strength
    held_head = None if strength is None else strength.head_pull_n
    basis = Basis(f"the head pulled through; {shared}", (f"load: {load}",), Duration.SHORT.safety)
    if strength is None or held_head is None:
        yield not_known(
            code="wall-head",
            where=place,
            what="pull on the head of a wall screw",
            measured=pull_n,
            unit="N",
            missing=f"no formula covers it, and {part.material.key} has no head_pull_n",
            basis=basis,
        )
        return
    allowed = held_head / Duration.SHORT.safety
    yield at_most(
        code="wall-head",
        where=place,
        what="pull on the head of a wall screw",
        measured=pull_n,
        warn_above=NEAR_LIMIT * allowed,
        fail_above=allowed,
        unit="N",
        source=strength.source,
        advice="washers under the heads, or more screws",
        basis=basis,
    )


def _plates(
    where: str,
    assembly: Assembly,
    hung: Hung,
    by_part: dict[str, list[FixedToWall]],
    loads: Loads,
) -> Iterator[Finding]:
    """Yield the load on one plate's screws: down at the lip, so that it also levers them out."""
    panel = assembly.board(hung.panel)
    sharing = min(SHARING_PLATES, len(hung.plates))
    down_n = (mass_kg(panel) * STANDARD_GRAVITY + loads.panel_n) / sharing
    for name in hung.plates[:1]:
        plate = assembly.part(name)
        joints = by_part.get(name, [])
        if not isinstance(plate, WallPlate) or not joints:
            continue
        screw = joints[0].screw
        past_mm = min(wall_bite_mm(joint) for joint in joints)
        bite_mm = max(0.0, min(past_mm - loads.lining_mm, thread_mm(screw)))
        lateral = SingleShear(
            diameter_mm=screw.major_diameter_mm,
            root_mm=screw.root_diameter_mm,
            side_mm=plate.hardware.thickness_mm,
            side_n_mm2=STEEL_PLATE_N_MM2,
            main_mm=max(0.0, bite_mm - screw.major_diameter_mm),
            main_n_mm2=wood_bearing_n_mm2(loads.blocking_gravity),
            gap_mm=loads.lining_mm,
        )
        arm_mm = plate.hardware.thickness_mm + plate.hardware.lip_mm / 2
        to_toe_mm = min(joint.head.z for joint in joints) - plate.box.low.z
        down, out = down_n / len(joints), down_n * arm_mm / to_toe_mm / len(joints)
        # The force on one screw and its angle to the wall, as equation 12.4-1 counts it.
        force = math.hypot(down, out)
        held = held_at(lateral, screw.major_diameter_mm, bite_mm, down, out, loads)
        yield at_most(
            code="plate-load",
            where=f"{where}: {hung.panel}",
            what=f"load on each screw of a wall plate ({bite_mm:.0f} mm in wood)",
            measured=force,
            warn_above=NEAR_LIMIT * held,
            fail_above=held,
            unit="N",
            source=f"{NDS}, table 12.3.1A and equation 12.4-1; {loads.panel_n:.0f} N and the panel",
            advice="more plates, longer or thicker screws, or blocking flush with the lining",
            basis=Basis(
                "yield modes across the lining (AWC Technical Report 12, from memory) and"
                " withdrawal, combined",
                (
                    f"all of it on {sharing} plates",
                    _wood(loads),
                    f"lining of {loads.lining_mm:.0f} mm that bears nothing",
                    "screws levered out about the plate's lower edge",
                ),
            ),
        )


def held_at(
    lateral: SingleShear, diameter_mm: float, bite_mm: float, down: float, out: float, loads: Loads
) -> float:
    """Return what a screw holds of a force that points down and out in the given proportion."""
    pulled = withdrawal_n(loads.blocking_gravity, diameter_mm, bite_mm)
    across = lateral.design_n(bite_mm)
    if pulled == 0.0 or across == 0.0:
        return 0.0
    return combined_n(pulled, across, math.degrees(math.atan2(out, down)))
