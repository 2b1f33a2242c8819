"""Which part goes where: physical parts, in the order they are cut, dealt out to rooms.

All parts of a number are the same, so any of them would do anywhere. They are dealt out so that
rooms get whole one after the other: the first one cut goes to the first room of the schedule that
still needs one. What is made of bars is dealt out like what is made of sheets.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from parametric.geometry.hand import Hand

SetKey = tuple[str, Hand]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPart:
    """A part of a set by its name there, with its number on the cut list, its unit and what people
    call it in that. `piece` is the number of the piece that the shop joins it to; empty where it is
    delivered as it is.
    """

    name: str
    number: str
    unit: str
    called: str
    piece: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a part ends up: the room, its set and hand, and what it is there. Without a room it is
    of a list of stock, and `part` says what it is called there.
    """

    room: str
    key: SetKey | None
    part: SetPart


@dataclass(frozen=True, slots=True)
class RoomOrder:
    """A room and the set that it gets."""

    room: str
    key: SetKey


def places(
    rooms: Iterable[RoomOrder],
    sets: Mapping[SetKey, Sequence[SetPart]],
    listed: Iterable[tuple[SetPart, int]] = (),
) -> Iterator[Place]:
    """Yield a place for each part that is needed: room by room, then what a list asks for, which
    has no room, each so many times.

    Raises:
        KeyError: a room has a set that is not among them.
    """
    for order in rooms:
        for part in sets[order.key]:
            yield Place(room=order.room, key=order.key, part=part)
    for part, times in listed:
        for _ in range(times):
            yield Place(room="", key=None, part=part)


def allotted(cut: Iterable[str], wanted: Iterable[Place]) -> tuple[Place | None, ...]:
    """Return the place of each part that is cut, given by its number; None of one to spare.

    Among the places that want a number, the first in order gets the first that is cut.
    """
    waiting: dict[str, deque[Place]] = {}
    for place in wanted:
        waiting.setdefault(place.part.number, deque()).append(place)
    dealt: list[Place | None] = []
    for number in cut:
        places_left = waiting.get(number)
        dealt.append(places_left.popleft() if places_left else None)
    return tuple(dealt)
