"""What wall screws bear in a room whose walls are lined more thickly than the job counts on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.findings.plate_strength import plate_strength_findings
from parametric.findings.wall_cleats import wall_cleat_findings
from parametric.findings.wall_strength import wall_strength_findings
from parametric.geometry.space import SAME_MM
from parametric.sets.room_set import RoomSet
from parametric.strength.loads import Loads

IN_WOOD = {"wall-pull", "wall-cleat", "plate-load"}
"""Findings that a thicker lining changes: less thread bites into wood behind it."""


def lining_findings(
    room: str, room_set: RoomSet, lining_mm: float | None, loads: Loads
) -> Iterator[Finding]:
    """Yield the findings of wall screws and plates for the lining measured in a room.

    Nothing where it is not measured, or no thicker than the loads say: then those of the set hold.
    """
    if lining_mm is None or lining_mm <= loads.lining_mm + SAME_MM:
        return
    where, there = f"room {room}: {room_set.name}", replace(loads, lining_mm=lining_mm)
    assembly = room_set.assembly
    yield from (
        finding
        for finding in (
            *wall_strength_findings(where, assembly, there),
            *wall_cleat_findings(where, assembly, there, Fineness.EXACT),
            *plate_strength_findings(where, assembly, there),
        )
        if finding.code in IN_WOOD
    )
