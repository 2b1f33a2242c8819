"""The pieces that the shop joins and delivers, merged over all sets and rooms, with numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, dot
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import Delivered, delivered
from parametric.joints.joints import Housed, Screwed
from parametric.lists.cut_list import PartUse
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg

SetKey = tuple[str, Hand]
_Key = tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopPiece:
    """A piece of more than one part. `parts` and `screws` are counts by number and by article;
    `glued` tells that boards stand in grooves of others, `cleated` that it has cleats, `several`
    that cleats hold more than one board in it. `sides_mm` are those of the box around it,
    the longest first; `drawn` is the set and the part that it goes by where it was met first.
    """

    number: str
    description: str
    units: tuple[str, ...]
    parts: tuple[tuple[str, str, int], ...]
    screws: tuple[tuple[str, int], ...]
    glued: bool
    cleated: bool
    several: bool
    quantity: int
    mass_kg: float
    sides_mm: tuple[float, float, float]
    hands: tuple[Hand, ...]
    drawn: tuple[SetKey, str]


@dataclass(slots=True)
class _Line:
    piece: Delivered
    assembly: Assembly
    numbers: Mapping[str, str]
    drawn: tuple[SetKey, str]
    units: dict[str, None] = field(default_factory=dict)
    hands: dict[Hand, None] = field(default_factory=dict)
    quantity: int = 0


class PieceCatalogue:
    """Collects the pieces of sets; two are one line when they are made of the same parts that lie
    alike in the frame of the largest.
    """

    def __init__(self) -> None:
        self._lines: dict[_Key, _Line] = {}
        self._marks: dict[SetKey, dict[str, str]] = {}

    def add_set(
        self,
        key: SetKey,
        assembly: Assembly,
        numbers: Mapping[str, str],
        uses: Iterable[PartUse],
        rooms: int,
    ) -> None:
        """Add the pieces of a set that `rooms` rooms have. `numbers` are those of all its parts by
        name, `uses` where its boards stand.
        """
        poses = {use.board: Pose(use.origin, use.x_axis, use.z_axis) for use in uses}
        marks = self._marks.setdefault(key, {})
        for piece in delivered(assembly):
            main = piece.main.name
            if len(piece.parts) == 1:
                marks[main] = numbers[main]
                continue
            same = _key(piece, numbers, poses)
            line = self._lines.setdefault(same, _Line(piece, assembly, numbers, (key, main)))
            line.units[piece.main.unit] = None
            line.hands[key[1]] = None
            line.quantity += rooms
            marks[main] = piece_number(list(self._lines).index(same))

    def pieces(self) -> tuple[ShopPiece, ...]:
        """Return the pieces in the order of their numbers."""
        return tuple(_piece(index, line) for index, line in enumerate(self._lines.values()))

    def marks(self, key: SetKey) -> Mapping[str, str]:
        """Return what each delivered piece of a set is marked with, by the part that it goes by:
        its own number, or that of its only part.
        """
        return self._marks[key]


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


def _key(piece: Delivered, numbers: Mapping[str, str], poses: Mapping[str, Pose]) -> _Key:
    pose = poses[piece.main.name]
    others = sorted(
        (numbers[part.name], _seen_from(pose, part.box))
        for part in piece.parts
        if part != piece.main
    )
    return (numbers[piece.main.name], *others)


def _seen_from(pose: Pose, box: Box) -> tuple[float, ...]:
    """Return the two ends of a box along the axes of a frame, to a tenth of a millimetre."""
    axes = pose.x_axis, pose.y_axis, pose.z_axis
    ends: list[float] = []
    for axis in axes:
        reached = [dot(corner, axis) - dot(pose.origin, axis) for corner in (box.low, box.high)]
        ends += [round(min(reached), 1) + 0.0, round(max(reached), 1) + 0.0]
    return tuple(ends)


def _piece(index: int, line: _Line) -> ShopPiece:
    piece, numbers = line.piece, line.numbers
    joints = [line.assembly.joints[at] for at in piece.joints]
    longest, middle, shortest = sorted(map(piece.box.size, Axis), reverse=True)
    screws = Counter(joint.screw.description for joint in joints if isinstance(joint, Screwed))
    cleated = any(isinstance(part, Cleat) for part in piece.parts)
    boards = sum(isinstance(part, Board) for part in piece.parts)
    return ShopPiece(
        number=piece_number(index),
        description=f"{_name(piece)}{carried_by(piece)}",
        units=tuple(line.units),
        parts=tuple(_parts(piece, numbers)),
        screws=tuple(screws.items()),
        glued=any(isinstance(joint, Housed) for joint in joints),
        cleated=cleated,
        several=cleated and boards > 1,
        quantity=line.quantity,
        mass_kg=piece.mass_kg,
        sides_mm=(longest, middle, shortest),
        hands=tuple(line.hands),
        drawn=line.drawn,
    )


def _name(piece: Delivered) -> str:
    several = piece.called != piece.main.name
    return piece.called.replace("/", " ") if several else piece.main.description


def _parts(piece: Delivered, numbers: Mapping[str, str]) -> Iterator[tuple[str, str, int]]:
    counts = Counter(numbers[part.name] for part in piece.parts)
    called = {numbers[part.name]: part.description for part in reversed(piece.parts)}
    for number, count in counts.items():
        yield number, called[number], count
