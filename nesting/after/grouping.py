"""Pieces of one room or unit brought together on few sheets, where it costs nothing.

Pieces of one size that may turn alike can change places, whatever their groups. Layouts that are
cut equally often then still hold every piece exactly as often as asked, and no layout is added.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from nesting.answer.solution import Layout, Solution, canonical
from nesting.question.instance import Instance

_MOST_PASSES = 20
"""Times that all sheets are looked at; a pass that gains nothing ends it sooner."""

Slot = tuple[int, int]
"""A place for one piece: the layout's index, and the placement's index in it."""

_Class = tuple[object, ...]


def sheets_touched(instance: Instance, solution: Solution) -> int:
    """Return on how many sheets each group lies, summed over all groups; no group is not counted.

    Raises:
        KeyError: the answer names a piece that the question does not have.
    """
    groups = {piece.id: piece.group for piece in instance.pieces}
    return sum(
        layout.runs * len({groups[placed.piece] for placed in layout.placements} - {""})
        for layout in solution.layouts
    )


def grouped(instance: Instance, solution: Solution) -> Solution:
    """Return the answer with equal pieces exchanged so that each group lies on fewer sheets.

    Where each size lies, the sheets, the price and the quantities stay; `sheets_touched` never
    rises. Groups are gathered one sheet at a time as long as that helps, so that the least possible
    is often reached, but not always.

    Raises:
        KeyError: the answer names a piece that the question does not have.
    """
    if len({piece.group for piece in instance.pieces}) < 2:
        return solution
    exchange = _Exchange(instance, solution.layouts)
    for _ in range(_MOST_PASSES):
        before = exchange.touched
        for layout, group in exchange.targets():
            exchange.clear(layout, group)
        if exchange.touched == before:
            break
    return replace(solution, layouts=canonical(exchange.layouts()))


@dataclass(frozen=True, slots=True)
class _Swap:
    one: Slot
    other: Slot


class _Exchange:
    """Which piece lies in which slot, and how many pieces of each group lie on each layout.

    `touched` is on how many sheets each group lies, summed over all groups.
    """

    def __init__(self, instance: Instance, layouts: tuple[Layout, ...]) -> None:
        """Take stock of the layouts."""
        self._pieces = instance.piece_of
        self._layouts = layouts
        self._names = [[placed.piece for placed in layout.placements] for layout in layouts]
        self._members = [Counter(map(self._group, names)) for names in self._names]
        self.touched = sum(
            layout.runs * sum(1 for group in members if group)
            for layout, members in zip(layouts, self._members, strict=True)
        )
        self._alike: defaultdict[_Class, list[Slot]] = defaultdict(list)
        for layout, names in enumerate(self._names):
            for index, name in enumerate(names):
                self._alike[self._class(layout, name)].append((layout, index))

    def layouts(self) -> Iterator[Layout]:
        """Yield the layouts as they are now."""
        for layout, names in zip(self._layouts, self._names, strict=True):
            yield replace(
                layout,
                placements=tuple(
                    replace(placed, piece=name)
                    for placed, name in zip(layout.placements, names, strict=True)
                ),
            )

    def targets(self) -> Iterator[tuple[int, str]]:
        """Yield each layout with each group on it that lies elsewhere too, the fewest first."""
        homes = Counter(group for m in self._members for group, count in m.items() if count)
        found = [
            (count, layout, group)
            for layout, members in enumerate(self._members)
            for group, count in members.items()
            if group and count and homes[group] > 1
        ]
        for _, layout, group in sorted(found):
            yield layout, group

    def clear(self, layout: int, group: str) -> None:
        """Move a group off a layout if that lowers the sheets touched."""
        before, swaps = self.touched, list[_Swap]()
        for index, name in enumerate(self._names[layout]):
            if self._group(name) != group:
                continue
            partner = self._partner((layout, index), group)
            if partner is None:
                break
            swaps.append(_Swap((layout, index), partner))
            self._swap(swaps[-1])
        if self.touched >= before:
            for swap in reversed(swaps):
                self._swap(swap)

    def _partner(self, slot: Slot, group: str) -> Slot | None:
        """Return the slot to change with: on a layout that has the group, taken by another group
        that this layout has too, if there is one.
        """
        layout, index = slot
        best: tuple[int, Slot] | None = None
        for other in self._alike[self._class(layout, self._names[layout][index])]:
            stranger = self._group(self._names[other[0]][other[1]])
            if other[0] == layout or stranger == group or not self._members[other[0]][group]:
                continue
            # What the change costs: the stranger is new here, or leaves its old sheet for good.
            new = bool(stranger) and not self._members[layout][stranger]
            gone = bool(stranger) and self._members[other[0]][stranger] == 1
            if best is None or (new - gone, other) < best:
                best = (new - gone, other)
        return None if best is None else best[1]

    def _swap(self, swap: _Swap) -> None:
        (one, i), (other, j) = swap.one, swap.other
        first, second = self._names[one][i], self._names[other][j]
        self._names[one][i], self._names[other][j] = second, first
        for layout, out, into in ((one, first, second), (other, second, first)):
            self._count(layout, self._group(out), -1)
            self._count(layout, self._group(into), 1)

    def _count(self, layout: int, group: str, change: int) -> None:
        members = self._members[layout]
        was = members[group] > 0
        members[group] += change
        if group:
            self.touched += self._layouts[layout].runs * ((members[group] > 0) - was)

    def _group(self, name: str) -> str:
        return self._pieces[name].group

    def _class(self, layout: int, name: str) -> _Class:
        piece = self._pieces[name]
        return piece.length, piece.width, piece.turn, self._layouts[layout].runs
