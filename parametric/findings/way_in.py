"""Whether every piece passes the narrowest places on its way into the room."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.access import (
    Access,
    Size,
    sides_of,
    spare_in_door_mm,
    spare_in_lift_mm,
    spare_round_corner_mm,
)
from parametric.findings.finding import Finding
from parametric.findings.measure import at_least
from parametric.geometry.space import Axis, Box
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import delivered
from parametric.shapes.members import Leg, WallPlate

HANDS_MM = 30.0  # for hands beside a piece in a door; common practice, no source
TIGHT_MM = 50.0  # a longer piece is turned with care; common practice, no source
_ADVICE = "carry it in another way, make it in two pieces, or move the deck's joint"


def way_in_findings(where: str, assembly: Assembly, access: Access) -> Iterator[Finding]:
    """Yield for each piece what is to spare in door, lift and corner, as far as the job gives them.

    What was joined in the shop comes as one piece; legs and wall plates come in the box.
    """
    for name, piece in pieces_of(assembly):
        for code, what, spare_mm, wanted_mm in _spares(piece, access):
            yield at_least(
                code=code,
                where=f"{where}: {name}",
                what=what,
                measured=spare_mm,
                warn_below=wanted_mm,
                fail_below=0.0,
                advice=_ADVICE,
            )


def _spares(piece: Size, access: Access) -> Iterator[tuple[str, str, float, float]]:
    """Yield code, words, what is to spare and what is wanted of each place that is known."""
    door = access.door_mm
    if door is not None:
        yield "way-door", "room beside it in the door", spare_in_door_mm(piece, door), HANDS_MM
    if access.lift_mm is not None:
        spare_mm = spare_in_lift_mm(piece, access.lift_mm)
        yield "way-lift", "length to spare in the lift, stood up or leaning,", spare_mm, TIGHT_MM
    if access.corner_mm is not None:
        height_mm = 0.0 if door is None else door[1]
        spare_mm = spare_round_corner_mm(piece, access.corner_mm, height_mm)
        yield "way-corner", "length to spare round the corridor corner", spare_mm, TIGHT_MM


def pieces_of(assembly: Assembly) -> Iterator[tuple[str, Size]]:
    """Yield name and sides of everything that is carried in."""
    for piece in delivered(assembly):
        if not isinstance(piece.main, Leg | WallPlate):
            yield piece.called, _sides(piece.box)


def _sides(box: Box) -> Size:
    x, y, z = (box.size(axis) for axis in Axis)
    return sides_of((x, y, z))
