"""What of the room is drawn with a step: the wall base, let out where boxes stand; the edge that is
scribed; the strips that close gaps. As most rooms of the set have it: the room's page rules.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from parametric.geometry.hand import Hand
from parametric.geometry.space import SAME_MM, Axis, Box, Point
from parametric.joints.assembly import Assembly
from parametric.pictures.bodies import Edge
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.rooms.room_fit import RoomFit

WALL_BASE, SCRIBE, FILLER = "wall base", "scribe", "filler"
RULES = "as most rooms have it; the room's page rules"
FAR_MM = 8000.0  # beyond what any frame shows
Named = tuple[str, Edge]
"""A line, and what is written at it; nothing at those that need no name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomDrawn:
    """What most rooms of a set have: height and thickness of the wall base, None where nobody has
    measured it; and what a filler closes, by the board that the gap begins at.
    """

    wall_base_mm: tuple[float, float] | None = None
    fillers: tuple[tuple[str, float], ...] = ()


NOTHING = RoomDrawn()


def room_drawn(
    measured: Sequence[Measured], fits: Sequence[RoomFit], fitting: Fitting
) -> RoomDrawn:
    """Return what most of the rooms have; of equally many the first."""
    bases = Counter(
        (each.wall_base_height_mm, each.wall_base_thickness_mm)
        for each in measured
        if each.wall_base_height_mm and each.wall_base_thickness_mm
    )
    gaps: dict[str, list[float]] = {}
    for gap in (gap for fit in fits for gap in fit.gaps):
        if gap.beyond and 0 < gap.gap_mm <= fitting.most_filler_mm:
            gaps.setdefault(gap.beyond, []).append(gap.gap_mm)
    return RoomDrawn(
        wall_base_mm=next((base for base, _ in bases.most_common(1)), None),
        fillers=tuple((name, sorted(each)[len(each) // 2]) for name, each in gaps.items()),
    )


def room_lines(
    assembly: Assembly, hand: Hand, coming: Collection[str], closing: bool, drawn: RoomDrawn
) -> Iterator[Named]:
    """Yield the lines that go with a step in which these parts come, or with the `closing` one."""
    boards = [board for board in assembly.boards if board.name in coming]
    if drawn.wall_base_mm is not None:
        height, thickness = drawn.wall_base_mm
        meets = any(_meets(board.box, Axis.X, height, thickness) for board in boards) or any(
            _meets(board.box, Axis.Y, height, thickness) for board in boards
        )
        if meets or closing:
            for out in (Axis.Y, Axis.X):
                yield from _wall_base(assembly, hand, out, height, thickness)
    for board in boards:
        # A level board in the corner of head wall and side wall meets both.
        if board.box.size(Axis.Z) < min(board.box.size(Axis.X), board.box.size(Axis.Y)) and (
            _from_wall(board.box, Axis.X) < SAME_MM and _from_wall(board.box, Axis.Y) < SAME_MM
        ):
            start = Point(0.0, board.box.high.y, board.box.high.z)
            yield SCRIBE, Edge(start, start.at(Axis.Y, board.box.low.y))
    if closing:
        for name, gap_mm in drawn.fillers:
            yield from _filler(assembly.board(name).box, hand, gap_mm)


def _wall_base(
    assembly: Assembly, hand: Hand, out: Axis, height: float, thickness: float
) -> Iterator[Named]:
    """Yield the wall base along one wall, which stands out along `out`: front edges and the ends
    where it is let out for what stands there.
    """
    along = Axis.X if out is Axis.Y else Axis.Y
    side = _sides(hand)
    spans = sorted(
        tuple(sorted((abs(board.box.low[along]), abs(board.box.high[along]))))
        for board in assembly.boards
        if _meets(board.box, out, height, thickness)
    )
    start, named = 0.0, False
    for low, high in (*spans, (FAR_MM, FAR_MM)):
        if low > start + SAME_MM:
            a, b, c, d = (
                Point(0.0, 0.0, z).at(along, at * side[along]).at(out, thickness * side[out])
                for z in (height, 0.0)
                for at in (start, low)
            )
            yield ("" if named else WALL_BASE), Edge(a, b)
            named = True
            yield "", Edge(c, d)
            for top, foot in ((a, c), (b, d)):
                yield "", Edge(top, foot)
                yield "", Edge(top, top.at(out, 0.0))
            yield "", Edge(a.at(out, 0.0), b.at(out, 0.0))
        start = max(start, high)


def _filler(box: Box, hand: Hand, gap_mm: float) -> Iterator[Named]:
    """Yield the front of the strip between the far end of a board and the wall beyond."""
    sign = _sides(hand)[Axis.X]
    end = max(abs(box.low.x), abs(box.high.x)) * sign
    corners = [
        Point(x, box.low.y, z)
        for x, z in (
            (end, box.low.z),
            (end, box.high.z),
            (end + gap_mm * sign, box.high.z),
            (end + gap_mm * sign, box.low.z),
        )
    ]
    for number, (start, stop) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)):
        yield ("" if number else FILLER), Edge(start, stop)


def _sides(hand: Hand) -> dict[Axis, float]:
    """Return on which side of the corner the room lies along each wall."""
    return {Axis.X: -1.0 if hand is Hand.RIGHT else 1.0, Axis.Y: -1.0}


def _meets(box: Box, out: Axis, height: float, thickness: float) -> bool:
    """Return whether a board stands where the wall base runs."""
    return box.low.z < height - SAME_MM and _from_wall(box, out) < thickness - SAME_MM


def _from_wall(box: Box, out: Axis) -> float:
    return min(abs(box.low[out]), abs(box.high[out]))
