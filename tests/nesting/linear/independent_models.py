"""Exact answers by other ways than the solver's: exhaustive search, and an arc-flow program.

Both take the question as it is worded (kerf between pieces, trim at both ends), not as the solver
rewrites it.
"""

from collections.abc import Iterator
from functools import cache

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from nesting.linear.instance import BarInstance, BarKind, RemnantUse


def exhaustive_cost(question: BarInstance) -> float | None:
    """Least cost in hundredths over all ways of filling bar after bar; None if there is none."""
    lengths = [piece.length for piece in question.pieces]
    bars = question.bars
    rules = question.rules

    def patterns(bar: int, left: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        def grow(item_type: int, taken: tuple[int, ...], end: int) -> Iterator[tuple[int, ...]]:
            if item_type == len(left):
                yield taken
                return
            count = 0
            while count <= left[item_type]:
                pieces = sum(taken) + count
                used = end + count * lengths[item_type]
                cuts = max(pieces - 1, 0) * rules.kerf
                if used + cuts > bars[bar].length - 2 * rules.end_trim:
                    return
                yield from grow(item_type + 1, (*taken, count), used)
                count += 1

        return grow(0, (), 0)

    def price(bar: int) -> int:
        first = rules.remnants is RemnantUse.FIRST and bars[bar].kind is BarKind.REMNANT
        return 0 if first else round(bars[bar].price * 100)

    @cache
    def least(left: tuple[int, ...], on_hand: tuple[int, ...]) -> int | None:
        if not any(left):
            return 0
        best: int | None = None
        for bar, count in enumerate(on_hand):
            if not count:
                continue
            fewer = tuple(n - (place == bar) for place, n in enumerate(on_hand))
            for taken in patterns(bar, left):
                if not any(taken):
                    continue
                rest = tuple(have - used for have, used in zip(left, taken, strict=True))
                below = least(rest, fewer)
                if below is not None and (best is None or below + price(bar) < best):
                    best = below + price(bar)
        return best

    pieces = sum(piece.quantity for piece in question.pieces)
    on_hand = tuple(pieces if bar.on_hand is None else bar.on_hand for bar in bars)
    found = least(tuple(piece.quantity for piece in question.pieces), on_hand)
    return None if found is None else found / 100


def arc_flow_cost(question: BarInstance) -> float:
    """Least cost by flows along each bar: a unit of flow is a bar, an arc a piece and its kerf.

    After Valério de Carvalho, "Exact solution of bin-packing problems using column generation and
    branch-and-bound", Annals of Operations Research 86 (1999), pages 629-659.
    """
    rules = question.rules
    columns: list[tuple[dict[int, float], float, float]] = []  # entries, cost, limit
    item_types = len(question.pieces)
    row = item_types
    lower = [float(piece.quantity) for piece in question.pieces]
    upper = list(lower)
    for bar in question.bars:
        # The last piece needs no kerf, so the ruler is one kerf longer than the room.
        room = bar.length - 2 * rules.end_trim + rules.kerf
        reached, node_row = {0}, {}
        arcs: set[tuple[int, int]] = set()  # (item type, from); long pieces first, as order is free
        for item_type in sorted(range(item_types), key=lambda k: -question.pieces[k].length):
            piece = question.pieces[item_type]
            step = piece.length + rules.kerf
            for start in sorted(reached):
                for node in range(start, start + piece.quantity * step, step):
                    if node + step <= room:
                        arcs.add((item_type, node))
                        reached.add(node + step)
        for node in sorted(reached):
            node_row[node] = row
            lower.append(0.0)
            upper.append(0.0)
            row += 1
        limit = np.inf if bar.on_hand is None else float(bar.on_hand)
        first = rules.remnants is RemnantUse.FIRST and bar.kind is BarKind.REMNANT
        for node in sorted(reached - {0}):  # each used length is closed by the bar itself
            columns.append(({node_row[node]: -1.0, node_row[0]: 1.0}, 0.0, np.inf))
        # Flow through node 0 is bought: a row of its own limits it.
        for item_type, node in sorted(arcs):
            step = question.pieces[item_type].length + rules.kerf
            entries = {node_row[node]: -1.0, node_row[node + step]: 1.0, item_type: 1.0}
            if node == 0:
                entries[row] = 1.0
            price = bar.price if node == 0 and not first else 0.0
            columns.append((entries, price, np.inf))
        lower.append(0.0)
        upper.append(limit)
        row += 1
    data = [(r, c, v) for c, (entries, _, _) in enumerate(columns) for r, v in entries.items()]
    rows, places, values = zip(*data, strict=True)
    matrix = coo_array((values, (rows, places)), shape=(row, len(columns))).tocsr()
    answer = milp(
        np.array([price for _, price, _ in columns]),
        constraints=LinearConstraint(matrix, np.array(lower), np.array(upper)),
        bounds=Bounds(0, np.inf),
        integrality=np.ones(len(columns)),
    )
    assert answer.success, answer.message
    return float(answer.fun)
