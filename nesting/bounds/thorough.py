"""The certificates of a thorough look: counted functions, then bars, then relaxed layouts."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from nesting.answer.solution import BoundKind
from nesting.bounds.certificate import Certificate
from nesting.bounds.function_pairs import Functions, TurnValue, best_pairs, table_of, ways
from nesting.bounds.layout_duals import KnownLayout
from nesting.bounds.piece_sets import PieceSets
from nesting.bounds.relaxed_patterns import DualSearch
from nesting.bounds.relaxed_sheet import Along
from nesting.bounds.sides import Turns
from nesting.bounds.stopping import Ask, never
from nesting.bounds.turned_shares import blended_pairs
from nesting.question.problem import Room
from nesting.search.compiling import get_ready

Floats = NDArray[np.float64]

MOST_ITEM_TYPES = 200
"""With more sizes of piece the linear programs are left out."""
FEW_TURNS, NODES_A_TURN = 150, 5_000
"""So many turns of pieces on several rooms cost little; bars of each more take that many nodes."""
BAR_ROUNDS, BAR_TURNS = 40, 16_000
"""Rounds for better dual values of bars, and turns looked at in all: many rooms have many."""
KEPT = 0.2
"""How much of the values given remains in dual values that start between them and those of bars."""
GLANCE = 50
"""Each side is tried with one of so many shares of the nodes before one is chosen."""
SETTLED = 0.12
"""Share of the nodes for the duals of layouts known, for each side."""
SETTLED_ON = 0.4
"""Share of the nodes for more of that on the better side, where it proved anything."""
DEEP = 0.9
"""Share of what is left for the dual values to start from; the rest is for better ones."""
MOST_DEEP = 40_000_000
"""Nodes for those at most: a few seconds."""
MOST_IN_SETS = 40
"""With more sizes of piece there are too many sets of them."""
SET_LOOKS = ((0.25, 30_000), (1.0, 300_000))
"""Shares of the nodes left, and how many nodes one set may take: a short look, then a long one."""
SET_ENOUGH = 0.975
"""Share of what the layouts known cost that ends it."""
SET_SLACKS = (0.01, 0.005)
"""By how much a set may be worth more than its cost, in turn."""
PRICE_SHARE = 0.8
"""Share of the nodes for the price, where sheets have several: their number matters less."""
PATTERN_ROUNDS = 400
MOST_BETTER = 20_000_000
"""Nodes for better dual values at most: what they prove, they prove soon."""


def thorough_certificates(
    pieces: Sequence[Turns],
    rooms: Sequence[Room],
    layouts: Sequence[KnownLayout],
    nodes: int,
    set_nodes: int = 0,
    ask: Ask = never,
) -> Iterator[tuple[BoundKind, Certificate]]:
    """Yield certificates with their kind; the layouts known say where to look for good dual values.

    Going through sets of pieces takes up to `set_nodes` nodes, and all else about `nodes`.
    """
    area = max(room.area for room in rooms)
    starts = [np.array([p.sides[0][0] * p.sides[0][1] / area for p in pieces])]
    known = []
    for certificate in _by_functions(pieces, rooms, ask):
        yield BoundKind.DUAL_FEASIBLE, certificate
        known.append(certificate)
    starts += [
        np.array([float(value) for value in certificate.dual_values]) for certificate in known[:1]
    ]
    turns = sum(len(piece.within(room)) for piece in pieces for room in rooms)
    longer = len(rooms) > 1 and nodes < NODES_A_TURN * (turns - FEW_TURNS)
    if len(pieces) > MOST_ITEM_TYPES or not nodes or longer:
        return
    rounds = min(BAR_ROUNDS, BAR_TURNS // max(1, turns))
    for costs, share in _goals(rooms):
        for along in Along:
            dual_values = DualSearch(pieces, rooms, along, costs, ask=ask)
            if dual_values.usable:
                yield from _by_bars(dual_values, starts, rounds)
                starts.append(dual_values.best)
        proven = False
        for certificate in _by_sets(pieces, rooms, costs, layouts, int(share * set_nodes), ask):
            yield BoundKind.PATTERNS, certificate
            proven = True
        if proven:
            continue
        sides = [DualSearch(pieces, rooms, along, costs, layouts, ask) for along in Along]
        sides = [dual_values for dual_values in sides if dual_values.usable]
        yield from _by_patterns(sides, _needs(pieces), starts[-1], known, int(share * nodes))


def _by_functions(
    pieces: Sequence[Turns], rooms: Sequence[Room], ask: Ask
) -> Iterator[Certificate]:
    yield from best_pairs(pieces, rooms, Functions.ALL, ask)
    if TurnValue.LESS in ways(pieces, rooms):
        blend = blended_pairs(table_of(pieces, rooms, TurnValue.LESS, Functions.ALL), ask)
        if blend is not None:
            yield blend


def _by_sets(
    pieces: Sequence[Turns],
    rooms: Sequence[Room],
    costs: Sequence[float],
    layouts: Sequence[KnownLayout],
    nodes: int,
    ask: Ask,
) -> Iterator[Certificate]:
    """Yield what sets of pieces prove, where other searches are likely to prove little."""
    if not nodes or len(pieces) > MOST_IN_SETS or not all(costs):
        return
    get_ready(("sets_above",), ask)
    left = nodes
    for share, look in SET_LOOKS:
        dual_values = DualSearch(pieces, rooms, Along.LENGTH, costs, layouts, ask)
        sheets = [PieceSets(pieces, room, look, ask) for room in rooms]
        duals = dual_values.duals()
        if duals is None:
            return
        if any(sheet.close(duals, cost) for sheet, cost in zip(sheets, costs, strict=True)):
            return
        yield from dual_values.settle(int(left * share), sheets, SET_SLACKS)
        if dual_values.proven >= SET_ENOUGH * float(duals @ _needs(pieces)):
            return
        left -= dual_values.spent


def _by_bars(
    dual_values: DualSearch, starts: Sequence[Floats], rounds: int
) -> Iterator[tuple[BoundKind, Certificate]]:
    for start in starts:
        yield BoundKind.BARS, dual_values.start(start, 0)
    for certificate in dual_values.improve(rounds, 0):
        yield BoundKind.BARS, certificate


def _by_patterns(
    sides: Sequence[DualSearch],
    needs: Floats,
    otherwise: Floats,
    known: Sequence[Certificate],
    nodes: int,
) -> Iterator[tuple[BoundKind, Certificate]]:
    """Yield what bars and lines together and relaxed layouts prove.

    `otherwise` are dual values to start from where bars and lines together give none. Where a
    glance proves less than the certificates `known`, a long look would be in vain.
    """
    starts, settled = [], []
    for dual_values in sides:
        values = dual_values.duals()
        both = dual_values.both_ways()
        if both is not None:
            yield BoundKind.BARS, dual_values.start(both, 0)
        start = _between(otherwise if both is None else both, values, needs)
        starts.append(start)
        settled.append(False)
        for certificate in dual_values.settle(int(nodes * SETTLED)):
            settled[-1] = True
            yield BoundKind.PATTERNS, certificate
        yield BoundKind.PATTERNS, dual_values.deepen(start, max(1, nodes // GLANCE))
    if not sides:
        return
    chosen = max(range(len(sides)), key=lambda side: sides[side].proven)
    best = sides[chosen]
    if settled[chosen]:
        for certificate in best.settle(int(nodes * SETTLED_ON)):
            yield BoundKind.PATTERNS, certificate
    if best.proven < max((best.proven_by(certificate) for certificate in known), default=0.0):
        return
    left = nodes - sum(dual_values.spent for dual_values in sides)
    yield BoundKind.PATTERNS, best.deepen(starts[chosen], min(int(left * DEEP), MOST_DEEP))
    if not settled[chosen]:
        return  # Where the layouts known prove nothing, better dual values do not either.
    left = nodes - sum(dual_values.spent for dual_values in sides)
    for certificate in best.improve(PATTERN_ROUNDS, max(1, min(left, MOST_BETTER))):
        yield BoundKind.PATTERNS, certificate


def _between(base: Floats, values: Floats | None, needs: Floats) -> Floats:
    """Return the base moved some way towards the values, where there are any."""
    if values is None or not values.any():
        return base
    same = values * float(base @ needs) / float(values @ needs)
    # Nearer to what bars and lines prove, it is easier to prove much of them.
    moved: Floats = KEPT * same + (1 - KEPT) * base
    return moved


def _goals(rooms: Sequence[Room]) -> list[tuple[list[float], float]]:
    """Return costs of a sheet of each room of which much is to be proven, with their shares."""
    sheets, prices = [1.0] * len(rooms), [room.price for room in rooms]
    if len(rooms) > 1 and all(prices):
        return [(prices, PRICE_SHARE), (sheets, 1.0 - PRICE_SHARE)]
    return [(sheets, 1.0)]


def _needs(pieces: Sequence[Turns]) -> Floats:
    return np.array([float(piece.demand) for piece in pieces])
