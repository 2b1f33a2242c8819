"""What is put together as one, and which of it finds its place only when it is laid dry."""

from __future__ import annotations

from itertools import pairwise

from parametric.geometry.space import SAME_MM, Axis, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Housed, Hung, Screwed, Seated, parts_of
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat
from parametric.stock.made_in import MadeIn

BUTTED_MM = 10.0
"""Boards of two units that are no further apart are butted; common practice, no source."""


def group_of_part(assembly: Assembly) -> dict[str, str]:
    """Return for each part the first part of its group.

    Screws and grooves hold a group together, except the screws of what stands apart; all wall
    plates that one panel hangs on are a group, and all wall cleats that one board lies on.
    """
    names = [part.name for part in (*assembly.boards, *assembly.members)]
    group = {name: name for name in names}
    apart, on_walls = standing_apart(assembly), assembly.on_walls()
    bonded = bonded_tops(assembly)

    def join(first: str, second: str) -> None:
        kept, gone = sorted((group[first], group[second]), key=names.index)
        for name in names:
            if group[name] == gone:
                group[name] = kept

    for joint in assembly.joints:
        match joint:
            case Screwed() if holds_down(assembly, joint, bonded):
                pass
            case Screwed() | Housed() if not apart & set(parts_of(joint)):
                join(*parts_of(joint))
            case Hung(plates=(first, *others)):
                for plate in others:
                    join(first, plate)
            case Seated():
                for one, other in pairwise(name for name in joint.on if name in on_walls):
                    join(one, other)
            case _:
                pass
    return group


def bonded_tops(assembly: Assembly) -> frozenset[str]:
    """Return the boards that are bonded on others."""
    return frozenset(joint.top for joint in assembly.joints if isinstance(joint, Bonded))


def holds_down(assembly: Assembly, joint: Screwed, bonded: frozenset[str]) -> bool:
    """Return whether a screw goes up from a box into a deck that is bonded on it, once it lies."""
    return joint.into in bonded and isinstance(assembly.part(joint.through), Cleat)


def standing_apart(assembly: Assembly) -> frozenset[str]:
    """Return the members that are there before what they are screwed to, and belong to no group of
    it: steel angles, and what is put up on a wall.
    """
    return assembly.on_walls() | {angle.name for angle in assembly.angles}


def floating_groups(assembly: Assembly) -> frozenset[str]:
    """Return the groups that find their place when the deck to be bonded on them is laid dry
    against a neighbour: all but what two walls hold in their corner.
    """
    groups = group_of_part(assembly)
    held: dict[str, set[Axis]] = {}
    for joint in assembly.joints:
        if isinstance(joint, FixedToWall):
            held.setdefault(groups[joint.through], set()).add(joint.direction.axis)
    return frozenset(
        groups[name]
        for joint in assembly.joints
        if isinstance(joint, Bonded) and joint.made_in is MadeIn.SITE
        if butted_to(assembly, assembly.board(joint.top))
        for name in joint.on
        if len(held.get(groups[name], ())) < len((Axis.X, Axis.Y))
    )


def floating_tops(assembly: Assembly) -> frozenset[str]:
    """Return the boards that are laid dry before they are bonded on."""
    groups, floating = group_of_part(assembly), floating_groups(assembly)
    return frozenset(
        joint.top
        for joint in assembly.joints
        if isinstance(joint, Bonded) and joint.made_in is MadeIn.SITE
        if any(groups[name] in floating for name in joint.on)
    )


def butted_to(assembly: Assembly, board: Board) -> tuple[Board, ...]:
    """Return the boards of other units that a level board lies against, edge to edge."""
    reach = board.box
    for side in (Direction.X_MINUS, Direction.X_PLUS, Direction.Y_MINUS, Direction.Y_PLUS):
        reach = reach.grown(side, BUTTED_MM)
    return tuple(
        other
        for other in assembly.boards
        if other.unit != board.unit
        and reach.overlap(other.box) is not None
        and board.box.overlap(other.box) is None
    )


def off_wall_mm(assembly: Assembly, joint: FixedToWall) -> float:
    """Return how far what a wall screw goes through stands off the wall, by the sizes of the set:
    what a shim fills.
    """
    gap = abs(assembly.part(joint.through).box.side(joint.direction) - joint.wall_mm)
    return 0.0 if gap <= SAME_MM else gap
