"""Lower bounds by hand-worked cases and by properties."""

import dataclasses

import pytest
from hypothesis import given, settings

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.lower_bounds import area_bound, large_piece_bound, price_bound, sheets_bound
from nesting.solution import BoundKind
from tests.nesting.random_nests import instances


def square(quantity: int, side: int = 100) -> Piece:
    name = f"square {side}"
    return Piece(id=name, length=side, width=side, quantity=quantity, turn=Turn.FIXED)


def sheet(name: str, length: int, width: int, **changes) -> Stock:
    stock = Stock(id=name, length=length, width=width, price=1.0, on_hand=None)
    return dataclasses.replace(stock, **changes)


def ask(pieces, stocks, trim=0, gap=0) -> Instance:
    rules = SheetRules(trim=trim, gap=gap)
    return Instance(pieces=tuple(pieces), stocks=tuple(stocks), rules=rules)


def test_pieces_that_fill_sheets_exactly_with_gap_and_trim():
    # 3 x 2 squares of 100 with a gap of 10 need 320 x 210 inside a trim of 5.
    instance = ask([square(12)], [sheet("s", 330, 220)], trim=5, gap=10)
    assert area_bound(instance) == 2
    assert area_bound(ask([square(13)], [sheet("s", 330, 220)], trim=5, gap=10)) == 3


def test_largest_sheets_are_taken_first_as_far_as_on_hand():
    stocks = [sheet("small", 200, 100), sheet("large", 500, 200, on_hand=2)]
    assert area_bound(ask([square(20)], stocks)) == 2
    assert area_bound(ask([square(23)], stocks)) == 4


def test_too_little_area_is_told_apart():
    instance = ask([square(21)], [sheet("large", 500, 200, on_hand=2)])
    assert area_bound(instance) is None
    assert sheets_bound(instance) is None
    assert price_bound(instance) is None


def test_price_bound_buys_the_cheapest_area_first():
    stocks = [sheet("dear", 200, 100, price=3.0), sheet("cheap", 500, 200, price=5.0, on_hand=2)]
    assert price_bound(ask([square(10)], stocks)) == pytest.approx(5.0)
    assert price_bound(ask([square(24)], stocks)) == pytest.approx(10.0 + 2 * 3.0)


def test_pieces_over_half_a_sheet_each_way_need_a_sheet_each():
    instance = ask([square(7, side=501)], [sheet("s", 1000, 1000)])
    bound = sheets_bound(instance)
    assert (bound.sheets, bound.kind) == (7, BoundKind.LARGE_PIECES)
    assert large_piece_bound(ask([square(7, side=500)], [sheet("s", 1000, 1000)])) == 0


def test_a_piece_that_may_lie_flat_does_not_need_a_sheet_of_its_own():
    piece = Piece(id="p", length=900, width=501, quantity=4, turn=Turn.QUARTER)
    assert large_piece_bound(ask([piece], [sheet("s", 1000, 1000)])) == 4
    assert large_piece_bound(ask([piece], [sheet("s", 1000, 1900)])) == 0


def test_nothing_to_cut_needs_nothing():
    bound = sheets_bound(ask([], []))
    assert (bound.sheets, bound.kind) == (0, BoundKind.NOTHING)


@given(instances())
@settings(deadline=None)
def test_removing_a_piece_never_raises_a_bound(instance):
    bound, price = sheets_bound(instance), price_bound(instance)
    for gone in instance.pieces:
        rest = tuple(piece for piece in instance.pieces if piece is not gone)
        fewer = dataclasses.replace(instance, pieces=rest)
        assert sheets_bound(fewer).sheets <= bound.sheets
        assert price_bound(fewer) <= price * (1 + 1e-12)
