"""Quick bounds by hand-worked cases and by properties."""

import dataclasses

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.solution import BoundKind
from nesting.bounds.lower_bounds import LowerBounds, better, quick_bounds
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import SheetRules, Trim
from tests.nesting.random_nests import instances


def square(quantity: int, side: int = 100) -> Piece:
    name = f"square {side}"
    return Piece(id=name, length=side, width=side, quantity=quantity, turn=Turn.FIXED)


def sheet(name: str, length: int, width: int, **changes) -> Stock:
    stock = Stock(id=name, length=length, width=width, price=1.0, on_hand=None)
    return dataclasses.replace(stock, **changes)


def bounds_of(pieces, stocks, trim=0, gap=0) -> LowerBounds | None:
    rules = SheetRules(trim=Trim.even(trim), gap=gap)
    return quick_bounds(
        problem_of(Instance(pieces=tuple(pieces), stocks=tuple(stocks), rules=rules))
    )


def test_pieces_that_fill_sheets_exactly_with_gap_and_trim():
    # 3 x 2 squares of 100 with a gap of 10 need 320 x 210 inside a trim of 5.
    stock = sheet("s", 330, 220)
    assert bounds_of([square(12)], [stock], trim=5, gap=10).sheets == 2
    assert bounds_of([square(13)], [stock], trim=5, gap=10).sheets == 3


def test_largest_sheets_are_taken_first_as_far_as_on_hand():
    stocks = [sheet("small", 200, 100), sheet("large", 500, 200, on_hand=2)]
    assert bounds_of([square(20)], stocks).sheets == 2
    assert bounds_of([square(23)], stocks).sheets == 4


def test_too_little_area_is_told_apart():
    stocks = [sheet("large", 500, 200, on_hand=2)]
    assert bounds_of([square(21)], stocks) is None
    assert bounds_of([square(20)], stocks).sheets == 2


def test_pieces_that_share_no_sheet_outnumber_the_sheets_on_hand():
    assert bounds_of([square(3, side=501)], [sheet("s", 1000, 1000, on_hand=2)]) is None


def test_the_price_buys_the_cheapest_area_first():
    stocks = [sheet("dear", 200, 100, price=3.0), sheet("cheap", 500, 200, price=5.0, on_hand=2)]
    assert bounds_of([square(10)], stocks).price == 5
    assert bounds_of([square(24)], stocks).price == 10 + 2 * 3


def test_a_defect_takes_its_area_away():
    hole = Defect(x=100, y=0, length=100, width=100)
    assert bounds_of([square(6)], [sheet("s", 300, 200)]).sheets == 1
    assert bounds_of([square(6)], [sheet("s", 300, 200, defects=(hole,))]).sheets == 2


def test_pieces_over_half_a_sheet_each_way_need_a_sheet_each():
    bounds = bounds_of([square(7, side=501)], [sheet("s", 1000, 1000)])
    assert (bounds.sheets, bounds.sheets_kind) == (7, BoundKind.LARGE_PIECES)


def test_strips_over_half_the_width_lie_one_behind_the_other():
    # 8 of 300 x 600 on 1000 x 1000: three in a row, and no two side by side; by area 2 sheets.
    strip = Piece(id="p", length=300, width=600, quantity=8, turn=Turn.FIXED)
    bounds = bounds_of([strip], [sheet("s", 1000, 1000)])
    assert (bounds.sheets, bounds.sheets_kind) == (3, BoundKind.DUAL_FEASIBLE)


def test_a_piece_that_may_lie_flat_does_not_need_a_sheet_of_its_own():
    piece = Piece(id="p", length=900, width=501, quantity=4, turn=Turn.QUARTER)
    assert bounds_of([piece], [sheet("s", 1000, 1000)]).sheets == 4
    # Three lie flat on top of each other.
    assert bounds_of([piece], [sheet("s", 1000, 1900)]).sheets == 2


def test_nothing_to_cut_needs_nothing():
    bounds = bounds_of([], [])
    assert (bounds.sheets, bounds.price, bounds.sheets_kind) == (0, 0, BoundKind.NOTHING)


def test_the_better_of_two_bounds_is_taken_for_each():
    one = LowerBounds(sheets=3, sheets_kind=BoundKind.AREA, price=9, price_kind=BoundKind.BARS)
    other = LowerBounds(
        sheets=4, sheets_kind=BoundKind.PATTERNS, price=8, price_kind=BoundKind.AREA
    )
    merged = better(one, other)
    assert (merged.sheets, merged.sheets_kind) == (4, BoundKind.PATTERNS)
    assert (merged.price, merged.price_kind) == (9, BoundKind.BARS)


@given(instances(), st.data())
@settings(deadline=None, max_examples=60)
def test_removing_a_piece_never_raises_a_bound(instance, data):
    bounds = quick_bounds(problem_of(instance))
    gone = data.draw(st.sampled_from(instance.pieces))
    rest = [piece for piece in instance.pieces if piece is not gone]
    if gone.quantity > 1 and data.draw(st.booleans()):
        rest.append(dataclasses.replace(gone, quantity=gone.quantity - 1))
    fewer = quick_bounds(problem_of(dataclasses.replace(instance, pieces=tuple(rest))))
    assert fewer.sheets <= bounds.sheets
    assert fewer.price <= bounds.price
