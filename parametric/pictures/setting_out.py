"""Which places of a set its drawing tells, from the corner of the room and the floor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from parametric.geometry.space import SAME_MM, Axis, Box, Point
from parametric.joints.assembly import Assembly
from parametric.joints.standing import rim
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle, WallPlate

LEVEL = (Axis.X, Axis.Y)


def told_in_plan(assembly: Assembly) -> Iterator[Point]:
    """Yield the places that are told along both walls: where bases begin and end, the boards inside
    them, level boards, the middles of legs, both ends and both sides of steel angles.
    """
    for parts in _by_unit(assembly):
        standing = [each for each in parts if isinstance(each, Board) and _stands(each)]
        if standing:
            base = rim([board.box for board in standing])
            yield from _corners(base)
            yield from (p for board in standing for p in _inside(board, base))
        for part in parts:
            match part:
                case Board() if part.facing.axis is Axis.Z:
                    yield from _corners(part.box)
                case Leg():
                    yield part.foot
                case SteelAngle():
                    yield from _corners(part.box)


def told_on_the_wall(assembly: Assembly, along: Axis) -> Iterator[Point]:
    """Yield the places that are told along the wall that runs along an axis: the ends of what
    hangs there, the middles of wall plates.
    """
    out = Axis.Y if along is Axis.X else Axis.X
    for parts in _by_unit(assembly):
        for part in parts:
            if _thin(part.box) is not out:
                continue
            if isinstance(part, WallPlate):
                yield part.box.centre
            elif isinstance(part, Board) and _hangs(parts):
                yield from (part.box.low, part.box.high)


def told_in_height(assembly: Assembly, units: Iterable[str]) -> Iterator[Point]:
    """Yield the heights of units that are told: level boards from below and above, what hangs, wall
    plates from below, steel angles.
    """
    wanted = frozenset(units)
    for parts in _by_unit(assembly):
        for part in parts:
            if part.unit not in wanted:
                continue
            level = isinstance(part, Board) and part.facing.axis is Axis.Z
            if level or isinstance(part, SteelAngle) or (isinstance(part, Board) and _hangs(parts)):
                yield from (part.box.low, part.box.high)
            elif isinstance(part, WallPlate):
                yield part.box.low


def _by_unit(assembly: Assembly) -> Iterator[list[Board | Member]]:
    units: dict[str, list[Board | Member]] = {}
    for part in (*assembly.boards, *assembly.members):
        if not isinstance(part, Cleat):
            units.setdefault(part.unit, []).append(part)
    yield from units.values()


def _stands(board: Board) -> bool:
    return board.box.low.z <= SAME_MM and board.facing.axis is not Axis.Z


def _inside(board: Board, base: Box) -> Iterator[Point]:
    """Yield a place of the nearer face of a board that is none of the outer ones of its base."""
    axis = board.facing.axis
    low, high = board.box.low[axis], board.box.high[axis]
    if min(low - base.low[axis], base.high[axis] - high) > SAME_MM:
        near = min(low, high, key=abs)
        across = Axis.Y if axis is Axis.X else Axis.X
        # Told along one wall only: across it is where the base is.
        yield board.box.low.at(axis, near).at(across, base.low[across])


def _corners(box: Box) -> Iterator[Point]:
    for x in (box.low.x, box.high.x):
        for y in (box.low.y, box.high.y):
            yield Point(x, y, box.high.z)


def _hangs(parts: Sequence[Board | Member]) -> bool:
    return any(isinstance(part, WallPlate) for part in parts)


def _thin(box: Box) -> Axis:
    return min(Axis, key=box.size)
