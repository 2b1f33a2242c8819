"""Many sheets of many different pieces, filled one after the other from what is left."""

import random
from dataclasses import replace

import pytest

from nesting.patterns.best_filled import best_filled
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget
from nesting.search.draft import Draft, rank, residual
from nesting.search.first_answers import first_answer
from nesting.search.watch import Unwatched
from nesting.solve import solve
from tests.nesting.random_nests import assert_exact
from tests.nesting.small_efforts import SmallEffort

RULES = SheetRules(trim=Trim.even(10), gap=8)


def mixed(rules: SheetRules, item_types: int = 200, copies: int = 1) -> Instance:
    """Return pieces of different sizes, some of which turn, for more than twenty sheets."""
    source = random.Random(item_types)
    pieces = tuple(
        Piece(
            id=str(number),
            length=source.randint(150, 1300),
            width=source.randint(80, 620),
            quantity=copies,
            turn=source.choice([Turn.QUARTER, Turn.FIXED]),
        )
        for number in range(item_types)
    )
    stock = Stock(id="sheet", length=2200, width=1100, price=1.0, on_hand=None)
    return Instance(pieces=pieces, stocks=(stock,), rules=rules)


def filled(instance: Instance, offers: int, seed: int = 1) -> tuple[Draft, Draft, list[int]]:
    """Return the start, what it is filled to, and the sheets of all that was told."""
    problem = problem_of(instance)
    arrays, demand = arrays_of(problem), dict(enumerate(problem.demand))
    start = first_answer(problem, arrays, demand, budget(1), 1.0)
    told: list[int] = []
    best = best_filled(
        problem, arrays, start, 1.0, budget(offers), seed, lambda draft: told.append(draft.sheets)
    )
    return start, best, told


def budget(offers: int) -> Budget:
    return Budget(offers, None, lambda: 0.0, Unwatched())


@pytest.mark.parametrize(
    "rules",
    [
        RULES,
        replace(RULES, saw=EdgeToEdge(stages=3)),
        replace(RULES, rim=Rim(longest_side=300, distance=40)),
    ],
    ids=["free", "sawn", "rim"],
)
def test_many_different_pieces_are_nested_exactly(rules):
    instance = mixed(rules)
    assert_exact(instance, solve(instance, effort=SmallEffort.SMALL))


@pytest.mark.parametrize("copies", [1, 2])
def test_pattern_well_saves_sheets_and_loses_no_piece(copies):
    instance = mixed(RULES, copies=copies)
    start, best, told = filled(instance, 3_000_000)
    assert best.sheets < start.sheets
    assert told == sorted(told, reverse=True)
    assert told[-1] == best.sheets
    assert not best.short
    assert residual(dict(enumerate(problem_of(instance).demand)), best) == {}


def test_more_work_is_never_worse_and_too_little_leaves_the_start():
    instance = mixed(RULES)
    start, untouched, told = filled(instance, 10_000)
    assert (untouched, told) == (start, [])
    problem = problem_of(instance)
    ranks = [rank(problem, filled(instance, offers)[1]) for offers in (10_000, 1_000_000)]
    assert ranks == sorted(ranks, reverse=True)


def test_the_seed_decides_all():
    instance = mixed(RULES)
    once, again = (filled(instance, 1_000_000, seed=7)[1] for _ in range(2))
    assert once.runs == again.runs
