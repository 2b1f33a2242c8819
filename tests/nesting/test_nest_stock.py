"""Several stocks: the cheapest mix within what is on hand."""

import dataclasses

import pytest

from nesting.answer.solution import Solution
from nesting.bounds.lower_bounds import quick_bounds
from nesting.question.instance import Defect, Instance, Piece, Stock, StockKind, Turn
from nesting.question.problem import problem_of
from nesting.question.settings import Effort
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.question.ticks import sheet_ticks
from nesting.solve import solve
from tests.nesting.random_nests import assert_exact
from tests.nesting.room_job import BOARD, room_job
from tests.nesting.small_efforts import SmallEffort

# Tiles of 100 x 100: a small sheet holds 2 x 2 of them, a large one 4 x 3.
TILE = Piece(id="tile", length=100, width=100, quantity=24, turn=Turn.FIXED)
SMALL = Stock(id="small", length=200, width=200, price=4.0, on_hand=None)
LARGE = Stock(id="large", length=400, width=300, price=12.0, on_hand=None)
WAYS_TO_CUT = [None, EdgeToEdge(stages=2)]


def cut(tiles: int, *stocks: Stock, saw: EdgeToEdge | None = None) -> Solution:
    instance = Instance(
        pieces=(dataclasses.replace(TILE, quantity=tiles),),
        stocks=stocks,
        rules=SheetRules(trim=Trim.even(0), gap=0, saw=saw),
    )
    solution = solve(instance, effort=SmallEffort.SMALL)
    assert_exact(instance, solution)
    return solution


def bought(small: Stock, large: Stock, tiles: int, saw: EdgeToEdge | None = None):
    solution = cut(tiles, small, large, saw=saw)
    return solution.sheets_of("small"), solution.sheets_of("large"), solution.price


def priced(stock: Stock, price: float, on_hand: int | None = None) -> Stock:
    return dataclasses.replace(stock, price=price, on_hand=on_hand)


def remnant(stock: Stock, on_hand: int) -> Stock:
    return dataclasses.replace(stock, kind=StockKind.REMNANT, on_hand=on_hand)


@pytest.mark.parametrize("saw", WAYS_TO_CUT)
def test_the_cheaper_stock_is_bought(saw):
    assert bought(SMALL, priced(LARGE, 11.0), 24, saw) == (0, 2, 22.0)
    assert bought(SMALL, priced(LARGE, 13.0), 24, saw) == (6, 0, 24.0)


def test_equal_prices_take_fewer_sheets():
    assert bought(SMALL, LARGE, 24) == (0, 2, 24.0)


@pytest.mark.parametrize("saw", WAYS_TO_CUT)
def test_a_mix_beats_either_stock_alone(saw):
    # 28 tiles: three large cost 33, seven small 28 and two large with one small 26.
    assert bought(SMALL, priced(LARGE, 11.0), 28, saw) == (1, 2, 26.0)


def test_cheap_stock_is_used_up_and_no_further():
    assert bought(SMALL, priced(LARGE, 6.0, on_hand=1), 24) == (3, 1, 18.0)


@pytest.mark.parametrize("saw", WAYS_TO_CUT)
def test_remnants_come_first_and_cost_nothing_more(saw):
    assert bought(remnant(SMALL, 3), LARGE, 24, saw) == (3, 1, 12.0)
    assert bought(SMALL, remnant(LARGE, 1), 24, saw) == (3, 1, 12.0)


def test_remnants_that_save_no_sheet_stay_in_the_rack():
    solution = cut(12, remnant(SMALL, 3), LARGE)
    assert solution.price == 0.0 + (12.0 if solution.sheets_of("large") else 0.0)
    # Twelve tiles fill three remnants: free. Thirteen need a board, which holds twelve of them.
    assert (solution.sheets_of("small"), solution.sheets_of("large")) == (3, 0)
    more = cut(13, remnant(SMALL, 3), LARGE)
    assert (more.sheets_of("small"), more.sheets_of("large"), more.price) == (1, 1, 12.0)


def test_when_all_stock_is_free_fewest_sheets_count():
    assert bought(priced(SMALL, 0.0), priced(LARGE, 0.0), 24) == (0, 2, 0.0)


@pytest.mark.parametrize("saw", WAYS_TO_CUT)
def test_a_sheet_with_a_fault_holds_what_lies_beside_it(saw):
    # One tile in the upper right corner is lost: eleven are left on that sheet.
    spoiled = dataclasses.replace(
        LARGE, on_hand=1, defects=(Defect(x=330, y=230, length=10, width=10),)
    )
    solution = cut(11, dataclasses.replace(SMALL, price=50.0), spoiled, saw=saw)
    assert (solution.sheets_of("small"), solution.sheets_of("large")) == (0, 1)
    solution = cut(12, dataclasses.replace(SMALL, price=50.0), spoiled, saw=saw)
    assert (solution.sheets_of("small"), solution.sheets_of("large")) == (1, 1)


@pytest.mark.parametrize("large_price", [74.0, 77.0, 80.0])
def test_mixed_boards_cost_no_more_than_either_alone(large_price):
    other = dataclasses.replace(
        BOARD,
        id="large board",
        length=sheet_ticks(3050),
        width=sheet_ticks(1525),
        price=large_price,
    )
    job = room_job(3)

    def least_price(*stocks: Stock) -> float:
        instance = dataclasses.replace(job, stocks=stocks)
        return solve(instance, effort=SmallEffort.SMALL).price

    assert least_price(BOARD, other) <= min(least_price(BOARD), least_price(other))


@pytest.mark.parametrize("kind", StockKind)
def test_stock_of_which_nothing_is_left_changes_nothing(kind):
    """However cheap it would be: its layouts help neither the answer nor the proof."""
    gone = dataclasses.replace(BOARD, id="gone", kind=kind, price=25.0, on_hand=0)
    job = room_job(10)
    both = dataclasses.replace(job, stocks=(BOARD, gone))
    solution = solve(both, effort=Effort.QUICK)
    assert_exact(both, solution)
    assert solution.sheets_of("gone") == 0
    assert solution.lower_bound >= quick_bounds(problem_of(job)).sheets
