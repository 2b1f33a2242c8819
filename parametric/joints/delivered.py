"""What leaves the shop as one piece: parts that joints made there hold together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import prod

from parametric.geometry.space import Axis, Box
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Housed, made_in, parts_of
from parametric.joints.standing import rim
from parametric.shapes.board import Board
from parametric.shapes.mass import total_kg
from parametric.shapes.members import Member
from parametric.stock.made_in import MadeIn


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivered:
    """A piece as it is delivered: its parts in the order of the assembly, and the joints made in
    the shop by their places in the assembly's tuple. `whole` tells that no board of its unit comes
    apart from it.
    """

    parts: tuple[Board | Member, ...]
    joints: tuple[int, ...]
    whole: bool

    @property
    def main(self) -> Board | Member:
        """The part that it goes by: its largest board, the first where some are as large."""
        boards = [part for part in self.parts if isinstance(part, Board)]
        return max(boards or self.parts, key=lambda part: prod(map(part.box.size, Axis)))

    @property
    def called(self) -> str:
        """What a person calls it: a carcass by its unit, several boards under a deck that comes
        apart as its box, else its largest.
        """
        if sum(isinstance(part, Board) for part in self.parts) <= 1:
            return self.main.name
        return self.main.unit if self.whole else f"{self.main.unit}/box"

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its parts."""
        return tuple(part.name for part in self.parts)

    @property
    def box(self) -> Box:
        """The box around it, where it ends up."""
        return rim([part.box for part in self.parts])

    @property
    def mass_kg(self) -> float:
        """Its mass without screws and glue."""
        return total_kg(self.parts)


def delivered(assembly: Assembly) -> tuple[Delivered, ...]:
    """Return the pieces that a set is delivered in, in the order of their first parts; each part is
    in exactly one.
    """
    parts = {part.name: part for part in (*assembly.boards, *assembly.members)}
    piece_of = {name: name for name in parts}
    together = {name: [name] for name in parts}
    made: list[tuple[str, int]] = []
    for at, joint in enumerate(assembly.joints):
        if made_in(joint) is not MadeIn.SHOP:
            continue
        first, *others = parts_of(joint)
        made.append((first, at))
        for other in others:
            kept, gone = piece_of[first], piece_of[other]
            if kept != gone:
                joining_it = together.pop(gone)
                piece_of.update(dict.fromkeys(joining_it, kept))
                together[kept] += joining_it
    members: dict[str, list[Board | Member]] = {}
    for name, of in piece_of.items():
        members.setdefault(of, []).append(parts[name])
    joints: dict[str, list[int]] = {}
    for name, at in made:
        joints.setdefault(piece_of[name], []).append(at)
    piece_of_unit: dict[str, set[str]] = {}
    for board in assembly.boards:
        piece_of_unit.setdefault(board.unit, set()).add(piece_of[board.name])
    return tuple(
        Delivered(
            parts=tuple(listed),
            joints=tuple(joints.get(of, ())),
            whole=piece_of_unit.get(listed[0].unit) == {of},
        )
        for of, listed in members.items()
    )


def joined_from(assembly: Assembly, piece: Delivered) -> tuple[Delivered, ...]:
    """Return what the shop joins a piece from: of a box each board with what is put on it first,
    the cleats that lie flat on it; else each part alone.
    """
    joints = {at: assembly.joints[at] for at in piece.joints}
    boards = {part.name for part in piece.parts if isinstance(part, Board)}
    grooved = any(isinstance(joint, Housed) for joint in joints.values())
    if grooved or len(boards) <= 1:
        return tuple(Delivered(parts=(part,), joints=(), whole=False) for part in piece.parts)
    # A cleat's screws into the board that it lies flat on are stated before those into the next.
    put_on = {board: board for board in boards}
    for joint in joints.values():
        first, second = parts_of(joint)
        member, board = (second, first) if first in boards else (first, second)
        put_on.setdefault(member, board)
    parts: dict[str, list[Board | Member]] = {}
    for part in piece.parts:
        parts.setdefault(put_on[part.name], []).append(part)
    own: dict[str, list[int]] = {}
    for at, joint in joints.items():
        boards_of = {put_on[name] for name in parts_of(joint)}
        if len(boards_of) == 1:
            own.setdefault(boards_of.pop(), []).append(at)
    return tuple(
        Delivered(parts=tuple(listed), joints=tuple(own.get(board, ())), whole=False)
        for board, listed in parts.items()
    )


def joining(piece: Delivered, made_of: Sequence[Delivered]) -> tuple[int, ...]:
    """Return the joints that join a piece from what it is made of, by place in the assembly."""
    before = {at for each in made_of for at in each.joints}
    return tuple(at for at in piece.joints if at not in before)


def joined_in_shop(assembly: Assembly) -> Iterator[Delivered]:
    """Yield the pieces of more than one part that the shop joins for a set, those that others are
    joined from first.
    """

    def of(piece: Delivered) -> Iterator[Delivered]:
        if len(piece.parts) > 1:
            for each in joined_from(assembly, piece):
                yield from of(each)
            yield piece

    for piece in delivered(assembly):
        yield from of(piece)
