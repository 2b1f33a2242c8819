"""The bounds on a nest: the sheets and the price that no answer can go below, with their kind."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, prod

from nesting.answer.solution import BoundKind
from nesting.bounds.certificate import (
    Certificate,
    fewest_sheets,
    least_price,
    whole_costs,
)
from nesting.bounds.function_pairs import Functions, best_pairs
from nesting.bounds.layout_duals import KnownLayout
from nesting.bounds.sides import Turns, open_area, turns_of, usable_rooms
from nesting.bounds.stopping import Ask, Stopped, asking, never
from nesting.bounds.thorough import thorough_certificates
from nesting.bounds.whole_sheets import Need, least_whole, needs_of
from nesting.question.problem import Problem, Room
from nesting.search.pattern import Pattern

MOST_SIZES = 2_000
"""With more different pieces the area is as good a bound as any, and functions take seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LowerBounds:
    """The fewest sheets and the least price (in whole costs) of any answer, each with its basis."""

    sheets: int
    sheets_kind: BoundKind
    price: int
    price_kind: BoundKind


NOTHING = LowerBounds(
    sheets=0, sheets_kind=BoundKind.NOTHING, price=0, price_kind=BoundKind.NOTHING
)


def better(one: LowerBounds, other: LowerBounds) -> LowerBounds:
    """Return the higher bound on each; the first one's where they are equal."""
    by_sheets = other if other.sheets > one.sheets else one
    by_price = other if other.price > one.price else one
    return LowerBounds(
        sheets=by_sheets.sheets,
        sheets_kind=by_sheets.sheets_kind,
        price=by_price.price,
        price_kind=by_price.price_kind,
    )


def quick_bounds(problem: Problem, ask: Ask = never) -> LowerBounds | None:
    """Return the best bounds by area, pieces that share no sheet and dual-feasible functions.

    None when the stock on hand cannot hold the pieces. Pieces that fit no room are left out: that
    there is no answer is told elsewhere. The same functions are tried whatever the pieces, and
    each values a piece by itself, so that no bound rises when a piece is removed, unless the piece
    is the one of too many sizes for functions.

    Raises:
        Stopped: `ask` did, which it is asked between short steps.
    """
    pieces, rooms = turns_of(problem, ask), usable_rooms(problem)
    if not pieces:
        return NOTHING
    best: LowerBounds | None = None
    demand = [piece.demand for piece in pieces]
    for kind, certificate in _quick_certificates(pieces, rooms, ask):
        ask()
        proven = proven_by(certificate, kind, demand, rooms)
        if proven is None:
            return None
        best = proven if best is None else better(best, proven)
    return best


def quick_needs(problem: Problem, ask: Ask = never) -> tuple[Need, ...]:
    """Return what sheets of the rooms must hold by everything that `quick_bounds` looks at.

    All rooms must be usable: a need counts on each of them, in their order.

    Raises:
        Stopped: `ask` did.
    """
    pieces = turns_of(problem, ask)
    if not pieces:
        return ()
    found = _quick_certificates(pieces, problem.rooms, ask)
    return needs_of((certificate for _, certificate in found), [p.demand for p in pieces])


def thorough_bounds(
    problem: Problem,
    layouts: Iterable[Pattern],
    nodes: int,
    stop: Callable[[], bool] = never,
    known: LowerBounds | None = None,
    set_nodes: int = 0,
) -> LowerBounds:
    """Return the best bounds that functions, bars and relaxed layouts prove in about `nodes` nodes.

    Up to `set_nodes` more are for sets of pieces, where the others are likely to prove little.

    Once `stop` is true, the best bounds met so far are returned. `known` are those of
    `quick_bounds`, where the caller has them.

    `layouts` are good ones that are known. They only say where to look: whatever they are, the
    bounds hold. It is asked when `quick_bounds` gave bounds; with few nodes it gives little more
    than that.
    """
    best = known or quick_bounds(problem)
    pieces, rooms = turns_of(problem), usable_rooms(problem)
    if best is None or not pieces or len(pieces) > MOST_SIZES:
        return best or NOTHING
    demand = [piece.demand for piece in pieces]
    known_layouts = list(_known(layouts, pieces, rooms))
    ask = asking(stop)
    certificates = list(_by_area(pieces, rooms))
    with suppress(Stopped):
        for kind, certificate in thorough_certificates(
            pieces, rooms, known_layouts, nodes, set_nodes, ask
        ):
            certificates.append(certificate)
            proven = proven_by(certificate, kind, demand, rooms)
            if proven is not None:
                best = better(best, proven)
            ask()
        if len(rooms) > 1:
            best = better(best, _whole_sheets(needs_of(certificates, demand), rooms, best, ask))
    return best


