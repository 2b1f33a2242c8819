"""Several stocks: the cheapest mix within what is on hand."""

import dataclasses

import pytest

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.settings import Effort
from nesting.solution import cost
from nesting.solve import solve
from tests.nesting.random_nests import assert_exact
from tests.nesting.room_job import BOARD, room_job

# Tiles of 100 x 100: a small sheet holds 2 x 2 of them, a large one 4 x 3.
TILE = Piece(id="tile", length=100, width=100, quantity=24, turn=Turn.FIXED)
SMALL = Stock(id="small", length=200, width=200, price=4.0, on_hand=None)
LARGE = Stock(id="large", length=400, width=300, price=12.0, on_hand=None)


def bought(small: Stock, large: Stock, tiles: int) -> tuple[int, int, float]:
    instance = Instance(
        pieces=(dataclasses.replace(TILE, quantity=tiles),),
        stocks=(small, large),
        rules=SheetRules(trim=0, gap=0),
    )
    solution = solve(instance)
    assert_exact(instance, solution)
    return (
        solution.sheets_of("small"),
        solution.sheets_of("large"),
        cost(instance, solution),
    )


def priced(stock: Stock, price: float, on_hand: int | None = None) -> Stock:
    return dataclasses.replace(stock, price=price, on_hand=on_hand)


def test_the_cheaper_stock_is_bought():
    assert bought(SMALL, priced(LARGE, 11.0), 24) == (0, 2, 22.0)
    assert bought(SMALL, priced(LARGE, 13.0), 24) == (6, 0, 24.0)


def test_equal_prices_take_fewer_sheets():
    assert bought(SMALL, LARGE, 24) == (0, 2, 24.0)


def test_a_mix_beats_either_stock_alone():
    # 28 tiles: three large cost 33, seven small 28 and two large with one small 26.
    assert bought(SMALL, priced(LARGE, 11.0), 28) == (1, 2, 26.0)


def test_cheap_stock_is_used_up_and_no_further():
    assert bought(SMALL, priced(LARGE, 6.0, on_hand=1), 24) == (3, 1, 18.0)


def test_free_stock_comes_first():
    assert bought(priced(SMALL, 0.0, on_hand=3), LARGE, 24) == (3, 1, 12.0)


def test_when_all_stock_is_free_fewest_sheets_count():
    assert bought(priced(SMALL, 0.0), priced(LARGE, 0.0), 24) == (0, 2, 0.0)


@pytest.mark.parametrize("large_price", [74.0, 77.0, 80.0])
def test_mixed_boards_cost_no_more_than_either_alone(large_price):
    other = dataclasses.replace(
        BOARD, id="large board", length=305_000, width=152_500, price=large_price
    )
    job = room_job(3)

    def least_cost(*stocks: Stock) -> float:
        instance = dataclasses.replace(job, stocks=stocks)
        return cost(instance, solve(instance, effort=Effort.QUICK))

    assert least_cost(BOARD, other) <= min(least_cost(BOARD), least_cost(other))
