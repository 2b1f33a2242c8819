"""Boards as they are cut, pass after pass. Lengths are ticks, places in the frame of the sheet."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import dropwhile, pairwise
from typing import NamedTuple, TypeAlias

from nesting.answer.solution import Placement
from nesting.edge_to_edge.cuts import Cut, CutKind, Line

_AXIS = {Line.ALONG: 1, Line.ACROSS: 0}
"""The coordinate in which cuts of a line differ."""

_LATE_STAGE = 3


class Box(NamedTuple):
    """A rectangle by its corners."""

    x0: int
    y0: int
    x1: int
    y1: int

    def ends(self, line: Line) -> tuple[int, int]:
        """Return where the box starts and ends for cuts of that line."""
        axis = _AXIS[line]
        return self[axis], self[axis + 2]

    def between(self, line: Line, low: int, high: int) -> "Box":
        """Return the part of the box between two cuts."""
        if line is Line.ALONG:
            return Box(self.x0, low, self.x1, high)
        return Box(low, self.y0, high, self.y1)


class Blade(NamedTuple):
    """Where a cut turns the board to dust."""

    low: int
    high: int


Waiting: TypeAlias = tuple[int, list[Blade]]
"""A board by its number, and the cuts that it waits for from low to high."""


class Pass(NamedTuple):
    """What the cuts of one pass over the boards have in common."""

    stage: int
    line: Line
    kind: CutKind


@dataclass(slots=True)
class OpenBoard:
    """A board with the pieces in it; `cut` tells whether it has been cut."""

    box: Box
    holds: tuple[Placement, ...]
    cut: bool = False


@dataclass(slots=True)
class SawWork:
    """All boards so far, and the cuts that made them."""

    kerf: int
    places: Mapping[Placement, Box]
    boards: list[OpenBoard]
    cuts: list[Cut] = field(default_factory=list)

    def trim(self, room: Box) -> int:
        """Cut the sheet down to the room; return the number of what is left."""
        number = 0
        for line in Line:
            blades = list(self._blades(self.boards[number].box.ends(line), [room.ends(line)]))
            made = self._make(Pass(0, line, CutKind.TRIM), {number: blades})
            (number,) = [n for n in made if self.boards[n].box.ends(line) == room.ends(line)]
        return number

    def cut_all(self, stage: int, line: Line, numbers: Iterable[int]) -> list[int]:
        """Cut these boards wherever the blade passes; return those that hold pieces, in order."""
        work = {}
        for number in numbers:
            board = self.boards[number]
            groups = self._groups(board.holds, line)
            work[number] = list(self._blades(board.box.ends(line), groups))
        kind = _kind(stage, line, max(len(self.boards[n].holds) for n in work))
        made = self._make(Pass(stage, line, kind), work)
        return sorted(n for n in made if self.boards[n].holds)

    def _groups(self, holds: Iterable[Placement], line: Line) -> list[tuple[int, int]]:
        """Return the ends of the pieces that no cut comes between, from low to high."""
        groups: list[tuple[int, int]] = []
        for low, high in sorted(self.places[placement].ends(line) for placement in holds):
            if groups and low < groups[-1][1] + self.kerf:
                groups[-1] = groups[-1][0], max(groups[-1][1], high)
            else:
                groups.append((low, high))
        return groups

    def _blades(self, ends: tuple[int, int], groups: Iterable[tuple[int, int]]) -> Iterator[Blade]:
        """Yield the cuts on both sides of each group, where there is something to cut."""
        reach, end = ends
        for low, high in groups:
            if low > reach:
                yield Blade(max(reach, low - self.kerf), low)
            reach = min(high + self.kerf, end)
            if high < end:
                yield Blade(high, reach)

    def _make(self, saw_pass: Pass, work: dict[int, list[Blade]]) -> list[int]:
        """Make all cuts, low to high on each board; return the boards that no cut is left for."""
        done: list[int] = []
        waiting: list[Waiting] = list(work.items())
        while waiting:
            done += [number for number, blades in waiting if not blades]
            waiting = [(number, blades) for number, blades in waiting if blades]
            if not waiting:
                break
            fence = self._next_fence(saw_pass.line, waiting)
            waiting = [left for waits in waiting for left in self._at(fence, saw_pass, waits, done)]
        return done

    def _next_fence(self, line: Line, waiting: list[Waiting]) -> int:
        """Return the distance that comes back least once it is cut, then the one most wait for."""
        now: Counter[int] = Counter()
        later: Counter[int] = Counter()
        for number, blades in waiting:
            distance = self._distance(number, blades[0], line)
            now[distance] += 1
            following = [after.low - before.high for before, after in pairwise(blades)]
            later.update(dropwhile(distance.__eq__, following))
        return max(now, key=lambda distance: (-later[distance], now[distance], distance))

    def _at(self, fence: int, saw_pass: Pass, waits: Waiting, done: list[int]) -> Iterator[Waiting]:
        """Cut one board as long as the next cut is at the fence; yield what waits for another."""
        number, blades = waits
        while blades and self._distance(number, blades[0], saw_pass.line) == fence:
            cut = self._cut(saw_pass, number, blades[0])
            blades = blades[1:]
            if cut.taken is not None:
                done.append(cut.taken)
            if cut.rest is None:
                return
            number = cut.rest
        yield number, blades

    def _distance(self, number: int, blade: Blade, line: Line) -> int:
        return blade.low - self.boards[number].box.ends(line)[0]

    def _cut(self, saw_pass: Pass, number: int, blade: Blade) -> Cut:
        stage, line, kind = saw_pass
        board = self.boards[number]
        low, high = board.box.ends(line)
        cut = Cut(
            number=len(self.cuts) + 1,
            stage=stage,
            kind=kind,
            line=line,
            board=number,
            distance=blade.low - low,
            dust=blade.high - blade.low,
            taken=self._new(board, line, low, blade.low),
            rest=self._new(board, line, blade.high, high),
        )
        board.cut = True
        self.cuts.append(cut)
        return cut

    def _new(self, board: OpenBoard, line: Line, low: int, high: int) -> int | None:
        if low >= high:
            return None
        holds = tuple(p for p in board.holds if low <= self.places[p].ends(line)[0] < high)
        self.boards.append(OpenBoard(board.box.between(line, low, high), holds))
        return len(self.boards) - 1


def _kind(stage: int, line: Line, most_pieces: int) -> CutKind:
    if most_pieces == 1:
        return CutKind.SIZE
    if stage >= _LATE_STAGE:
        return CutKind.RECUT
    return CutKind.RIP if line is Line.ALONG else CutKind.CROSSCUT
