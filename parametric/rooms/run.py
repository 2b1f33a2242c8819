"""A run of units as it is built: each butted to the one before, from the corner to its free end."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.findings.stacked import edge_along_wall, extent
from parametric.geometry.space import Direction
from parametric.joints.assembly import Assembly
from parametric.joints.groups import butted_to, floating_tops, group_of_part
from parametric.joints.joints import Bonded, Seated
from parametric.shapes.board import Board
from parametric.stock.tolerances import Contribution, CutTolerances, SettingOut


def end_of_run(
    assembly: Assembly, board: Board, away: Direction, cut: CutTolerances, setting_out: SettingOut
) -> Iterator[Contribution]:
    """Yield what decides where the edge of a board that looks `away` from the corner ends up.

    What is butted adds its own width to where its neighbour ends, until something stands in the
    corner or is set to a mark. A box that floats stands under its deck, as that was tried.
    """
    laid = butted_boards(assembly)
    own_deck = _deck_over(assembly, board)
    if own_deck is not None:
        yield Contribution(what=f"place of the {board.unit}", tolerance=setting_out.place)
        yield from extent(board, away.axis, cut)
        board = _beside(assembly, own_deck, away) or own_deck
    while board.unit in laid:
        butted = laid[board.unit]
        before = _beside(assembly, butted, away)
        if before is None:
            break
        yield from extent(butted, away.axis, cut)
        board = before
    yield from edge_along_wall(laid.get(board.unit, board), away, cut, setting_out)


def butted_boards(assembly: Assembly) -> dict[str, Board]:
    """Return the board by which each unit that is butted meets its neighbours: a deck laid dry, or
    what lies on steel angles alone.
    """
    angles = {angle.name for angle in assembly.angles}
    carried = [
        joint.top
        for joint in assembly.joints
        if isinstance(joint, Seated) and joint.on and angles.issuperset(joint.on)
    ]
    tops = floating_tops(assembly)
    found: dict[str, Board] = {}
    for board in assembly.boards:
        if board.name in tops or board.name in carried:
            found.setdefault(board.unit, board)
    return found


def _deck_over(assembly: Assembly, board: Board) -> Board | None:
    """Return the floating deck of the box that a board is part of; None of a deck itself, and where
    there is none.
    """
    groups, tops = group_of_part(assembly), floating_tops(assembly)
    over = (
        joint.top
        for joint in assembly.joints
        if isinstance(joint, Bonded) and joint.top in tops and board.name != joint.top
        if groups[board.name] in {groups[name] for name in joint.on}
    )
    deck = next(over, None)
    return None if deck is None else assembly.board(deck)


def _beside(assembly: Assembly, board: Board, away: Direction) -> Board | None:
    """Return what a board is butted to on its side towards the corner."""
    edge = board.box.side(away.opposite)
    there = [
        other
        for other in butted_to(assembly, board)
        if (other.box.centre[away.axis] - edge) * away.sign < 0
    ]
    return max(there, key=lambda other: other.box.side(away) * away.sign, default=None)
