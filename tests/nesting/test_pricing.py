"""The most valuable pattern of one sheet: against trying every set of pieces."""

from itertools import chain, product
from random import Random
from sys import maxsize

import pytest

from nesting.patterns.pricing import Pricer
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget
from nesting.search.watch import Unwatched
from tests.nesting.exhaustive_nest import fit_one_sheet

WAYS_TO_CUT = {"freely": None, "two stages": EdgeToEdge(stages=2), "any": EdgeToEdge(stages=None)}
CLIMBS, STEPS = 12, 160


def no_clock() -> float:
    raise AssertionError("the clock was read")


def plenty(offers: int = maxsize) -> Budget:
    return Budget(offers, None, no_clock, Unwatched())


def question(seed: int, saw: EdgeToEdge | None) -> tuple[Instance, list[float]]:
    """Return three item types of up to two pieces each, and what a piece of each is worth."""
    rng = Random(seed)
    pieces = tuple(
        Piece(
            id=str(number),
            length=rng.randint(1, 4),
            width=rng.randint(1, 4),
            quantity=rng.randint(1, 2),
            turn=rng.choice(tuple(Turn)),
        )
        for number in range(3)
    )
    stock = Stock(id="sheet", length=6, width=5, price=1.0, on_hand=None)
    instance = Instance(
        pieces=pieces, stocks=(stock,), rules=SheetRules(trim=Trim.even(0), gap=0, saw=saw)
    )
    return instance, [piece.length * piece.width * rng.uniform(0.5, 2.0) for piece in pieces]


def by_exhaustion(instance: Instance, values: list[float]) -> float:
    """Return the most that any pieces are worth which fit the sheet together."""
    best = 0.0
    for counts in product(*(range(piece.quantity + 1) for piece in instance.pieces)):
        total = sum(value * count for value, count in zip(values, counts, strict=True))
        parts = chain.from_iterable(
            [(piece.length, piece.width, piece.turn is Turn.QUARTER)] * count
            for piece, count in zip(instance.pieces, counts, strict=True)
        )
        if total > best and fit_one_sheet(list(parts), instance.stocks[0], instance.rules):
            best = total
    return best


@pytest.mark.parametrize("way", WAYS_TO_CUT)
@pytest.mark.parametrize("seed", range(40))
def test_the_best_of_all_climbs_is_the_best_there_is(seed, way):
    instance, values = question(seed, WAYS_TO_CUT[way])
    problem = problem_of(instance)
    pricer = Pricer(problem, arrays_of(problem), seed=1)
    found = pricer.patterns(
        problem.rooms[0], values, problem.demand, climbs=CLIMBS, steps=STEPS, budget=plenty()
    )
    assert found[0].value(values) == pytest.approx(by_exhaustion(instance, values))


def test_patterns_come_best_first_and_differ():
    rng = Random(5)
    pieces = tuple(
        Piece(
            id=str(number),
            length=rng.randint(20, 60),
            width=rng.randint(10, 40),
            quantity=8,
            turn=Turn.FIXED,
        )
        for number in range(8)
    )
    stock = Stock(id="sheet", length=200, width=150, price=1.0, on_hand=None)
    problem = problem_of(
        Instance(pieces=pieces, stocks=(stock,), rules=SheetRules(trim=Trim.even(0), gap=0))
    )
    areas = [float(item_type.area) for item_type in problem.item_types]
    pricer = Pricer(problem, arrays_of(problem), seed=1)
    room = problem.rooms[0]
    sawn = pricer.sawn(room, areas, problem.demand, plenty())
    climbed = pricer.patterns(room, areas, problem.demand, 6, 40, plenty(), sawn[:3])
    for patterns in (sawn, climbed):
        values = [pattern.value(areas) for pattern in patterns]
        assert len(values) > 1
        assert values == sorted(values, reverse=True)
        assert values[0] <= 200 * 150
        assert len({pattern.counts for pattern in patterns}) == len(patterns)


def test_a_budget_that_is_over_ends_the_climbs():
    instance, values = question(1, None)
    problem = problem_of(instance)
    spent = plenty(offers=1)
    spent.spend(1)
    pricer = Pricer(problem, arrays_of(problem), seed=1)
    room = problem.rooms[0]
    assert pricer.patterns(room, values, problem.demand, CLIMBS, STEPS, spent) == []
    assert pricer.sawn(room, values, problem.demand, spent) == []
