"""How many sheets of limited stock are missing at least: proven before any nest.

Several questions may share one stock: boards with one good face that lie either way up are nested
apart, and take their sheets from one pile. No sheet is cut for two of them, so that the fewest
sheets of each add up. Pieces that fit only some of the stocks need sheets of those, whatever else
there is. All of this is asked of whole sheets at once, in exact numbers.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from nesting.bounds.lower_bounds import quick_bounds, quick_needs
from nesting.bounds.sides import open_area
from nesting.bounds.stopping import Ask, never
from nesting.bounds.whole_sheets import Need, least_whole
from nesting.question.errors import ShortageProof
from nesting.question.instance import Instance, StockKind
from nesting.question.problem import ItemType, Problem, Room, problem_of

MOST_SETS = 32
"""Sets of stocks looked at; there are more only where many stocks each suit other pieces."""

Stocks = frozenset[int]
"""Places of some of the stocks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockNeed:
    """What one limited stock of sheets lacks at least.

    `alone` is how many more of it are needed if nothing else is bought; None: no number does.
    `anyway` is how many more are needed whatever else is bought.
    """

    stock: str
    on_hand: int
    alone: int | None
    anyway: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """The sheets that are missing at least, in all and stock by stock, and how that is known.

    `more` is None where no sheets that can be bought would do.
    """

    more: int | None
    stocks: tuple[StockNeed, ...]
    proof: ShortageProof


def least_of_limited(instances: Sequence[Instance], ask: Ask = never) -> int:
    """Return how many sheets of the limited stocks the questions take at least together.

    With more sheets than there are on hand, that is what they would take of them.

    Raises:
        ValueError: the questions have different stocks.
        Stopped: `ask` did.
    """
    pooled = _pooled(instances)
    costs = [Fraction(stock.on_hand is not None) for stock in instances[0].stocks]
    least = least_whole(tuple(_needs(pooled, ask)), costs, pooled.rooms, ask)
    return 0 if least is None else ceil(least)


def proven_shortfall(instances: Sequence[Instance], ask: Ask = never) -> Shortfall | None:
    """Return what is missing for questions that take their sheets from the same stocks.

    None: nothing is proven missing, which does not say that the stock suffices. Pieces that fit no
    stock at all are left out, as that is told elsewhere. So many sheets are needed; more may be.

    Raises:
        ValueError: the questions have different stocks.
        Stopped: `ask` did.
    """
    pooled = _pooled(instances)
    stocks = instances[0].stocks
    rooms = [replace(r, on_hand=s.on_hand) for r, s in zip(pooled.rooms, stocks, strict=True)]
    needs = tuple(_needs(pooled, ask))
    if _least_bought(needs, rooms, {}, ask) is not None:
        return None
    by_area = _least_bought(tuple(_area_needs(pooled)), rooms, {}, ask) is None
    sold = [
        (at, stock)
        for at, stock in enumerate(stocks)
        if stock.on_hand is not None and stock.kind is StockKind.SHEET
    ]
    all_free = dict.fromkeys((at for at, _ in sold), 0)
    return Shortfall(
        more=_least_bought(needs, rooms, dict.fromkeys(all_free, 1), ask),
        stocks=tuple(
            StockNeed(
                stock=stock.id,
                on_hand=stock.on_hand or 0,
                alone=_least_bought(needs, rooms, {at: 1}, ask),
                anyway=_least_bought(needs, rooms, all_free | {at: 1}, ask) or 0,
            )
            for at, stock in sold
        ),
        proof=ShortageProof.AREA if by_area else ShortageProof.BOUND,
    )


@dataclass(frozen=True, slots=True)
class _Pooled:
    """Questions with any number of sheets of each stock.

    `fits` are the stocks that each item type of each question fits; `sets` are what some pieces are
    left with: the stocks that a piece fits, several of those together, and all.
    """

    problems: tuple[Problem, ...]
    rooms: tuple[Room, ...]
    fits: tuple[tuple[Stocks, ...], ...]
    sets: tuple[Stocks, ...]


def _pooled(instances: Sequence[Instance]) -> _Pooled:
    if any(instance.stocks != instances[0].stocks for instance in instances):
        raise ValueError("questions that share stock must have the same stocks")
    problems = [problem_of(instance) for instance in instances]
    rooms = tuple(replace(room, on_hand=None) for room in problems[0].rooms)
    fits = tuple(tuple(_fitting(item_type, rooms) for item_type in p.item_types) for p in problems)
    return _Pooled(
        tuple(replace(problem, rooms=rooms) for problem in problems),
        rooms,
        fits,
        _sets_of_stocks({places for each in fits for places in each}, len(rooms)),
    )


def _fitting(item_type: ItemType, rooms: Sequence[Room]) -> Stocks:
    return frozenset(at for at, room in enumerate(rooms) if item_type.fits(room))


def _sets_of_stocks(fits: set[Stocks], stocks: int) -> tuple[Stocks, ...]:
    found = {frozenset(range(stocks))}
    for places in sorted(fits - {frozenset()}, key=sorted):
        if len(found) >= MOST_SETS:
            break
        found |= {places, *(places | other for other in found)}
    return tuple(sorted(found, key=sorted))


def _needs(pooled: _Pooled, ask: Ask) -> Iterator[Need]:
    """Yield what sheets of all stocks must hold for all questions together."""
    yield from _area_needs(pooled)
    for some in pooled.sets:
        bounds = [
            quick_bounds(_only_for(some, problem, fits), ask)
            for problem, fits in zip(pooled.problems, pooled.fits, strict=True)
        ]
        sheets = sum(each.sheets for each in bounds if each is not None)
        if sheets:
            yield Need(sheets, tuple(int(at in some) for at in range(len(pooled.rooms))))
    for problem in pooled.problems:
        yield from quick_needs(problem, ask)


def _area_needs(pooled: _Pooled) -> Iterator[Need]:
    """Yield the area of all pieces that fit only some of the stocks, and that of their sheets."""
    areas = [open_area(room) for room in pooled.rooms]
    for some in pooled.sets:
        total = sum(
            item_type.area * count
            for problem, fits in zip(pooled.problems, pooled.fits, strict=True)
            for item_type, count, its in zip(problem.item_types, problem.demand, fits, strict=True)
            if its and its <= some
        )
        if total:
            yield Need(total, tuple(area if at in some else 0 for at, area in enumerate(areas)))


def _only_for(some: Stocks, problem: Problem, fits: Sequence[Stocks]) -> Problem:
    """Return the question with only these stocks, and only the pieces that fit no other."""
    demand = tuple(
        count if its <= some else 0 for count, its in zip(problem.demand, fits, strict=True)
    )
    rooms = tuple(room for at, room in enumerate(problem.rooms) if at in some)
    return replace(problem, demand=demand, rooms=rooms)


def _least_bought(
    needs: Sequence[Need], rooms: Sequence[Room], costs: Mapping[int, int], ask: Ask
) -> int | None:
    """Return a cost that no further sheets go below which hold all needs with those on hand.

    `costs` are of one more sheet of each stock (by its place) that may be bought. None when no
    number of them does.
    """
    bought = [replace(rooms[at], on_hand=None) for at in costs]
    wider = [Need(n.total, (*n.most, *(n.most[at] for at in costs))) for n in needs]
    each = [Fraction(0)] * len(rooms) + [Fraction(cost) for cost in costs.values()]
    least = least_whole(wider, each, (*rooms, *bought), ask)
    return None if least is None else ceil(least)
