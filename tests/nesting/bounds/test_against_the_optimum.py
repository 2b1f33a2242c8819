"""Every bound is at most the optimum that trying everything finds, on tiny questions."""

from collections.abc import Iterator
from random import Random

import pytest

from nesting.bounds import piece_sets
from nesting.bounds.lower_bounds import quick_bounds, thorough_bounds
from nesting.bounds.sides import usable_rooms
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.problem import Problem, problem_of
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.search.pattern import Pattern, Spot, pattern_of
from tests.nesting.exhaustive_nest import least_cost


def tiny(seed: int) -> Instance:
    """At most five pieces, at most two stocks, the first without limit."""
    rng = Random(seed)
    trim = Trim(left=rng.randint(0, 1), right=0, bottom=rng.randint(0, 1), top=rng.randint(0, 1))
    rules = SheetRules(trim=trim, gap=rng.choice((0, 0, 1)))
    stocks = tuple(
        Stock(
            id=str(number),
            length=rng.randint(3, 5) + trim.along,
            width=rng.randint(3, 4) + trim.across,
            price=rng.choice((1.0, 1.5, 2.25)),
            on_hand=None if number == 0 else rng.choice((None, 0, 1)),
        )
        for number in range(rng.randint(1, 2))
    )
    room = stocks[0].length - trim.along, stocks[0].width - trim.across
    pieces = tuple(
        Piece(
            id=str(number),
            length=rng.randint(1, room[0]),
            width=rng.randint(1, room[1]),
            quantity=1,
            turn=rng.choice(tuple(Turn)),
        )
        for number in range(rng.randint(1, 5))
    )
    return Instance(pieces=pieces, stocks=stocks, rules=rules)


def wrong_layouts(problem: Problem, rng: Random) -> Iterator[Pattern]:
    """Layouts that no sheet has room for: they may mislead the search, and never the proof."""
    for room in usable_rooms(problem):
        item_types = [rng.randrange(len(problem.item_types)) for _ in range(rng.randint(1, 9))]
        yield pattern_of(room.index, [Spot(item_type, 0, 0, False) for item_type in item_types])


@pytest.mark.parametrize("seed", range(120))
def test_no_bound_is_above_the_optimum(seed, monkeypatch):
    # Sets of pieces are gone through however much the functions prove.
    monkeypatch.setattr(piece_sets, "CLOSE", 0.0)
    instance = tiny(seed)
    problem = problem_of(instance)
    sheets = least_cost(instance, {stock.id: 1.0 for stock in instance.stocks})
    price = least_cost(instance, {stock.id: stock.price for stock in instance.stocks})
    wrong = list(wrong_layouts(problem, Random(seed)))
    quick = quick_bounds(problem)
    for bounds in (
        quick,
        thorough_bounds(problem, (), 20_000),
        thorough_bounds(problem, wrong, 500),
        thorough_bounds(problem, wrong, 50_000),
        thorough_bounds(problem, wrong, 1, set_nodes=1_000),
        thorough_bounds(problem, wrong, 1, set_nodes=10_000_000),
    ):
        assert quick.sheets <= bounds.sheets <= sheets
        assert quick.price <= bounds.price
        assert float(bounds.price * problem.unit) <= price + 1e-9