def _whole_sheets(
    needs: Sequence[Need], rooms: Sequence[Room], known: LowerBounds, ask: Ask
) -> LowerBounds:
    """Return what whole sheets that hold all needs prove, or those known where that is nothing."""
    sheets = least_whole(needs, [Fraction(1)] * len(rooms), rooms, ask)
    if sheets is None:
        return known
    fewest = Need(max(known.sheets, ceil(sheets)), (1,) * len(rooms))
    price = least_whole((*needs, fewest), whole_costs(rooms), rooms, ask)
    if price is None:
        return known
    return LowerBounds(
        sheets=fewest.total,
        sheets_kind=BoundKind.WHOLE_SHEETS,
        price=ceil(price),
        price_kind=BoundKind.WHOLE_SHEETS,
    )


def _known(
    layouts: Iterable[Pattern], pieces: Sequence[Turns], rooms: Sequence[Room]
) -> Iterator[KnownLayout]:
    """Yield the layouts of these rooms by the places of their room and pieces among the given."""
    room_at = {room.index: at for at, room in enumerate(rooms)}
    piece_at = {item_type: at for at, piece in enumerate(pieces) for item_type in piece.item_types}
    for pattern in layouts:
        if pattern.room in room_at:
            counts = [0] * len(pieces)
            for item_type, count in pattern.counts:
                counts[piece_at[item_type]] += count
            yield KnownLayout(room_at[pattern.room], tuple(counts))


def proven_by(
    certificate: Certificate, kind: BoundKind, demand: Sequence[int], rooms: Sequence[Room]
) -> LowerBounds | None:
    """Return the bounds that a certificate proves; None when the stock on hand holds too little."""
    total = certificate.total(demand)
    sheets = fewest_sheets(total, certificate.most, rooms)
    fractions = least_price(total, certificate.most, rooms)
    if sheets is None or fractions is None:
        return None
    price = max(min(room.cost for room in rooms) * sheets, fractions)
    return LowerBounds(sheets=sheets, sheets_kind=kind, price=price, price_kind=kind)


def _quick_certificates(
    pieces: Sequence[Turns], rooms: Sequence[Room], ask: Ask
) -> Iterator[tuple[BoundKind, Certificate]]:
    for certificate in _by_area(pieces, rooms):
        yield BoundKind.AREA, certificate
    alone = tuple(int(_shares_no_sheet(piece, rooms)) for piece in pieces)
    yield BoundKind.LARGE_PIECES, Certificate(dual_values=alone, most=(1,) * len(rooms))
    if len(pieces) > MOST_SIZES:
        return
    for certificate in best_pairs(pieces, rooms, Functions.FIXED, ask):
        yield BoundKind.DUAL_FEASIBLE, certificate


def _by_area(pieces: Sequence[Turns], rooms: Sequence[Room]) -> Iterator[Certificate]:
    """Yield the area of all pieces, then of those that fit only some of the rooms."""
    areas = tuple(prod(piece.sides[0]) for piece in pieces)
    open_areas = tuple(open_area(room) for room in rooms)
    yield Certificate(dual_values=areas, most=open_areas)
    if len(rooms) == 1 or len(pieces) > MOST_SIZES:
        return
    places = [{at for at, room in enumerate(rooms) if piece.within(room)} for piece in pieces]
    for some in _some_rooms(rooms):
        dual_values = (area if its <= some else 0 for area, its in zip(areas, places, strict=True))
        most = (area if at in some else 0 for at, area in enumerate(open_areas))
        yield Certificate(dual_values=tuple(dual_values), most=tuple(most))


def _some_rooms(rooms: Sequence[Room]) -> list[frozenset[int]]:
    """Return sets of rooms that too large pieces may be left with; the rooms alone choose them."""
    by_area = sorted(range(len(rooms)), key=lambda at: rooms[at].area)
    largest = {frozenset(by_area[first:]) for first in range(1, len(rooms))}
    beyond = {
        frozenset(at for at, room in enumerate(rooms) if not _within(room, other))
        for other in rooms
    }
    return sorted((largest | beyond) - {frozenset()}, key=sorted)


def _within(room: Room, other: Room) -> bool:
    return room.length <= other.length and room.width <= other.width


def _shares_no_sheet(piece: Turns, rooms: Sequence[Room]) -> bool:
    """Return whether it is longer and wider than half of every room, so that no two share one."""
    return all(2 * x > room.length and 2 * y > room.width for x, y in piece.sides for room in rooms)
