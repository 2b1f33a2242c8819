"""Independent check of an answer against its question.

Geometry is shapely's alone and nothing here is shared with the packers, so that a mistake there
cannot hide itself here. Coordinates are whole ticks, half ticks after growing: exact in floats.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

import shapely

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import Layout, Placement, Solution
from nesting.violation import Violation, ViolationKind


def violations(instance: Instance, solution: Solution) -> tuple[Violation, ...]:
    """Return every rule of the question that the answer breaks; empty when it is right."""
    return tuple(_all_violations(instance, solution))


def _all_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    pieces = {piece.id: piece for piece in instance.pieces}
    stocks = {stock.id: stock for stock in instance.stocks}
    for number, layout in enumerate(solution.layouts, start=1):
        where = f"layout {number}"
        yield from _layout_violations(where, layout, pieces, stocks, instance.rules)
    yield from _count_violations(instance, solution)
    yield from _on_hand_violations(instance, solution)
    yield from _bound_violations(solution)


def _layout_violations(
    where: str,
    layout: Layout,
    pieces: dict[str, Piece],
    stocks: dict[str, Stock],
    rules: SheetRules,
) -> Iterator[Violation]:
    if layout.runs < 1:
        yield _violation(ViolationKind.RUNS, where, str(layout.runs), "1 or more")
    known = [placed for placed in layout.placements if placed.piece in pieces]
    for placed in layout.placements:
        if placed.piece not in pieces:
            yield _violation(ViolationKind.UNKNOWN_PIECE, where, placed.piece, "a piece asked for")
        elif placed.turned and pieces[placed.piece].turn is Turn.FIXED:
            yield _violation(ViolationKind.GRAIN, _at(where, placed), "turned", Turn.FIXED)
    outlines = [_outline(placed, pieces[placed.piece]) for placed in known]
    if layout.stock in stocks:
        yield from _outside(where, known, outlines, stocks[layout.stock], rules.trim)
    else:
        yield _violation(ViolationKind.UNKNOWN_STOCK, where, layout.stock, "a stock on the list")
    yield from _too_close(where, known, outlines, rules.gap)


def _outline(placed: Placement, piece: Piece) -> shapely.Polygon:
    along, across = piece.length, piece.width
    if placed.turned:
        along, across = across, along
    return shapely.box(placed.x, placed.y, placed.x + along, placed.y + across)


def _outside(
    where: str,
    placements: Sequence[Placement],
    outlines: Sequence[shapely.Polygon],
    stock: Stock,
    trim: int,
) -> Iterator[Violation]:
    room = shapely.box(trim, trim, stock.length - trim, stock.width - trim)
    for placed, outline in zip(placements, outlines, strict=True):
        if not room.covers(outline):
            yield _violation(
                ViolationKind.OUTSIDE, _at(where, placed), str(outline.bounds), f"in {room.bounds}"
            )


def _too_close(
    where: str,
    placements: Sequence[Placement],
    outlines: Sequence[shapely.Polygon],
    gap: int,
) -> Iterator[Violation]:
    """Yield pairs whose outlines, grown by half the gap with square corners, share area."""
    grown = [_grown(outline, gap / 2) for outline in outlines]
    first, second = shapely.STRtree(grown).query(grown, predicate="intersects")
    for one, other in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        if one >= other or not grown[one].intersection(grown[other]).area > 0:
            continue
        pair = f"{_at(where, placements[one])} and {_at('', placements[other])}"
        common = outlines[one].intersection(outlines[other]).area
        if common > 0:
            yield _violation(ViolationKind.OVERLAP, pair, f"{common} square ticks shared", "none")
        else:
            apart = outlines[one].distance(outlines[other])
            yield _violation(ViolationKind.GAP, pair, f"{apart} ticks", f"{gap} along x or y")


def _grown(outline: shapely.Polygon, margin: float) -> shapely.Polygon:
    left, bottom, right, top = outline.bounds
    return shapely.box(left - margin, bottom - margin, right + margin, top + margin)


def _count_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    placed: Counter[str] = Counter()
    for layout in solution.layouts:
        for placement in layout.placements:
            placed[placement.piece] += layout.runs
    for piece in instance.pieces:
        if placed[piece.id] != piece.quantity:
            yield _violation(
                ViolationKind.COUNT, f"piece {piece.id}", str(placed[piece.id]), str(piece.quantity)
            )


def _on_hand_violations(instance: Instance, solution: Solution) -> Iterator[Violation]:
    used: Counter[str] = Counter()
    for layout in solution.layouts:
        used[layout.stock] += layout.runs
    for stock in instance.stocks:
        if stock.on_hand is not None and used[stock.id] > stock.on_hand:
            yield _violation(
                ViolationKind.ON_HAND,
                f"stock {stock.id}",
                str(used[stock.id]),
                f"at most {stock.on_hand}",
            )


def _bound_violations(solution: Solution) -> Iterator[Violation]:
    sheets = sum(layout.runs for layout in solution.layouts)
    if solution.lower_bound > sheets:
        yield _violation(
            ViolationKind.BOUND, "lower bound", str(solution.lower_bound), f"at most {sheets}"
        )


def _at(where: str, placed: Placement) -> str:
    return f"{where} piece {placed.piece} at ({placed.x}, {placed.y})".strip()


def _violation(kind: ViolationKind, where: str, found: str, required: str) -> Violation:
    return Violation(kind=kind, where=where, found=found, required=required)
