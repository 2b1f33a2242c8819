"""A unit taken apart for a picture: each part set back from its place, so that all are seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import parts_of
from parametric.joints.standing import rim
from parametric.pictures.bodies import AS_IT_STANDS
from parametric.shapes.board import Board
from parametric.shapes.members import Leg, Member

# To be seen as apart and still as belonging there. Common practice, no source.
_SPREAD, _LEAST_MM = 0.5, 60.0  # of the way from the middle of the unit
_RAISED = 0.3  # what lies on top: of length and width together
_OFF_MM, _LEG_OFF_MM = 90.0, 150.0  # what is fixed to a board, off its face
_MIDDLE = 0.05  # of the unit's size: a board this near to its middle stays

_NOWHERE = Point(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class SetBack:
    """Where a part is drawn, and the thread between its middle there and where it goes: its place,
    or beside the board that it is fixed to.
    """

    pose: Pose
    start: Point
    end: Point


def exploded(
    assembly: Assembly, parts: Sequence[Board | Member], raised: float = 1.0
) -> dict[str, SetBack]:
    """Return where each part of a unit is drawn: boards away from its middle the way that they
    face, those on top `raised` times as far as usual; what is fixed to a board off its face.
    """
    boards = [part for part in parts if isinstance(part, Board)]
    whole = rim([part.box for part in boards or parts])
    away = {board.name: _board_away(board, whole, raised) for board in boards}
    moved = [_moved(board.box, away[board.name]) for board in boards]
    holders = dict(_holders(assembly, [part.name for part in parts], away))
    for part in parts:
        if isinstance(part, Leg):
            away[part.name] = _leg_away(part, moved, whole)
        elif not isinstance(part, Board):
            away[part.name] = _member_away(part, holders.get(part.name), assembly, away)
    return {
        part.name: _set_back(part, away[part.name], away.get(holders.get(part.name, ""), _NOWHERE))
        for part in parts
    }


def _set_back(part: Board | Member, off: Point, home: Point) -> SetBack:
    pose, stays = (Pose(at, AS_IT_STANDS.x_axis, AS_IT_STANDS.z_axis) for at in (off, home))
    return SetBack(pose, pose.to_room(part.box.centre), stays.to_room(part.box.centre))


def _board_away(board: Board, whole: Box, raised: float) -> Point:
    axis = board.facing.axis
    off = board.box.centre[axis] - whole.centre[axis]
    if abs(off) <= _MIDDLE * whole.size(axis):
        return _NOWHERE
    way = Direction((axis, 1 if off > 0 else -1))
    if way is Direction.Z_PLUS:
        return _NOWHERE.along(way, raised * _RAISED * (whole.size(Axis.X) + whole.size(Axis.Y)))
    return _NOWHERE.along(way, max(_SPREAD * abs(off), _LEAST_MM))


def _holders(
    assembly: Assembly, names: Sequence[str], boards: Mapping[str, Point]
) -> Iterator[tuple[str, str]]:
    """Yield for each part that is no board the first board that a joint holds it to: rather one
    that stands, since what hangs under a raised one is not seen.
    """
    found: dict[str, str] = {}
    for wanted in ((board for board in boards if _stands(assembly, board)), boards):
        own = frozenset(wanted)
        for joint in assembly.joints:
            held = parts_of(joint)
            board = next((name for name in held if name in own), None)
            for name in held:
                if board and name in names and name not in boards:
                    found.setdefault(name, board)
    yield from found.items()


def _stands(assembly: Assembly, board: str) -> bool:
    return assembly.board(board).facing.axis is not Axis.Z


def _leg_away(leg: Leg, boards: Sequence[Box], whole: Box) -> Point:
    """Return how far down a leg is drawn: wholly below boards that are drawn where it goes."""
    off = _NOWHERE.along(Direction.Z_MINUS, _LEG_OFF_MM)
    box = _moved(leg.box, off)
    if all(box.overlap(board) is None for board in boards):
        return off
    return _NOWHERE.along(Direction.Z_MINUS, whole.size(Axis.Z) + _LEAST_MM)


def _moved(box: Box, off: Point) -> Box:
    low, high = (
        Point(*(a + b for a, b in zip(end, off, strict=True))) for end in (box.low, box.high)
    )
    return Box(low, high)


def _member_away(
    part: Member,
    holder: str | None,
    assembly: Assembly,
    away: Mapping[str, Point],
) -> Point:
    if holder is None:
        fixed = assembly.wall_fixings().get(part.name)
        return _NOWHERE.along(fixed[0].direction, _OFF_MM) if fixed else _NOWHERE
    board = assembly.board(holder)
    axis = board.facing.axis
    beside = part.box.centre[axis] - board.box.centre[axis]
    return away[holder].along(Direction((axis, 1 if beside > 0 else -1)), _OFF_MM)
