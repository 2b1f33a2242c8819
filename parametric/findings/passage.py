"""Whether the steel angle enters its notches and bears where it should.

Notches are read from the machining of the panels, not from the angle that they are made for.
"""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.findings.slots import side_clearance_mm, slots_of
from parametric.geometry.space import Box, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing
from parametric.joints.machining import Machining
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import Routing

SIDE_CLEARANCE_MM = 1.0
LEFT_BELOW_MM = 50.0
BEARING_MM = 25.0


def passage_findings(
    where: str, assembly: Assembly, worked: Machining, routing: Routing
) -> Iterator[Finding]:
    """Yield clearance, what is left below and bearing for each panel an angle crosses."""
    for joint in assembly.joints:
        if not isinstance(joint, Passing):
            continue
        angle, panel = assembly.angle(joint.member), assembly.board(joint.through)
        place = f"{where}: {angle.name} in {panel.name}"
        for cut in slots_of(angle, panel, worked):
            yield at_least(
                code="angle-clearance",
                where=place,
                what="clearance on the tighter side of the angle, up to the rounded corner,",
                measured=side_clearance_mm(cut, angle, routing),
                warn_below=SIDE_CLEARANCE_MM,
                fail_below=0.0,
                advice="increase angle_clearance",
            )
            yield at_least(
                code="notch-left-below",
                where=place,
                what="material below the notch",
                measured=cut.box.low.z - panel.box.low.z,
                warn_below=LEFT_BELOW_MM,
                fail_below=20.0,
                advice="use a smaller angle, or a higher base",
            )
        yield at_least(
            code="angle-bearing",
            where=place,
            what="from the panel's inner face to the end of the angle",
            measured=bearing_mm(panel.box, angle),
            warn_below=BEARING_MM + panel.thickness_mm,
            fail_below=panel.thickness_mm,
            advice="increase bearing",
        )


def bearing_mm(panel: Box, angle: SteelAngle) -> float:
    """Return how far the angle's nearer end lies beyond the panel's farther face."""
    ends = []
    for end in (Direction((angle.along, -1)), Direction((angle.along, 1))):
        outer = panel.side(end.opposite)
        ends.append((angle.box.side(end) - outer) * end.sign)
    return min(ends)
