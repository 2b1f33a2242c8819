"""Where on a sheet strips and tables may fill, and with what. Ticks, in the grown frame."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from nesting.question.maximal_rectangles import Rectangle
from nesting.question.problem import ItemType, Room
from nesting.search.pattern import Spot

ITEMS_MOST = 64
"""Item types and turns that an exact method looks at."""


class Item(NamedTuple):
    """An item type in one of its turns: its size along and across the strips."""

    item_type: int
    turned: bool
    along: int
    across: int


class Region(NamedTuple):
    """A clear rectangle of a room, and the item types that may lie anywhere in it."""

    place: Rectangle
    item_types: tuple[ItemType, ...]

    def transposed(self) -> "Region":
        """Return the region mirrored at the diagonal: what ran along x runs along y."""
        x, y, length, width = self.place
        item_types = tuple(
            ItemType(
                item_type.index,
                item_type.width,
                item_type.length,
                item_type.turnable,
                item_type.rim,
            )
            for item_type in self.item_types
        )
        return Region(Rectangle(y, x, width, length), item_types)

    def items(self) -> list[Item]:
        """Return the item types that fit in the turns in which they do, along x first."""
        _, _, length, width = self.place
        return [
            item
            for item_type in self.item_types
            for item in _turns(item_type)
            if item.along <= length and item.across <= width
        ]


def regions(room: Room, item_types: Sequence[ItemType]) -> list[Region]:
    """Return the largest clear rectangle of the room, once or twice; nothing when there is none.

    When some item types must stay off the rim, all item types share what lies inside of the widest
    rim, and the others alone may use all of the rectangle. Waste around a clear rectangle needs no
    stage of its own: it goes with the first cut of each direction.
    """
    if not room.free or not item_types:
        return []
    clear = max(room.free, key=lambda free: (free.length * free.width, free))
    rim = max(item_type.rim for item_type in item_types)
    if rim == 0:
        return [Region(clear, tuple(item_types))]
    x0, y0 = max(clear.x, rim), max(clear.y, rim)
    x1 = min(clear.x + clear.length, room.length - rim)
    y1 = min(clear.y + clear.width, room.width - rim)
    found = [Region(clear, tuple(item_type for item_type in item_types if item_type.rim == 0))]
    if x1 > x0 and y1 > y0:
        found.insert(0, Region(Rectangle(x0, y0, x1 - x0, y1 - y0), tuple(item_types)))
    return [region for region in found if region.item_types]


def worthiest(items: Iterable[Item], values: Sequence[float]) -> list[Item]:
    """Return up to `ITEMS_MOST` items, those worth most for their size first."""
    by_density = sorted(items, key=lambda i: (-values[i.item_type] / (i.along * i.across), i))
    return by_density[:ITEMS_MOST]


def mirrored(spots: Sequence[Spot]) -> list[Spot]:
    """Return spots of a transposed region in the frame of the room."""
    return [Spot(spot.item_type, spot.y, spot.x, spot.turned) for spot in spots]


def _turns(item_type: ItemType) -> Iterator[Item]:
    yield Item(item_type.index, False, item_type.length, item_type.width)
    if item_type.turnable:
        yield Item(item_type.index, True, item_type.width, item_type.length)
