"""Where the wall screws of a set find studs and blocking, and where they do not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric.findings.screws import wall_bite_mm
from parametric.geometry.space import Axis, Direction
from parametric.geometry.walls import Wall, wall_towards
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured, Range
from parametric.rooms.room_fit import MissedFixing
from parametric.sets.room_set import RoomSet
from parametric.steps.words import plain_name


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFixing:
    """A wall screw: in which wall, how far from the corner along it, and how high."""

    joint: FixedToWall
    wall: Wall
    across_mm: float
    height_mm: float

    @property
    def where(self) -> str:
        """How papers name it."""
        return f"{plain_name(self.joint.through)} to the {self.wall}"


def far_corner(joint: FixedToWall, room_set: RoomSet) -> tuple[Wall, float] | None:
    """Return the wall opposite that the unit of a screw stands along, and how far off that is, if
    the screw goes into the wall beside it: such a unit is set out from the corner of the two. None
    of all others, which count from the corner of the wall that they are screwed to.
    """
    own = dict(room_set.walls).get(room_set.assembly.part(joint.through).unit)
    if own is None or not own.is_opposite:
        return None
    if own.corner_with is not wall_towards(joint.direction, joint.wall_mm):
        return None
    return own, next(run.away_mm for run in room_set.sizes.runs if run.wall is own)


def wall_fixings(assembly: Assembly) -> tuple[WallFixing, ...]:
    """Return the wall screws of a set in the room frame, in the order of its joints."""
    return tuple(
        WallFixing(
            joint=joint,
            wall=wall_towards(joint.direction, joint.wall_mm),
            across_mm=abs(joint.head.x if joint.direction.axis is Axis.Y else joint.head.y),
            height_mm=joint.head.z,
        )
        for joint in assembly.joints
        if isinstance(joint, FixedToWall) and joint.direction is not Direction.Z_MINUS
    )


TOO_LITTLE_THREAD = "too little thread in the wood behind the lining"


def missed_fixings(
    room_set: RoomSet, measured: Measured, fitting: Fitting
) -> Iterator[MissedFixing]:
    """Yield the wall screws that meet neither blocking nor stud, or do not bite deep enough.

    Studs are measured on the head wall only, blocking on that and on the side wall. A wall of which
    nothing is known yields nothing; papers say of it that it was not measured. Walls that want no
    blocking take fixings anywhere; steel studs hold no screw, what is let in between them does.
    """
    for fixing in wall_fixings(room_set.assembly):
        if not fixing.joint.wall.kind.wants_blocking:
            continue
        reason = _reason(fixing, measured, fitting)
        if reason:
            far = far_corner(fixing.joint, room_set)
            yield MissedFixing(
                where=fixing.where,
                across_mm=fixing.across_mm if far is None else far[1] - fixing.across_mm,
                corner_with=fixing.wall.corner_with if far is None else far[0],
                height_mm=fixing.height_mm,
                reason=reason,
            )


def _reason(fixing: WallFixing, measured: Measured, fitting: Fitting) -> str:
    known = {Wall.HEAD: measured.blocking_mm, Wall.SIDE: measured.side_blocking_mm}
    blocking = known.get(fixing.wall)
    in_wood = fixing.joint.wall.kind.is_wood
    to_stud = _to_stud_mm(fixing, measured) if fixing.wall is Wall.HEAD and in_wood else None
    if blocking is None and to_stud is None:
        return ""
    clear = fitting.stud_width_mm / 2 - fitting.stud_edge_mm
    in_stud = to_stud is not None and to_stud <= clear
    if not in_stud and not _in_any(fixing.height_mm, blocking or (), fitting.stud_edge_mm):
        if blocking is None:
            return "between studs, and no blocking is known"
        return "no blocking at this height" + ("" if to_stud is None else ", and between studs")
    lining = measured.wall_lining_mm
    if (
        in_wood
        and lining is not None
        and wall_bite_mm(fixing.joint) - lining < fitting.least_bite_mm
    ):
        return TOO_LITTLE_THREAD
    return ""


def _in_any(height_mm: float, ranges: tuple[Range, ...], edge_mm: float) -> bool:
    return any(low + edge_mm <= height_mm <= high - edge_mm for low, high in ranges)


def _to_stud_mm(fixing: WallFixing, measured: Measured) -> float | None:
    """Return how far the middle of the nearest stud is; None if nobody measured them."""
    first, spacing = measured.first_stud_mm, measured.stud_spacing_mm
    if first is None:
        return None
    if spacing is None:
        return abs(fixing.across_mm - first)
    steps = max(0, round((fixing.across_mm - first) / spacing))
    return abs(fixing.across_mm - (first + steps * spacing))
