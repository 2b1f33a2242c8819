"""What wall screws bear in a room whose walls are lined more thickly than the job counts on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.findings.plate_strength import plate_strength_findings
from parametric.findings.wall_cleats import wall_cleat_findings
from parametric.findings.wall_fixings import wall_fixing_findings
from parametric.findings.wall_hold import by_nds
from parametric.findings.wall_hold import lining_mm as counted_mm
from parametric.findings.wall_strength import wall_strength_findings
from parametric.geometry.space import SAME_MM
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall
from parametric.sets.room_set import RoomSet
from parametric.strength.loads import Loads

IN_WOOD = {"wall-pull", "wall-cleat", "plate-load"}
"""Findings that a thicker lining changes: less thread bites into wood behind it."""
IN_ANY_WALL = {"wall-embedment"}
"""Those that it changes where a fixing is given, for which the same is allowed as before."""


def lining_findings(
    room: str, room_set: RoomSet, lining_mm: float | None, loads: Loads
) -> Iterator[Finding]:
    """Yield the findings of wall screws and plates for the lining measured in a room.

    Nothing where it is not measured, or no thicker than the loads say: then those of the set hold.
    """
    if lining_mm is None:
        return
    assembly = _lined(room_set.assembly, lining_mm, loads)
    if assembly == room_set.assembly:
        return
    where = f"room {room}: {room_set.name}"
    thicker = set(assembly.joints) - set(room_set.assembly.joints)
    in_wood = any(isinstance(joint, FixedToWall) and by_nds(joint) for joint in thicker)
    codes = IN_ANY_WALL | (IN_WOOD if in_wood else set())
    yield from (
        finding
        for finding in (
            *wall_fixing_findings(where, assembly, loads),
            *wall_strength_findings(where, assembly, loads),
            *wall_cleat_findings(where, assembly, loads, Fineness.EXACT),
            *plate_strength_findings(where, assembly, loads),
        )
        if finding.code in codes
    )


def _lined(assembly: Assembly, lining_mm: float, loads: Loads) -> Assembly:
    """Return the set behind whose walls the lining is no thinner than this."""
    joints = tuple(
        replace(joint, wall=replace(joint.wall, lining_mm=lining_mm))
        if isinstance(joint, FixedToWall) and counted_mm(joint, loads) < lining_mm - SAME_MM
        else joint
        for joint in assembly.joints
    )
    return replace(assembly, joints=joints)
