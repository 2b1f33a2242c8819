"""A unit taken apart so that each part shows what it is: pieces of a deck come apart as well, and
plates are drawn over the panel that hides them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from math import isclose

from parametric.geometry.space import SAME_MM, Axis, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import parts_of
from parametric.pictures.exploded import SetBack, exploded
from parametric.shapes.board import Board
from parametric.shapes.members import Member, WallPlate

# Common practice, no source.
_PIECES_MM = 160.0  # between pieces of a deck
_OVER_MM = 60.0  # from the top of a panel to plates


def set_apart(
    assembly: Assembly, parts: Sequence[Board | Member], raised: float = 1.0
) -> dict[str, SetBack]:
    """Return where each part of a unit is drawn, those on top `raised` times as far as usual."""
    places = exploded(assembly, parts, raised)
    boards = [part for part in parts if isinstance(part, Board)]
    moves = dict(_pieces_apart(boards))
    moves |= dict(_with_their_pieces(assembly, parts, places, moves))
    moved = {name: _moved(places[name], off, whole=True) for name, off in moves.items()}
    plates = {name: _moved(places[name], off, whole=False) for name, off in _over(boards, parts)}
    return {**places, **moved, **plates}


def _moved(back: SetBack, off: Point, *, whole: bool) -> SetBack:
    """Return a part drawn elsewhere: `whole`, or without the end of its thread."""
    pose = replace(back.pose, origin=_sum(back.pose.origin, off))
    return SetBack(pose, _sum(back.start, off), _sum(back.end, off) if whole else back.end)


def _pieces_apart(boards: Sequence[Board]) -> Iterator[tuple[str, Point]]:
    """Yield how much farther apart the pieces of a deck are drawn: level boards at one height that
    lie in a row.
    """
    levels: dict[float, list[Board]] = {}
    for board in boards:
        if board.facing.axis is Axis.Z:
            levels.setdefault(round(board.box.low.z, 3), []).append(board)
    for level in levels.values():
        for axis in (Axis.X, Axis.Y):
            row = sorted(level, key=lambda board: board.box.low[axis])
            pairs = list(pairwise(row))
            if pairs and all(a.box.high[axis] <= b.box.low[axis] + SAME_MM for a, b in pairs):
                for at, board in enumerate(row):
                    yield board.name, _along(axis, (at - (len(row) - 1) / 2) * _PIECES_MM)
                break


def _with_their_pieces(
    assembly: Assembly,
    parts: Sequence[Board | Member],
    places: Mapping[str, SetBack],
    moves: Mapping[str, Point],
) -> Iterator[tuple[str, Point]]:
    """Yield the parts whose threads end at a piece that was moved: they go with it."""
    for part in parts:
        if isinstance(part, Board):
            continue
        home = places[part.name].end
        for joint in assembly.joints:
            held = parts_of(joint)
            if part.name not in held:
                continue
            for piece in (name for name in held if name in moves):
                beside = _sum(part.box.centre, places[piece].pose.origin)
                if all(isclose(a, b, abs_tol=SAME_MM) for a, b in zip(home, beside, strict=True)):
                    yield part.name, moves[piece]


def _over(boards: Sequence[Board], parts: Sequence[Board | Member]) -> Iterator[tuple[str, Point]]:
    """Yield how far plates are raised from behind a panel, all alike."""
    plates = [part for part in parts if isinstance(part, WallPlate)]
    if plates and boards:
        top = max(board.box.high.z for board in boards)
        up = top + _OVER_MM - min(plate.box.low.z for plate in plates)
        yield from ((plate.name, _along(Axis.Z, up)) for plate in plates)


def _along(axis: Axis, by_mm: float) -> Point:
    return Point(0.0, 0.0, 0.0).along(Direction((axis, 1)), by_mm)


def _sum(one: Point, other: Point) -> Point:
    return Point(*(a + b for a, b in zip(one, other, strict=True)))
