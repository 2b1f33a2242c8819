"""Whether a set that comes out a little long still goes in between its walls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from parametric.findings.finding import Finding, Severity
from parametric.findings.stacked import stack_finding
from parametric.geometry.space import Direction
from parametric.geometry.walls import Wall
from parametric.rooms.fit import boards_along, furthest
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import RoomFit
from parametric.rooms.run import end_of_run
from parametric.sets.room_set import RoomSet
from parametric.shapes.routing import Routing
from parametric.stock.tolerances import Contribution, stack


def run_findings(
    room_set: RoomSet, fits: Sequence[RoomFit], fitting: Fitting, routing: Routing
) -> Iterator[Finding]:
    """Yield what tolerances take of the room beyond the set, in the tightest of its rooms; nothing
    of a set that has nothing along the head wall.

    `fits` are those of the rooms that have this set in this hand; a room that refuses it is told
    as such, and does not count here. Where no opening was measured, the set is held against the
    gap that it asks for, with a warning at most: nobody knows yet what its rooms leave.
    """
    along = boards_along(room_set, Wall.HEAD)
    if not along:
        return
    gaps = [(gap, fit.room) for fit in fits if fit.fits for gap in fit.gaps]
    if gaps:
        gap, room = min(gaps, key=lambda each: each[0].gap_mm)
        room_mm, far = gap.gap_mm, room_set.assembly.board(gap.beyond)
        what, advice = f"room {room}, {gap.where}", "make a narrower set for this room"
    else:
        room_mm, far = fitting.least_gap_mm, furthest(along)
        what, advice = "least gap (fitting)", "increase least_gap (fitting)"
    away = Direction.X_PLUS if far.box.centre.x > 0 else Direction.X_MINUS
    finding = stack_finding(
        code="stack-run",
        where=f"{room_set.name}, {room_set.hand} hand",
        what=f"{what}: gap beyond {far.name}",
        stacked=stack(
            room_mm,
            (
                *end_of_run(room_set.assembly, far, away, routing.tolerances, fitting.setting_out),
                Contribution(what="opening as measured", tolerance=fitting.setting_out.place),
            ),
        ),
        advice=advice,
    )
    if finding.severity is Severity.FAIL and not gaps:
        finding = replace(finding, severity=Severity.WARN)
    yield finding
