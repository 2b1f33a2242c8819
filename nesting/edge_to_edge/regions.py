"""Where on a sheet strips and tables may fill, and with what. Ticks, in the grown frame."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import Kind, Room
from nesting.search.pattern import Spot

ITEMS_MOST = 64
"""Kinds and turns that an exact method looks at."""


class Item(NamedTuple):
    """A kind in one of its turns: its size along and across the strips."""

    kind: int
    turned: bool
    along: int
    across: int


class Region(NamedTuple):
    """A clear rectangle of a room, and the kinds that may lie anywhere in it."""

    place: Rectangle
    kinds: tuple[Kind, ...]

    def transposed(self) -> "Region":
        """Return the region mirrored at the diagonal: what ran along x runs along y."""
        x, y, length, width = self.place
        kinds = tuple(
            Kind(kind.index, kind.width, kind.length, kind.turnable, kind.rim)
            for kind in self.kinds
        )
        return Region(Rectangle(y, x, width, length), kinds)

    def items(self) -> list[Item]:
        """Return the kinds that fit in the turns in which they do, along x first."""
        _, _, length, width = self.place
        return [
            item
            for kind in self.kinds
            for item in _turns(kind)
            if item.along <= length and item.across <= width
        ]


def regions(room: Room, kinds: Sequence[Kind]) -> list[Region]:
    """Return the largest clear rectangle of the room, once or twice; nothing when there is none.

    When some kinds must stay off the rim, all kinds share what lies inside of the widest rim, and
    the others alone may use all of the rectangle. Waste around a clear rectangle needs no stage of
    its own: it goes with the first cut of each direction.
    """
    if not room.free or not kinds:
        return []
    clear = max(room.free, key=lambda free: (free.length * free.width, free))
    rim = max(kind.rim for kind in kinds)
    if rim == 0:
        return [Region(clear, tuple(kinds))]
    x0, y0 = max(clear.x, rim), max(clear.y, rim)
    x1 = min(clear.x + clear.length, room.length - rim)
    y1 = min(clear.y + clear.width, room.width - rim)
    found = [Region(clear, tuple(kind for kind in kinds if kind.rim == 0))]
    if x1 > x0 and y1 > y0:
        found.insert(0, Region(Rectangle(x0, y0, x1 - x0, y1 - y0), tuple(kinds)))
    return [region for region in found if region.kinds]


def worthiest(items: Iterable[Item], values: Sequence[float]) -> list[Item]:
    """Return up to `ITEMS_MOST` items, those worth most for their size first."""
    by_density = sorted(items, key=lambda i: (-values[i.kind] / (i.along * i.across), i))
    return by_density[:ITEMS_MOST]


def mirrored(spots: Sequence[Spot]) -> list[Spot]:
    """Return spots of a transposed region in the frame of the room."""
    return [Spot(spot.kind, spot.y, spot.x, spot.turned) for spot in spots]


def _turns(kind: Kind) -> Iterator[Item]:
    yield Item(kind.index, False, kind.length, kind.width)
    if kind.turnable:
        yield Item(kind.index, True, kind.width, kind.length)
