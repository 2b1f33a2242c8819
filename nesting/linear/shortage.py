"""Whether the bars on hand hold all pieces, which pieces are short, and what would do.

It is a question of the same kind: bars on hand cost nothing, further ones what they are bought
for. Its answer costs nothing exactly when the bars on hand are enough.
"""

from collections import Counter

from nesting.linear.errors import (
    BarShortageProof,
    LongPiece,
    MoreBars,
    NotEnoughBars,
    PieceTooLong,
    TriedBar,
)
from nesting.linear.instance import BarInstance, BarKind
from nesting.linear.problem import BarProblem, Pattern, Room, plan_cost
from nesting.linear.rounding import greedy
from nesting.linear.search import search
from nesting.programs.linear_programs import Cancel
from nesting.question.errors import ShortPiece

NOT_FOR_SALE = 1_000
"""What one more remnant counts, in dearest bars: only where nothing that is sold would do."""


def refuse_too_long(instance: BarInstance) -> None:
    """Do nothing when every piece fits some bar.

    Raises:
        PieceTooLong: some do not.
    """
    rooms = tuple(
        TriedBar(bar=bar.id, room=bar.length - 2 * instance.rules.end_trim) for bar in instance.bars
    )
    longest = max((tried.room for tried in rooms), default=0)
    long = tuple(
        LongPiece(piece=piece.id, length=piece.length, bars=rooms)
        for piece in instance.pieces
        if piece.length > longest
    )
    if long:
        raise PieceTooLong(pieces=long)


def plan_from_bars_on_hand(
    instance: BarInstance, problem: BarProblem, *, cancel: Cancel | None = None
) -> dict[Pattern, int]:
    """Return a plan that the bars on hand hold, whatever it costs.

    Raises:
        NotEnoughBars: there is none, or none was found.
    """
    limited = [place for place, room in enumerate(problem.rooms) if room.on_hand is not None]
    prices = _prices_to_buy(instance, problem, limited)
    free = [Room(room.size, 0, room.on_hand) for room in problem.rooms]
    bought = [Room(problem.rooms[place].size, price, None) for place, price in prices.items()]
    asked = BarProblem(problem.lengths, problem.demand, (*free, *bought))
    # Further bars are endless, so the greedy plan of the question asked always ends.
    start = greedy(asked)
    found = search(asked, start or {}, cancel=cancel)
    if not plan_cost(asked, found.plan):
        return found.plan
    proof = BarShortageProof.BOUND if found.bound else BarShortageProof.SEARCH
    raise _shortage(instance, found.plan, dict(enumerate(limited, start=len(free))), proof)


def _prices_to_buy(
    instance: BarInstance, problem: BarProblem, limited: list[int]
) -> dict[int, int]:
    """Return what one more of each limited bar counts; its length where there are no prices."""
    sold = [place for place in limited if instance.bars[place].kind is BarKind.BAR]
    prices = {place: problem.rooms[place].price for place in sold}
    if not all(prices.values()):
        prices = {place: problem.rooms[place].size for place in sold}
    not_for_sale = NOT_FOR_SALE * max(prices.values(), default=1)
    return {place: prices.get(place, not_for_sale) for place in limited}


def _shortage(
    instance: BarInstance,
    plan: dict[Pattern, int],
    bar_of: dict[int, int],
    proof: BarShortageProof,
) -> NotEnoughBars:
    """Return the error, from a plan whose rooms in `bar_of` are further bars."""
    short: Counter[int] = Counter()
    more: Counter[int] = Counter()
    for pattern, runs in plan.items():
        if pattern.room in bar_of:
            more[bar_of[pattern.room]] += runs
            short.update(
                {item_type: count * runs for item_type, count in enumerate(pattern.counts)}
            )
    longest = (
        max((bar.length for bar in instance.bars if bar.kind is BarKind.BAR), default=0)
        - 2 * instance.rules.end_trim
    )
    pieces = instance.pieces
    return NotEnoughBars(
        short=tuple(
            ShortPiece(piece=pieces[item_type].id, quantity=count)
            for item_type, count in sorted(short.items())
            if count
        ),
        to_buy=tuple(
            MoreBars(bar=bar.id, length=bar.length, quantity=more[place])
            for place, bar in enumerate(instance.bars)
            if more[place] and bar.kind is BarKind.BAR
        ),
        longer_than_sold=tuple(
            pieces[item_type].id
            for item_type in sorted(short)
            if short[item_type] and pieces[item_type].length > longest
        ),
        proof=proof,
    )
