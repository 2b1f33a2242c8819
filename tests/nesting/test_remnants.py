"""Remnants cost nothing more, so that every answer must use those that save a bought sheet."""

from random import Random

import pytest

from nesting.answer.solution import StopReason
from nesting.answer.verify import violations
from nesting.bounds.lower_bounds import quick_bounds
from nesting.question.instance import Instance, Piece, Stock, StockKind, Turn
from nesting.question.problem import problem_of
from nesting.question.settings import Effort
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.search.arrays import arrays_of
from nesting.search.budget import Budget
from nesting.search.draft import Draft, rank
from nesting.search.first_answers import stock_plans
from nesting.search.one_sheet_fewer import improved
from nesting.search.pattern import Spot, pattern_of
from nesting.search.watch import Unwatched
from nesting.solve import solve
from tests.nesting.exhaustive_nest import fit_one_sheet, least_cost
from tests.nesting.random_nests import assert_exact
from tests.nesting.small_efforts import SmallEffort

WAYS_TO_CUT = {
    "freely": None,
    "two stages": EdgeToEdge(stages=2),
    "three stages": EdgeToEdge(stages=3),
    "any stages": EdgeToEdge(stages=None),
}


def remnant(name: str, length: int, width: int, on_hand: int) -> Stock:
    return Stock(
        id=name,
        length=length,
        width=width,
        price=0.0,
        on_hand=on_hand,
        kind=StockKind.REMNANT,
    )


def tiny(seed: int, saw: EdgeToEdge | None) -> Instance:
    """At most six pieces on a bought sheet and on two remnants, a few of each."""
    rng = Random(seed)
    rules = SheetRules(trim=Trim.even(0), gap=rng.choice((0, 1)), saw=saw)
    board = Stock(id="board", length=6, width=5, price=7.5, on_hand=None)
    remnants = [
        remnant(f"remnant {n}", rng.randint(2, 5), rng.randint(2, 4), rng.randint(1, 2))
        for n in range(2)
    ]
    pieces = tuple(
        Piece(
            id=str(number),
            length=rng.randint(1, 4),
            width=rng.randint(1, 4),
            quantity=1,
            turn=rng.choice(tuple(Turn)),
        )
        for number in range(rng.randint(4, 6))
    )
    assert all(fit_one_sheet([(p.length, p.width, False)], board, rules) for p in pieces)
    return Instance(pieces=pieces, stocks=(board, *remnants), rules=rules)


@pytest.mark.parametrize("way", WAYS_TO_CUT)
@pytest.mark.parametrize(
    ("seed", "effort"),
    [
        *((seed, SmallEffort.SMALL) for seed in range(25)),
        *((seed, Effort.QUICK) for seed in range(100, 104)),
        *((seed, Effort.NORMAL) for seed in (200,)),
    ],
)
def test_no_sheet_is_bought_that_remnants_save(seed, effort, way):
    """The optimum is that of the exhaustive search, which knows the sheets on hand."""
    instance = tiny(seed, WAYS_TO_CUT[way])
    optimum = least_cost(instance, {"board": 7.5, "remnant 0": 0.0, "remnant 1": 0.0})
    solution = solve(instance, effort=effort)
    assert_exact(instance, solution)
    assert violations(instance, solution) == ()
    assert solution.price_bound <= optimum
    assert solution.price == optimum


BOARD = Stock(id="board", length=400, width=300, price=12.1, on_hand=None)


def tiles(quantity: int, saw: EdgeToEdge | None, *remnants: Stock) -> Instance:
    """Tiles on boards that hold 4 x 3 of them, and on remnants."""
    piece = Piece(id="tile", length=100, width=100, quantity=quantity, turn=Turn.FIXED)
    rules = SheetRules(trim=Trim.even(0), gap=0, saw=saw)
    return Instance(pieces=(piece,), stocks=(BOARD, *remnants), rules=rules)


@pytest.mark.parametrize("way", WAYS_TO_CUT)
def test_a_board_is_changed_for_several_remnants_that_lie_idle(way):
    """Two boards are full; one remnant holds 6 of a board's 12 tiles, so that it takes both."""
    problem = problem_of(tiles(24, WAYS_TO_CUT[way], remnant("half", 200, 300, 3)))
    full = [Spot(0, 100 * x, 100 * y, False) for x in range(4) for y in range(3)]
    draft = Draft()
    draft.add(pattern_of(0, full), 2)
    budget = Budget(2_000_000, None, lambda: 0.0, Unwatched())
    found = improved(problem, arrays_of(problem), draft, problem.rooms[0].cost, budget, seed=1)
    assert found.sheets_by_room() == {0: 1, 1: 2}
    assert not found.short


