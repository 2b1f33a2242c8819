"""In which order layouts are cut, so that few rooms are begun and not yet whole.

It costs nothing: the sheets, the layouts and their runs stay, and all runs of a layout follow each
other. To have few orders open at once is the minimization of open stacks (Yuen 1995), a hard one;
here the order given is bettered by moving one layout at a time.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from nesting.answer.solution import Layout

_MOST_TRIED = 600
"""Orders that are looked at: what is left is little, and so stays the time."""

Order = tuple[int, ...]
Counts = NDArray[np.int64]
Open = tuple[int, int]
"""How many rooms are begun and not whole after a sheet, at most and summed over all sheets."""


def in_order_of_rooms(
    layouts: Sequence[Layout], rooms: Iterable[Mapping[str, int]]
) -> tuple[Layout, ...]:
    """Return the layouts in an order that has fewer rooms open at once, or as they are; those of
    one stock stay together.

    `rooms` tells how often each room needs each piece. The first piece that is cut goes to the
    first room that needs one. What is cut beyond that belongs to no room.
    """
    served = _Rooms(layouts, rooms)
    if served.none:
        return tuple(layouts)
    order = tuple(range(len(layouts)))
    best, tried = served.open_at_once(order), 0
    improved = True
    while improved and tried < _MOST_TRIED:
        improved = False
        for moved in _moves(order, layouts):
            if tried == _MOST_TRIED:
                break
            tried += 1
            found = served.open_at_once(moved)
            if found < best:
                order, best, improved = moved, found, True
                break
    return tuple(layouts[at] for at in order)


def runs_in_order_of_rooms(
    layouts: Sequence[Layout], rooms: Iterable[Mapping[str, int]]
) -> tuple[tuple[int, int], ...]:
    """Return all sheets, each as the place of its layout, from 0, and the run of it, from 1, so
    that rooms get whole one after the other: the next sheet is always the one whose pieces are for
    the earliest rooms. Layouts change from sheet to sheet.
    """
    waiting: dict[str, list[int]] = {}
    listed = list(rooms)
    for room, needs in enumerate(listed):
        for piece, many in needs.items():
            waiting.setdefault(piece, []).extend([room] * many)
    dealt: Counter[str] = Counter()
    counts, cut = [layout.counts() for layout in layouts], [0] * len(layouts)

    def lateness(at: int) -> float:
        places = [
            own[dealt[piece] + copy] if dealt[piece] + copy < len(own) else len(listed)
            for piece, many in counts[at].items()
            for own in (waiting.get(piece, []),)
            for copy in range(many)
        ]
        return min(places) + 0.5 * sum(places) / len(places)

    order = []
    while left := [at for at, layout in enumerate(layouts) if cut[at] < layout.runs]:
        soonest = min(left, key=lateness)
        cut[soonest] += 1
        dealt += counts[soonest]
        order.append((soonest, cut[soonest]))
    return tuple(order)


def rooms_open(layouts: Sequence[Layout], rooms: Iterable[Mapping[str, int]]) -> Open:
    """Return how many rooms are open, at most and in sum, in the order given."""
    served = _Rooms(layouts, rooms)
    return (0, 0) if served.none else served.open_at_once(tuple(range(len(layouts))))


def _moves(order: Order, layouts: Sequence[Layout]) -> Iterator[Order]:
    """Yield the orders with one layout moved among those of its stock, near moves first."""
    start = 0
    for _, group in groupby(order, key=lambda at: layouts[at].stock):
        size = len(list(group))
        for far in range(1, size):
            for at in range(start, start + size):
                for to in (at - far, at + far):
                    if start <= to < start + size:
                        rest = [*order[:at], *order[at + 1 :]]
                        rest.insert(to, order[at])
                        yield tuple(rest)
        start += size


class _Rooms:
    """Which pieces of which rooms come from which sheet, for any order of the layouts."""

    def __init__(self, layouts: Sequence[Layout], rooms: Iterable[Mapping[str, int]]) -> None:
        listed = [Counter(room) for room in rooms]
        counts = [layout.counts() for layout in layouts]
        pieces = list(dict.fromkeys(p for c in counts for p in c))
        self._runs = np.array([layout.runs for layout in layouts], dtype=np.int64)
        self._on_layout: Counts = np.array([[c[p] for p in pieces] for c in counts], dtype=np.int64)
        needed: Counts = np.array([[room[p] for p in pieces] for room in listed], dtype=np.int64)
        needed = needed.reshape(len(listed), len(pieces))
        self._rooms = np.nonzero(needed.T)[1]
        self._pieces = np.nonzero(needed.T)[0]
        upto = np.cumsum(needed, axis=0)
        self._last = upto[self._rooms, self._pieces] - 1
        self._first = self._last - needed[self._rooms, self._pieces] + 1
        self._count = len(listed)

    @property
    def none(self) -> bool:
        """Whether there is nothing to order: fewer than two layouts, or no room needs anything."""
        return len(self._runs) < 2 or not len(self._rooms)

    def open_at_once(self, order: Order) -> Open:
        """Return how many rooms are open when layouts are cut in this order."""
        listed = list(order)
        sheets = np.repeat(self._on_layout[listed], self._runs[listed], axis=0)
        made = np.cumsum(sheets, axis=0)
        begin = np.full(self._count, len(sheets), dtype=np.int64)
        end = np.zeros(self._count, dtype=np.int64)
        for piece in range(made.shape[1]):
            own = self._pieces == piece
            for copies, ends, pick in (
                (self._first, begin, np.minimum),
                (self._last, end, np.maximum),
            ):
                at = np.searchsorted(made[:, piece], copies[own], side="right")
                pick.at(ends, self._rooms[own], at)
        open_after = np.zeros(len(sheets) + 1, dtype=np.int64)
        begun = end > begin
        np.add.at(open_after, begin[begun], 1)
        np.add.at(open_after, np.minimum(end[begun], len(sheets)), -1)
        return int(np.cumsum(open_after).max(initial=0)), int((end - begin)[begun].sum())
