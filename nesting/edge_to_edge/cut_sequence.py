"""From a layout to the cuts that free its pieces.

Trim comes first. Each stage then cuts every board in one direction wherever the blade passes, with
the direction changing from stage to stage: no other way needs fewer stages, since what is left of a
set of pieces is never harder to cut than the whole set.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nesting.after.offcuts import COMMON_REUSABLE, Reusable
from nesting.answer.solution import Layout, Placement
from nesting.edge_to_edge.cuts import Board, CutSequence, Fate, Line
from nesting.edge_to_edge.errors import CutRefused, Refusal
from nesting.edge_to_edge.saw_work import Box, OpenBoard, SawWork
from nesting.question.instance import Instance, Stock


def cut_sequence(
    instance: Instance, layout: Layout, reusable: Reusable = COMMON_REUSABLE
) -> CutSequence:
    """Return the cuts of one sheet: the first direction with fewest stages, then fewest cuts.

    In each stage all that can be cut at one setting of the fence is; a distance that is needed
    again later waits, so that the fence is set seldom (not always least often). What is left over
    counts as an offcut when it is `reusable` and clear of defects.

    Raises:
        CutRefused: the rules ask for no such cuts, or the layout cannot be cut that way.
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    saw = instance.rules.saw
    if saw is None:
        raise _refused(layout, Refusal.FREE_NEST)
    stock = instance.stock_of[layout.stock]
    room, places = _room(instance, stock), _places(instance, layout)
    outside = [p.piece for p, box in places.items() if not _inside(box, room)]
    if outside:
        raise _refused(layout, Refusal.OUTSIDE, outside)
    if len(places) < len(layout.placements):
        raise _refused(layout, Refusal.LOCKED, _twice(layout))
    works = [_worked(instance, stock, room, places, first) for first in Line]
    made = [work for work in works if not work.locked]
    if not made:
        raise _refused(layout, Refusal.LOCKED, min((work.locked for work in works), key=len))
    best = min(made, key=lambda work: (work.stages, len(work.work.cuts)))
    if saw.stages is not None and best.stages > saw.stages:
        raise _refused(layout, Refusal.STAGES, needed=best.stages, allowed=saw.stages)
    return CutSequence(
        stock=stock.id,
        kerf=instance.rules.gap,
        first=best.first,
        stages=best.stages,
        boards=tuple(
            _closed(number, board, stock, reusable) for number, board in enumerate(best.work.boards)
        ),
        cuts=tuple(best.work.cuts),
    )


@dataclass(frozen=True, slots=True)
class _Worked:
    """A sheet cut as far as it goes; `locked` are pieces that no cut comes between."""

    first: Line
    work: SawWork
    stages: int
    locked: tuple[str, ...]


def _worked(
    instance: Instance, stock: Stock, room: Box, places: dict[Placement, Box], first: Line
) -> _Worked:
    sheet = OpenBoard(Box(0, 0, stock.length, stock.width), tuple(places))
    work = SawWork(instance.rules.gap, places, [sheet])
    open_boards = [work.trim(room)] if places else []
    line = first
    passes = stages = idle = 0
    while open_boards:
        joined = _joined(work, open_boards)
        if joined and idle == len(Line):
            pieces = tuple(sorted({p.piece for p in work.boards[joined[0]].holds}))
            return _Worked(first, work, stages, pieces)
        passes += 1
        stages += 1 if joined else 0
        made = work.cut_all(passes, line, open_boards)
        idle = idle + 1 if len(made) == len(open_boards) else 0
        open_boards = [n for n in made if not _finished(work, n)]
        line = line.other
    return _Worked(first, work, stages, ())


def _joined(work: SawWork, numbers: Iterable[int]) -> list[int]:
    return [number for number in numbers if len(work.boards[number].holds) > 1]


def _finished(work: SawWork, number: int) -> bool:
    board = work.boards[number]
    return len(board.holds) == 1 and work.places[board.holds[0]] == board.box


def _room(instance: Instance, stock: Stock) -> Box:
    trim = instance.rules.trim
    return Box(trim.left, trim.bottom, stock.length - trim.right, stock.width - trim.top)


def _places(instance: Instance, layout: Layout) -> dict[Placement, Box]:
    places = {}
    for placement in layout.placements:
        piece = instance.piece_of[placement.piece]
        length, width = piece.length, piece.width
        if placement.turned:
            length, width = width, length
        x, y = placement.x, placement.y
        places[placement] = Box(x, y, x + length, y + width)
    return places


def _inside(box: Box, room: Box) -> bool:
    return room.x0 <= box.x0 and room.y0 <= box.y0 and box.x1 <= room.x1 and box.y1 <= room.y1


def _twice(layout: Layout) -> list[str]:
    return [p.piece for p, times in Counter(layout.placements).items() if times > 1]


def _closed(number: int, board: OpenBoard, stock: Stock, reusable: Reusable) -> Board:
    box = board.box
    return Board(
        number=number,
        x=box.x0,
        y=box.y0,
        length=box.x1 - box.x0,
        width=box.y1 - box.y0,
        holds=board.holds,
        fate=_fate(board, stock, reusable),
    )


def _fate(board: OpenBoard, stock: Stock, reusable: Reusable) -> Fate:
    if board.cut:
        return Fate.CUT
    if board.holds:
        return Fate.PIECE
    x0, y0, x1, y1 = board.box
    spoilt = any(
        d.x < x1 and x0 < d.x + d.length and d.y < y1 and y0 < d.y + d.width for d in stock.defects
    )
    shorter, longer = sorted((x1 - x0, y1 - y0))
    large = longer >= reusable.longer and shorter >= reusable.shorter
    return Fate.OFFCUT if large and not spoilt else Fate.WASTE


def _refused(
    layout: Layout,
    refusal: Refusal,
    pieces: Sequence[str] = (),
    *,
    needed: int = 0,
    allowed: int = 0,
) -> CutRefused:
    return CutRefused(
        stock=layout.stock,
        refusal=refusal,
        pieces=tuple(pieces),
        needed=needed,
        allowed=allowed,
    )
