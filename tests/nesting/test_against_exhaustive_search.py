"""Tiny questions, against an exhaustive search that shares nothing with the nest."""

from random import Random

import pytest

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.settings import Effort
from nesting.solve import solve
from tests.nesting.exhaustive_nest import least_sheets


def tiny(seed: int) -> Instance:
    """At most five parts on a sheet of at most 7 x 6 ticks."""
    rng = Random(seed)
    rules = SheetRules(trim=rng.choice((0, 1)), gap=rng.choice((0, 0, 1)))
    room = rng.randint(4, 5), rng.randint(3, 4)
    stock = Stock(
        id="sheet",
        length=room[0] + 2 * rules.trim,
        width=room[1] + 2 * rules.trim,
        price=1.0,
        on_hand=None,
    )
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
    return Instance(pieces=pieces, stocks=(stock,), rules=rules)


def test_the_exhaustive_search_itself_on_cases_worked_by_hand():
    square = Piece(id="a", length=2, width=2, quantity=4, turn=Turn.FIXED)
    sheet = Stock(id="s", length=4, width=4, price=1.0, on_hand=None)

    def least(gap: int) -> int:
        rules = SheetRules(trim=0, gap=gap)
        return least_sheets(Instance(pieces=(square,), stocks=(sheet,), rules=rules))

    assert least(0) == 1
    assert least(1) == 4


@pytest.mark.parametrize("seed", range(150))
def test_the_optimum_is_found_and_the_bound_is_below_it(seed):
    instance = tiny(seed)
    optimum = least_sheets(instance)
    solution = solve(instance, effort=Effort.QUICK)
    assert solution.lower_bound <= optimum == solution.sheets
