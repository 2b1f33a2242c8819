"""The question as the solver sees it: whole numbers only, kerf and trim taken up in the lengths.

Every piece is grown by one kerf, and so is the room of a bar: n pieces and their n - 1 kerfs fit
between the trims exactly when n grown pieces fit in the grown room. Prices count in the largest
amount that all of them are multiples of, so costs are exact and bounds can be rounded up.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from nesting.linear.instance import BarInstance, price_to_pay
from nesting.question.prices import exact_price, unit_price

Counts = tuple[int, ...]
"""How many of each item type, by its place in the problem."""


@dataclass(frozen=True, slots=True)
class Room:
    """A bar: its room grown by a kerf, its price in units, how many there are (None: no limit)."""

    size: int
    price: int
    on_hand: int | None


@dataclass(frozen=True, slots=True)
class BarProblem:
    """Grown lengths of the item types with their demand, and the rooms."""

    lengths: tuple[int, ...]
    demand: Counts
    rooms: tuple[Room, ...]


@dataclass(frozen=True, slots=True, order=True)
class Pattern:
    """What is cut from one bar: the room's place and how many of each item type."""

    room: int
    counts: Counts


Plan = Mapping[Pattern, int]
"""Patterns with their runs."""


def problem_of(instance: BarInstance) -> tuple[BarProblem, Fraction]:
    """Return the problem, and the price that one of its price units stands for."""
    rules = instance.rules
    prices = [exact_price(price_to_pay(bar, rules)) for bar in instance.bars]
    unit = unit_price(prices)
    rooms = tuple(
        Room(bar.length - 2 * rules.end_trim + rules.kerf, int(price / unit), bar.on_hand)
        for bar, price in zip(instance.bars, prices, strict=True)
    )
    problem = BarProblem(
        tuple(piece.length + rules.kerf for piece in instance.pieces),
        tuple(piece.quantity for piece in instance.pieces),
        rooms,
    )
    return problem, unit


def plan_cost(problem: BarProblem, plan: Plan) -> int:
    """Return the price of all bars, in units."""
    return sum(problem.rooms[pattern.room].price * runs for pattern, runs in plan.items())


def plan_length(problem: BarProblem, plan: Plan) -> int:
    """Return the grown length of all bars."""
    return sum(problem.rooms[pattern.room].size * runs for pattern, runs in plan.items())


def made(problem: BarProblem, plan: Plan) -> list[int]:
    """Return how many of each item type the plan makes."""
    totals = [0] * len(problem.demand)
    for pattern, runs in plan.items():
        for item_type, count in enumerate(pattern.counts):
            totals[item_type] += count * runs
    return totals


def exact(problem: BarProblem, plan: Plan) -> dict[Pattern, int]:
    """Return a plan that makes enough with what is too much left uncut.

    An item type is dropped from whole patterns where that does it, so that few new ones arise.
    """
    runs_of = Counter(plan)
    for item_type, total in enumerate(made(problem, plan)):
        surplus = total - problem.demand[item_type]
        while surplus > 0:
            pattern = _best_to_thin(runs_of, item_type, surplus)
            runs = min(runs_of[pattern], surplus)
            runs_of[pattern] -= runs
            if not runs_of[pattern]:
                del runs_of[pattern]
            thinner = _without_one(pattern, item_type)
            if any(thinner.counts):
                runs_of[thinner] += runs
            surplus -= runs
    return dict(sorted(runs_of.items()))


def _best_to_thin(plan: Plan, item_type: int, surplus: int) -> Pattern:
    """Return the pattern with most runs that all may lose one; else the one with fewest runs."""
    having = [pattern for pattern in sorted(plan) if pattern.counts[item_type]]
    whole = [pattern for pattern in having if plan[pattern] <= surplus]
    if whole:
        return max(whole, key=lambda pattern: plan[pattern])
    return min(having, key=lambda pattern: plan[pattern])


def _without_one(pattern: Pattern, item_type: int) -> Pattern:
    counts = list(pattern.counts)
    counts[item_type] -= 1
    return Pattern(pattern.room, tuple(counts))


def patterns_of(problem: BarProblem) -> Iterator[Pattern]:
    """Yield for each item type a bar full of it, from the cheapest room that holds one."""
    for item_type, length in enumerate(problem.lengths):
        for place, room in enumerate(problem.rooms):
            count = min(room.size // length, problem.demand[item_type])
            if count:
                counts = [0] * len(problem.lengths)
                counts[item_type] = count
                yield Pattern(place, tuple(counts))
