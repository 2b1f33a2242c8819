"""Whether the steel angle enters its notches and bears where it should."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.assembly import Assembly
from parametric.features import Corner, Cutout
from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.joints import Passing
from parametric.machining import passing_cut
from parametric.members import SteelAngle
from parametric.routing import Routing
from parametric.space import Axis, Box, Direction

SIDE_CLEARANCE_MM = 1.0
LEFT_BELOW_MM = 50.0
BEARING_MM = 25.0


def passage_findings(where: str, assembly: Assembly, routing: Routing) -> Iterator[Finding]:
    """Yield clearance, corner, what is left below and bearing for each panel an angle crosses."""
    for joint in assembly.joints:
        if not isinstance(joint, Passing):
            continue
        angle, panel = assembly.angle(joint.member), assembly.board(joint.through)
        cut = passing_cut(joint, angle, panel, routing)
        place = f"{where}: {angle.name} in {panel.name}"
        yield at_least(
            code="angle-clearance",
            where=place,
            what="clearance on the tighter side of the angle",
            measured=side_clearance_mm(cut.box, angle),
            warn_below=SIDE_CLEARANCE_MM,
            fail_below=0.0,
            advice="increase angle_clearance",
        )
        yield at_least(
            code="angle-corner",
            where=place,
            what="room at the corner that the bit leaves round",
            measured=corner_room_mm(cut, angle, routing),
            warn_below=0.0,
            fail_below=0.0,
            advice="overcut the corner or use a smaller bit",
        )
        yield at_least(
            code="notch-left-below",
            where=place,
            what="board left below the notch",
            measured=cut.box.low.z - panel.box.low.z,
            warn_below=LEFT_BELOW_MM,
            fail_below=20.0,
            advice="take a smaller angle or a higher base",
        )
        yield at_least(
            code="angle-bearing",
            where=place,
            what="angle beyond the panel's outer face",
            measured=bearing_mm(panel.box, angle),
            warn_below=BEARING_MM + panel.thickness_mm,
            fail_below=panel.thickness_mm,
            advice="increase bearing",
        )


def side_clearance_mm(cut: Box, angle: SteelAngle) -> float:
    """Return the lesser space between the angle and the two sides of its notch."""
    return min(
        (cut.side(side) - angle.box.side(side)) * side.sign
        for side in (angle.upright, angle.upright.opposite)
    )


def corner_room_mm(cut: Cutout, angle: SteelAngle, routing: Routing) -> float:
    """Return the room between the angle's square heel and the corner, less what the bit leaves."""
    if cut.corner is Corner.OVERCUT:
        return side_clearance_mm(cut.box, angle)
    return side_clearance_mm(cut.box, angle) - routing.bit_radius_mm


def bearing_mm(panel: Box, angle: SteelAngle) -> float:
    """Return how far the angle's nearer end lies beyond the panel's farther face."""
    ends = []
    for end in (Direction((Axis.X, -1)), Direction((Axis.X, 1))):
        outer = panel.side(end.opposite)
        ends.append((angle.box.side(end) - outer) * end.sign)
    return min(ends)
