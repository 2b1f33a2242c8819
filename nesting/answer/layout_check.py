"""One layout against the rules of its sheet; part of the independent check of an answer."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import chain

import numpy as np
import shapely
from numpy.typing import NDArray

from nesting.answer.cut_check import comes_apart, fewest_stages
from nesting.answer.solution import Layout, Placement
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, Rim, Trim
from nesting.question.violation import Violation, ViolationKind

Outlines = NDArray[np.object_]
"""Boxes, one for each placement."""

_EDGE = 0.125
"""What grown boxes are smaller by all round, so that those that share nothing but an edge do not
meet. Those that share area share half a tick at least."""


def layout_violations(instance: Instance, layout: Layout, where: str) -> Iterator[Violation]:
    """Yield every rule that one layout breaks; `where` names it. What it asks of other layouts
    (counts, sheets on hand) is not looked at.
    """
    yield from violations_of_layouts(instance, [layout], [where])


def violations_of_layouts(
    instance: Instance, layouts: Sequence[Layout], names: Sequence[str]
) -> Iterator[Violation]:
    """Yield the same of several layouts, each by its name."""
    pieces = instance.piece_of
    known = [[placed for placed in lay.placements if placed.piece in pieces] for lay in layouts]
    # All shapes at once: with thousands of layouts, calls for a few each would take longest.
    outlines = _outlines(chain.from_iterable(known), pieces)
    grown = _grown(outlines, instance.rules.gap / 2 - _EDGE)
    start = 0
    for layout, where, own in zip(layouts, names, known, strict=True):
        end = start + len(own)
        yield from _broken(instance, layout, where, own, outlines[start:end], grown[start:end])
        start = end


def _broken(
    instance: Instance,
    layout: Layout,
    where: str,
    known: Sequence[Placement],
    outlines: Outlines,
    grown: Outlines,
) -> Iterator[Violation]:
    pieces, stocks, rules = instance.piece_of, instance.stock_of, instance.rules
    if layout.runs < 1:
        yield _violation(ViolationKind.RUNS, where, str(layout.runs), "1 or more")
    yield from _turn_violations(where, layout, pieces)
    if layout.stock in stocks:
        stock = stocks[layout.stock]
        yield from _outside(where, known, outlines, _room(stock, rules.trim))
        if rules.rim is not None:
            yield from _near_rim(where, known, outlines, _room(stock, rules.trim), rules.rim)
        yield from _on_defects(where, known, grown, stock.defects, rules.gap)
    else:
        yield _violation(ViolationKind.UNKNOWN_STOCK, where, layout.stock, "a stock on the list")
    close = tuple(_too_close(where, known, outlines, grown, rules.gap))
    yield from close
    if rules.saw is not None and not close:
        # Parts that stand too close cannot be sawn apart anyway: told once, by the gap.
        yield from _not_sawn(where, outlines, rules.saw, rules.gap)


def _turn_violations(
    where: str, layout: Layout, pieces: Mapping[str, Piece]
) -> Iterator[Violation]:
    for placed in layout.placements:
        if placed.piece not in pieces:
            yield _violation(ViolationKind.UNKNOWN_PIECE, where, placed.piece, "a piece asked for")
        elif placed.turned and pieces[placed.piece].turn is Turn.FIXED:
            yield _violation(ViolationKind.GRAIN, _at(where, placed), "turned", Turn.FIXED)


def _outlines(placements: Iterable[Placement], pieces: Mapping[str, Piece]) -> Outlines:
    """Return the outlines of the parts as an array of shapes."""
    boxes: list[int] = []
    for placed in placements:
        piece, x, y = pieces[placed.piece], placed.x, placed.y
        if placed.turned:
            boxes += (x, y, x + piece.width, y + piece.length)
        else:
            boxes += (x, y, x + piece.length, y + piece.width)
    # Whole ticks stay exact in floats.
    outlines: Outlines = shapely.box(*np.array(boxes, dtype=np.float64).reshape(-1, 4).T)
    return outlines


@lru_cache(maxsize=64)
def _room(stock: Stock, trim: Trim) -> shapely.Polygon:
    """Return what a layout may lie on; thousands of layouts share it."""
    right, top = stock.length - trim.right, stock.width - trim.top
    room = shapely.box(trim.left, trim.bottom, right, top)
    shapely.prepare(room)
    return room


def _outside(
    where: str, placements: Sequence[Placement], outlines: Outlines, room: shapely.Polygon
) -> Iterator[Violation]:
    for at in np.flatnonzero(~shapely.covers(room, outlines)).tolist():
        yield _violation(
            ViolationKind.OUTSIDE,
            _at(where, placements[at]),
            str(outlines[at].bounds),
            f"in {room.bounds}",
        )


def _near_rim(
    where: str,
    placements: Sequence[Placement],
    outlines: Outlines,
    room: shapely.Polygon,
    rim: Rim,
) -> Iterator[Violation]:
    """Yield the small parts inside the room that lie nearer to its edges than the rule allows."""
    left, bottom, right, top = shapely.bounds(outlines).T
    small = np.maximum(right - left, top - bottom) <= rim.longest_side
    # Grown and not measured: a distance between points is rounded, a box of whole ticks not.
    off = shapely.covers(room, _grown(outlines, rim.distance))
    for at in np.flatnonzero(small & shapely.covers(room, outlines) & ~off).tolist():
        yield _violation(
            ViolationKind.RIM,
            _at(where, placements[at]),
            f"in {outlines[at].bounds}",
            f"{rim.distance} ticks off every edge of {room.bounds}",
        )


def _on_defects(
    where: str,
    placements: Sequence[Placement],
    grown: Outlines,
    defects: Sequence[Defect],
    gap: int,
) -> Iterator[Violation]:
    for defect in defects:
        right, top = defect.x + defect.length, defect.y + defect.width
        spoiled = _grown(np.array([shapely.box(defect.x, defect.y, right, top)]), gap / 2 - _EDGE)
        for at in np.flatnonzero(shapely.intersects(spoiled[0], grown)).tolist():
            yield _violation(
                ViolationKind.DEFECT,
                _at(where, placements[at]),
                f"a defect at ({defect.x}, {defect.y})",
                f"{gap} ticks along x or y",
            )


def _too_close(
    where: str, placements: Sequence[Placement], outlines: Outlines, grown: Outlines, gap: int
) -> Iterator[Violation]:
    """Yield pairs whose outlines, grown by half the gap with square corners, share area."""
    first, second = shapely.STRtree(grown).query(grown, predicate="intersects")
    once = first < second
    for one, other in sorted(zip(first[once].tolist(), second[once].tolist(), strict=True)):
        pair = f"{_at(where, placements[one])} and {_at('', placements[other])}"
        common = outlines[one].intersection(outlines[other]).area
        if common > 0:
            yield _violation(ViolationKind.OVERLAP, pair, f"{common} square ticks shared", "none")
        else:
            apart = outlines[one].distance(outlines[other])
            yield _violation(ViolationKind.GAP, pair, f"{apart} ticks", f"{gap} along x or y")


def _not_sawn(where: str, outlines: Outlines, saw: EdgeToEdge, kerf: int) -> Iterator[Violation]:
    boxes = [tuple(box) for box in shapely.bounds(outlines).tolist()]
    if comes_apart(boxes, kerf, saw.stages):
        return
    stages = fewest_stages(boxes, kerf)
    if stages is None:
        yield _violation(
            ViolationKind.CUTS, where, "parts that lock each other", "cuts from edge to edge"
        )
    else:
        yield _violation(ViolationKind.STAGES, where, str(stages), f"at most {saw.stages}")


def _grown(outlines: Outlines, margin: float) -> Outlines:
    left, bottom, right, top = shapely.bounds(outlines).T
    grown: Outlines = shapely.box(left - margin, bottom - margin, right + margin, top + margin)
    return grown


def _at(where: str, placed: Placement) -> str:
    return f"{where} piece {placed.piece} at ({placed.x}, {placed.y})".strip()


def _violation(kind: ViolationKind, where: str, found: str, required: str) -> Violation:
    return Violation(kind=kind, where=where, found=found, required=required)
