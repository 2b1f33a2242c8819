"""The question in the form that bounds read: pieces that are alike merged, rooms that can be used.

Rims and the places of defects are relaxed away, except where they forbid a turn altogether.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from nesting.bounds.stopping import Ask, never
from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import ItemType, Problem, Room

ASKED_EVERY = 1_000
"""Item types between two looks at whether to stop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turns:
    """Pieces of one size: their sides along x and y (ticks) in each turn that fits some room.

    `item_types` are those of that size.
    """

    sides: tuple[tuple[int, int], ...]
    item_types: tuple[int, ...]
    demand: int

    def within(self, room: Room) -> list[tuple[int, int]]:
        """Return the sides in each turn that is no larger than the room."""
        return [(x, y) for x, y in self.sides if x <= room.length and y <= room.width]


def usable_rooms(problem: Problem) -> tuple[Room, ...]:
    """Return the rooms of which at least one sheet is on hand."""
    return tuple(room for room in problem.rooms if room.on_hand != 0)


def turns_of(problem: Problem, ask: Ask = never) -> tuple[Turns, ...]:
    """Return the pieces that fit some usable room at all, merged by their turns, in fixed order."""
    rooms = usable_rooms(problem)
    merged: dict[tuple[tuple[int, int], ...], list[ItemType]] = {}
    for item_type in problem.item_types:
        if item_type.index % ASKED_EVERY == 0:
            ask()
        if problem.demand[item_type.index]:
            sides = tuple(
                side for side in _turns(item_type) if any(fits(item_type, side, r) for r in rooms)
            )
            if sides:
                merged.setdefault(sides, []).append(item_type)
    turns = []
    for number, sides in enumerate(sorted(merged)):
        if number % ASKED_EVERY == 0:
            ask()
        item_types = tuple(item_type.index for item_type in merged[sides])
        asked = sum(problem.demand[item_type] for item_type in item_types)
        turns.append(Turns(sides=sides, item_types=item_types, demand=asked))
    return tuple(turns)


def fits(item_type: ItemType, sides: tuple[int, int], room: Room) -> bool:
    """Return whether one of that item type fits the empty room with these sides along x and y."""
    return any(_fits(item_type, sides, room, free) for free in room.free)


def open_area(room: Room) -> int:
    """Return the area of the room between its defects (square ticks)."""
    xs = sorted({edge for free in room.free for edge in (free.x, free.x + free.length)})
    return sum((x1 - x0) * _open_height(room, x0, x1) for x0, x1 in pairwise(xs))


def _open_height(room: Room, x0: int, x1: int) -> int:
    spans = sorted(
        (free.y, free.y + free.width)
        for free in room.free
        if free.x <= x0 and x1 <= free.x + free.length
    )
    height = reached = 0
    for low, high in spans:
        height += max(0, high - max(low, reached))
        reached = max(reached, high)
    return height


def _turns(item_type: ItemType) -> Iterator[tuple[int, int]]:
    both = {(item_type.length, item_type.width)}
    if item_type.turnable:
        both.add((item_type.width, item_type.length))
    yield from sorted(both)


def _fits(item_type: ItemType, sides: tuple[int, int], room: Room, free: Rectangle) -> bool:
    x0, y0 = max(free.x, item_type.rim), max(free.y, item_type.rim)
    x1 = min(free.x + free.length, room.length - item_type.rim)
    y1 = min(free.y + free.width, room.width - item_type.rim)
    return sides[0] <= x1 - x0 and sides[1] <= y1 - y0