def test_remnants_that_save_nothing_are_put_back_once_the_price_is_the_least():
    """Nineteen tiles: a board and two remnants. Three cost as little, but are more work."""
    problem = problem_of(tiles(19, None, remnant("half", 200, 300, 3)))
    draft = Draft()
    for room, columns, rows, runs in ((0, 4, 2, 1), (1, 2, 2, 2), (1, 1, 3, 1)):
        spots = [Spot(0, 100 * x, 100 * y, False) for x in range(columns) for y in range(rows)]
        draft.add(pattern_of(room, spots), runs)
    bounds = quick_bounds(problem)
    assert bounds is not None
    assert rank(problem, draft).price == bounds.price
    budget = Budget(2_000_000, None, lambda: 0.0, Unwatched())
    found = improved(problem, arrays_of(problem), draft, bounds.price, budget, seed=1)
    assert found.sheets_by_room() == {0: 1, 1: 2}


def test_pieces_for_which_no_sheet_is_left_stay_short():
    problem = problem_of(tiles(1, None, remnant("half", 200, 300, 3)))
    budget = Budget(2_000_000, None, lambda: 0.0, Unwatched())
    found = improved(problem, arrays_of(problem), Draft(short={0: 1}), 0.0, budget, seed=1)
    assert found.short == {0: 1}
    assert found.sheets == 0


@pytest.mark.parametrize(("asked", "boards"), [(6, 0), (7, 1), (18, 1), (19, 2), (30, 2), (31, 3)])
def test_the_least_price_is_that_of_whole_boards(asked, boards):
    """One remnant takes 6 tiles, each board 12: the price is proven, with no share of a board."""
    solution = solve(tiles(asked, None, remnant("half", 200, 300, 1)), effort=SmallEffort.SMALL)
    assert solution.price == pytest.approx(boards * 12.1)
    assert solution.price_bound == pytest.approx(boards * 12.1)
    assert solution.gap == 0.0
    assert solution.stop is StopReason.PROVEN


def test_many_remnants_do_not_make_many_plans():
    """Each plan is a whole answer, so a remnant that comes early anyway has none of its own."""
    board, large = (
        Stock(id=name, length=60, width=width, price=price, on_hand=None)
        for name, width, price in (("board", 50, 7.5), ("large", 80, 13.0))
    )
    remnants = [remnant(f"remnant {n}", 20 + n, 30, 1) for n in range(30)]
    piece = Piece(id="piece", length=10, width=10, quantity=3, turn=Turn.FIXED)
    stocks, rules = (board, *remnants, large), SheetRules(trim=Trim.even(0), gap=0)
    problem = problem_of(Instance(pieces=(piece,), stocks=stocks, rules=rules))
    plans = stock_plans(problem)
    # What is free always comes first, then each bought size has its turn.
    assert all(not room.price for plan in plans for room in plan[:30])
    assert [plan[30].price for plan in plans] == [7.5, 13.0]
    assert all(sorted(room.index for room in plan) == list(range(32)) for plan in plans)


def test_every_bought_size_is_tried_beside_a_remnant():
    """By hand: the remnant holds two of the large pieces, the long sheet six, the full one four."""
    stocks = (
        Stock(id="full", length=244, width=122, price=49.9, on_hand=None),
        Stock(id="long", length=305, width=122, price=65.0, on_hand=None),
        remnant("rest", 150, 90, 1),
    )
    pieces = (
        Piece(id="large", length=100, width=60, quantity=9, turn=Turn.FIXED),
        Piece(id="small", length=60, width=40, quantity=8, turn=Turn.QUARTER),
    )
    rules = SheetRules(trim=Trim.even(0), gap=1)
    instance = Instance(pieces=pieces, stocks=stocks, rules=rules)
    solution = solve(instance, effort=SmallEffort.SMALL)
    assert violations(instance, solution) == ()
    assert (solution.price, solution.stop) == (114.9, StopReason.PROVEN)
