"""Whether every piece passes the narrowest places on its way into the room."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.access import (
    Access,
    Size,
    sides_of,
    spare_in_door_mm,
    spare_in_lift_mm,
    spare_round_corner_mm,
)
from parametric.assembly import Assembly
from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.joints import Housed
from parametric.members import Cleat, SteelAngle
from parametric.space import Axis, Box, Point

HANDS_MM = 30.0  # for hands beside a piece in a door; common practice, no source
TIGHT_MM = 50.0  # a longer piece is turned with care; common practice, no source
_ADVICE = "bring it in another way, make it in two pieces, or put the deck's joint elsewhere"


def way_in_findings(where: str, assembly: Assembly, access: Access) -> Iterator[Finding]:
    """Yield for each piece what is to spare in door, lift and corner, as far as the job gives them.

    Boards, cleats and steel angles come one by one; boards that are glued into each other come as
    the carcass that they make.
    """
    for name, piece in pieces_of(assembly):
        place = f"{where}: {name}"
        if access.door_width_mm is not None and access.door_height_mm is not None:
            yield at_least(
                code="way-door",
                where=place,
                what="left beside it in the door",
                measured=spare_in_door_mm(piece, access.door_width_mm, access.door_height_mm),
                warn_below=HANDS_MM,
                fail_below=0.0,
                advice=_ADVICE,
            )
        if access.lift_mm is not None:
            yield at_least(
                code="way-lift",
                where=place,
                what="length to spare, standing or leaning in the lift",
                measured=spare_in_lift_mm(piece, access.lift_mm),
                warn_below=TIGHT_MM,
                fail_below=0.0,
                advice=_ADVICE,
            )
        if access.corner_mm is not None:
            yield at_least(
                code="way-corner",
                where=place,
                what="length to spare round the corner of the corridor",
                measured=spare_round_corner_mm(
                    piece, access.corner_mm, access.door_height_mm or 0.0
                ),
                warn_below=TIGHT_MM,
                fail_below=0.0,
                advice=_ADVICE,
            )


def pieces_of(assembly: Assembly) -> Iterator[tuple[str, Size]]:
    """Yield name and sides of everything that is carried in."""
    glued = {
        name
        for joint in assembly.joints
        if isinstance(joint, Housed)
        for name in (joint.member, joint.into)
    }
    carcasses: dict[str, Box] = {}
    for board in assembly.boards:
        if board.name in glued:
            known = carcasses.get(board.unit, board.box)
            carcasses[board.unit] = Box(
                Point(*map(min, known.low, board.box.low)),
                Point(*map(max, known.high, board.box.high)),
            )
        else:
            yield board.name, _sides(board.box)
    for name, box in carcasses.items():
        yield name, _sides(box)
    for member in assembly.members:
        if isinstance(member, Cleat | SteelAngle):
            yield member.name, _sides(member.box)


def _sides(box: Box) -> Size:
    x, y, z = (box.size(axis) for axis in Axis)
    return sides_of((x, y, z))
