"""The emptiest sheet drawn together, so that one large offcut remains of it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import product

from nesting.after.empty_space import (
    Box,
    defect_boxes,
    empty_rectangles,
    part_boxes,
    room_of,
    stock_of,
)
from nesting.after.offcuts import largest_offcut
from nesting.after.pushing import pushed
from nesting.answer.layout_check import layout_violations
from nesting.answer.solution import Layout, Placement, Solution, canonical, layout_yield
from nesting.question.instance import Instance, Piece, Turn
from nesting.question.sheet_rules import small

_MOST_LAID_ANEW = 40
"""Parts on a sheet up to which all are laid anew; more are only pushed, with less to win."""

_TURNS = ((False, True), (False,), (True,))
"""The turns tried for pieces that may turn: each as it falls, or all alike."""

_Size = tuple[int, int]


def compacted(instance: Instance, solution: Solution) -> Solution:
    """Return the answer with its emptiest layout compacted; equally empty ones by their order.

    Raises:
        KeyError: the answer names a piece or a stock that the question does not have.
    """
    if not solution.layouts:
        return solution
    emptiest = min(solution.layouts, key=lambda layout: layout_yield(instance, layout))
    layouts = [
        compact(instance, layout) if layout is emptiest else layout for layout in solution.layouts
    ]
    return replace(solution, layouts=canonical(layouts))


def compact(instance: Instance, layout: Layout) -> Layout:
    """Return the same parts on the same sheet with the largest offcut found; never a smaller one.

    Parts are pushed into each corner, and laid anew along each side. Every rule of the sheet that
    the layout keeps is kept; without a larger offcut the layout stays as it is.

    Raises:
        KeyError: the layout names a piece or a stock that the question does not have.
    """
    best, most = layout, largest_offcut(instance, layout)
    for candidate in _candidates(instance, layout):
        offcut = largest_offcut(instance, candidate)
        if offcut > most and not any(layout_violations(instance, candidate, "compacted")):
            best, most = candidate, offcut
    return best


def _candidates(instance: Instance, layout: Layout) -> Iterator[Layout]:
    yield from _pushed(instance, layout)
    if len(layout.placements) > _MOST_LAID_ANEW:
        return
    orders: tuple[Callable[[_Size], tuple[int, int]], ...] = (
        lambda size: (size[0] * size[1], max(size)),
        lambda size: (max(size), min(size)),
    )
    for order, axis, turns in product(orders, (0, 1), _TURNS):
        laid = _laid_anew(instance, layout, order, axis, turns)
        if laid is not None:
            yield laid


def _pushed(instance: Instance, layout: Layout) -> Iterator[Layout]:
    """Yield the layout pushed into each corner, each time along x first and along y first."""
    room, flaws = room_of(instance, layout), defect_boxes(instance, layout)
    boxes = part_boxes(instance, layout)
    pieces = instance.piece_of
    rims = [_rim(instance, pieces[placed.piece]) for placed in layout.placements]
    for corner in ((False, False), (True, False), (False, True), (True, True)):
        for axes in ((0, 1), (1, 0)):
            moved = pushed(room, flaws, boxes, rims, [(axis, corner[axis]) for axis in axes])
            yield replace(
                layout,
                placements=tuple(
                    replace(placed, x=box.x0, y=box.y0)
                    for placed, box in zip(layout.placements, moved, strict=True)
                ),
            )


def _laid_anew(
    instance: Instance,
    layout: Layout,
    order: Callable[[_Size], tuple[int, int]],
    axis: int,
    turns: tuple[bool, ...],
) -> Layout | None:
    """Return the parts laid one after the other where they reach least far along an axis; None
    when one finds no place.
    """
    pieces = instance.piece_of
    room, taken = room_of(instance, layout), defect_boxes(instance, layout)
    ranked = sorted(
        (placed.piece for placed in layout.placements),
        key=lambda name: (*order((pieces[name].length, pieces[name].width)), name),
        reverse=True,
    )
    laid = []
    for name in ranked:
        places = _places(instance, pieces[name], room, taken, turns)
        best = min(
            places, key=lambda place: (place[0][axis + 2], place[0][1 - axis], place), default=None
        )
        if best is None:
            return None
        box, turned = best
        taken.append(box)
        laid.append(Placement(piece=name, x=box.x0, y=box.y0, turned=turned))
    return Layout(stock=stock_of(instance, layout).id, placements=tuple(laid), runs=layout.runs)


def _places(
    instance: Instance, piece: Piece, room: Box, taken: list[Box], turns: tuple[bool, ...]
) -> Iterator[tuple[Box, bool]]:
    """Yield the piece in the lower-left corner of each empty rectangle that holds it."""
    gap, off = instance.rules.gap, _rim(instance, piece)
    inner = Box(room.x0 + off, room.y0 + off, room.x1 - off, room.y1 - off)
    if inner.x0 >= inner.x1 or inner.y0 >= inner.y1:
        return
    for free in empty_rectangles(inner, taken):
        for turned in (False,) if piece.turn is Turn.FIXED else turns:
            along, across = piece.length + gap, piece.width + gap
            if turned:
                along, across = across, along
            if free.x0 + along <= free.x1 and free.y0 + across <= free.y1:
                yield Box(free.x0, free.y0, free.x0 + along, free.y0 + across), turned


def _rim(instance: Instance, piece: Piece) -> int:
    """Return how far a piece keeps off the trimmed edges."""
    rim = instance.rules.rim
    return rim.distance if rim and small(rim, piece.length, piece.width) else 0
