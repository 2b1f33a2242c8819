"""The pieces that the shop joins and delivers, merged over all sets and rooms, with numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum

from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, dot
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import Delivered, delivered, joined_from, joining
from parametric.joints.joints import Housed, Joint, Screwed
from parametric.lists.cut_list import PartUse
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg
from parametric.shapes.same_panel import matched, near

SetKey = tuple[str, Hand]
_Placed = tuple[str, tuple[float, ...]]
"""A part's number, and the two ends of its box along the axes of the piece's largest part."""


class Joining(Enum):
    """What joining a piece is."""

    CARCASS = "boards into grooves of others"
    BOX = "boards with their cleats to each other"
    CLEATS = "cleats onto a board"
    LEGS = "legs under a board"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopPiece:
    """A piece of more than one part: `piece` in the set `drawn`, where it was met first.

    `parts` and `screws` are counts by number and by article of what is joined to make it, parts or
    pieces; `numbers` are those of these by the part that each goes by. `sides_mm` are those of the
    box around it, the longest first. `work` is what joining it is.
    """

    number: str
    description: str
    units: tuple[str, ...]
    parts: tuple[tuple[str, str, int], ...]
    screws: tuple[tuple[str, int], ...]
    work: Joining
    quantity: int
    mass_kg: float
    sides_mm: tuple[float, float, float]
    hands: tuple[Hand, ...]
    drawn: SetKey
    piece: Delivered
    numbers: Mapping[str, str]


@dataclass(slots=True)
class _Line:
    main: str
    others: tuple[_Placed, ...]
    piece: Delivered
    assembly: Assembly
    numbers: Mapping[str, str]
    drawn: SetKey
    units: dict[str, None] = field(default_factory=dict)
    hands: dict[Hand, None] = field(default_factory=dict)
    quantity: int = 0


class PieceCatalogue:
    """Collects the pieces of sets; two are one line when they are made of the same parts that lie
    alike in the frame of the largest, compared within a tolerance as parts are.
    """

    def __init__(self) -> None:
        self._lines: list[_Line] = []
        self._marks: dict[SetKey, dict[str, str]] = {}
        self._joined_to: dict[SetKey, dict[str, str]] = {}

    def add_set(
        self,
        key: SetKey,
        assembly: Assembly,
        numbers: Mapping[str, str],
        uses: Iterable[PartUse],
        rooms: int,
    ) -> None:
        """Add the pieces of a set that `rooms` rooms have, and those that they are joined from.
        `numbers` are those of all its parts by name, `uses` where its boards stand.
        """
        poses = {use.board: Pose(use.origin, use.x_axis, use.z_axis) for use in uses}
        joined_to = self._joined_to.setdefault(key, {})

        def number_of(piece: Delivered) -> str:
            if len(piece.parts) == 1:
                return numbers[piece.main.name]
            made_of = joined_from(assembly, piece)
            own = {each.main.name: number_of(each) for each in made_of}
            main, others = numbers[piece.main.name], _others(piece, numbers, poses)
            index = self._find(main, others)
            if index == len(self._lines):
                self._lines.append(_Line(main, others, piece, assembly, own, key))
            line = self._lines[index]
            line.units[piece.main.unit] = None
            line.hands[key[1]] = None
            line.quantity += rooms
            number = piece_number(index)
            single = (each.main.name for each in made_of if len(each.parts) == 1)
            joined_to.update(dict.fromkeys(single, number))
            return number

        self._marks[key] = {piece.main.name: number_of(piece) for piece in delivered(assembly)}

    def pieces(self) -> tuple[ShopPiece, ...]:
        """Return the pieces in the order of their numbers."""
        return tuple(_piece(index, line) for index, line in enumerate(self._lines))

    def marks(self, key: SetKey) -> Mapping[str, str]:
        """Return what each delivered piece of a set is marked with, by the part that it goes by:
        its own number, or that of its only part.
        """
        return self._marks[key]

    def joined_to(self, key: SetKey) -> Mapping[str, str]:
        """Return the number of the piece that each part of a set is first joined to in the shop, by
        its name: of a box that is its board with cleats. What is delivered by itself is not there.
        """
        return self._joined_to[key]

    def _find(self, main: str, others: tuple[_Placed, ...]) -> int:
        """Return the place of the line that is such a piece, or of the next one."""
        return next(
            (
                index
                for index, line in enumerate(self._lines)
                if line.main == main and matched(line.others, others, _same_place)
            ),
            len(self._lines),
        )


def piece_number(index: int) -> str:
    """Return the number of the piece at `index`, from A001."""
    return f"A{index + 1:03d}"


def carried_by(piece: Delivered) -> str:
    """Return in words what a piece's largest part carries; nothing of a carcass, which is named
    as a whole.
    """
    if piece.called != piece.main.name:
        return ""
    others = [part for part in piece.parts if part != piece.main]
    words = Counter("leg" if isinstance(part, Leg) else "cleat" for part in others)
    listed = " and ".join(f"{count} {word}{'s' * (count > 1)}" for word, count in words.items())
    return f" with {listed}" if listed else ""


def _others(
    piece: Delivered, numbers: Mapping[str, str], poses: Mapping[str, Pose]
) -> tuple[_Placed, ...]:
    pose = poses[piece.main.name]
    return tuple(
        (numbers[part.name], _seen_from(pose, part.box))
        for part in piece.parts
        if part != piece.main
    )


def _seen_from(pose: Pose, box: Box) -> tuple[float, ...]:
    """Return the two ends of a box along the axes of a frame."""
    ends: list[float] = []
    for axis in (pose.x_axis, pose.y_axis, pose.z_axis):
        ends += sorted(dot(corner, axis) - dot(pose.origin, axis) for corner in (box.low, box.high))
    return tuple(ends)


def _same_place(one: _Placed, other: _Placed) -> bool:
    (number, ends), (other_number, other_ends) = one, other
    return number == other_number and all(map(near, ends, other_ends))


def _piece(index: int, line: _Line) -> ShopPiece:
    piece = line.piece
    made_of = joined_from(line.assembly, piece)
    joints = [line.assembly.joints[at] for at in joining(piece, made_of)]
    longest, middle, shortest = sorted(map(piece.box.size, Axis), reverse=True)
    screws = Counter(joint.screw.description for joint in joints if isinstance(joint, Screwed))
    return ShopPiece(
        number=piece_number(index),
        description=_description(piece),
        units=tuple(line.units),
        parts=tuple(_parts(made_of, line.numbers)),
        screws=tuple(screws.items()),
        work=_work(piece, joints),
        quantity=line.quantity,
        mass_kg=piece.mass_kg,
        sides_mm=(longest, middle, shortest),
        hands=tuple(line.hands),
        drawn=line.drawn,
        piece=piece,
        numbers=line.numbers,
    )


def _work(piece: Delivered, joints: Iterable[Joint]) -> Joining:
    if any(isinstance(joint, Housed) for joint in joints):
        return Joining.CARCASS
    if sum(isinstance(part, Board) for part in piece.parts) > 1:
        return Joining.BOX
    cleated = any(isinstance(part, Cleat) for part in piece.parts)
    return Joining.CLEATS if cleated else Joining.LEGS


def _description(piece: Delivered) -> str:
    if len(piece.parts) == 1:
        return piece.main.description
    several = piece.called != piece.main.name
    name = piece.called.replace("/", " ") if several else piece.main.description
    return f"{name}{carried_by(piece)}"


def _parts(
    made_of: Sequence[Delivered], numbers: Mapping[str, str]
) -> Iterator[tuple[str, str, int]]:
    counts = Counter(numbers[each.main.name] for each in made_of)
    called = {numbers[each.main.name]: _description(each) for each in reversed(made_of)}
    for number, count in counts.items():
        yield number, called[number], count
