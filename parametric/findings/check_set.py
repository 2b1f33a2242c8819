"""All checks of one set that need no solids."""

from __future__ import annotations

from parametric.findings.cleat_screws import cleat_screw_findings
from parametric.findings.drilling import drilling_findings
from parametric.findings.driver_access import driver_findings
from parametric.findings.finding import Finding
from parametric.findings.hanging import hanging_findings
from parametric.findings.lifting import lifting_findings
from parametric.findings.passage import passage_findings
from parametric.findings.pre_mill import pre_mill_findings
from parametric.findings.screws import head_findings, screw_findings, wall_screw_findings
from parametric.findings.seats import leg_findings, seat_findings
from parametric.findings.sheet_fit import sheet_findings
from parametric.findings.slots import slot_findings
from parametric.findings.stackups import stackup_findings
from parametric.joints.machining import Machining
from parametric.sets.room_set import RoomSet
from parametric.shapes.routing import Routing
from parametric.stock.tolerances import SettingOut

AS_USUAL = SettingOut()


def check_set(
    room_set: RoomSet,
    worked: Machining,
    routing: Routing,
    sheet_trim_mm: float,
    setting_out: SettingOut = AS_USUAL,
) -> tuple[Finding, ...]:
    """Return the findings of the set, in the order of the checks."""
    where = f"{room_set.name}, {room_set.hand} hand"
    assembly = room_set.assembly
    return (
        *seat_findings(where, assembly),
        *leg_findings(where, assembly),
        *screw_findings(where, assembly),
        *head_findings(where, assembly),
        *wall_screw_findings(where, assembly),
        *driver_findings(where, assembly),
        *passage_findings(where, assembly, worked, routing),
        *slot_findings(where, assembly, worked, routing),
        *hanging_findings(where, assembly, worked),
        *drilling_findings(where, assembly, worked, routing),
        *sheet_findings(where, assembly, routing, sheet_trim_mm),
        *pre_mill_findings(where, assembly, routing),
        *lifting_findings(where, assembly),
        *cleat_screw_findings(where, assembly),
        *stackup_findings(where, assembly, worked, routing, setting_out),
    )
