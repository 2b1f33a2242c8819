"""Answers from layouts that are known: exact, bounded, and no worse than these layouts repeated."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.patterns.known_layouts import from_known
from nesting.question.errors import NotEnoughStock, PieceTooBig
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.solve import solve
from tests.nesting.exhaustive_nest import least_cost
from tests.nesting.random_nests import assert_exact, instances
from tests.nesting.small_efforts import AS_FOUND, SmallEffort
from tests.nesting.test_against_exhaustive_search import tiny

SIZES = ((78, 31, 9), (52, 40, 12), (61, 17, 21), (33, 23, 8))


def question(times: int = 1, on_hand: int | None = None) -> Instance:
    pieces = tuple(
        Piece(id=str(n), length=length, width=width, quantity=count * times, turn=Turn.QUARTER)
        for n, (length, width, count) in enumerate(SIZES)
    )
    stocks = (
        Stock(id="small", length=122, width=61, price=20.5, on_hand=on_hand),
        Stock(id="large", length=155, width=76, price=33.4, on_hand=on_hand),
    )
    return Instance(pieces=pieces, stocks=stocks, rules=SheetRules(trim=Trim.even(1), gap=1))


@settings(phases=AS_FOUND, max_examples=60)
@given(asked=instances(), numbers=st.lists(st.integers(1, 30), min_size=8, max_size=8))
def test_any_numbers_of_the_pieces_are_answered_exactly(
    asked: Instance, numbers: list[int]
) -> None:
    known = solve(asked, effort=SmallEffort.TINY).layouts  # type: ignore[arg-type]
    pieces = tuple(
        replace(piece, quantity=count) for piece, count in zip(asked.pieces, numbers, strict=False)
    )
    again = replace(asked, pieces=pieces)
    answer = from_known(again, known)
    assert_exact(again, answer)
    assert answer.price_bound <= answer.price
    assert answer == from_known(again, known)


@pytest.mark.parametrize("times", [2, 7, 40])
def test_so_many_times_the_pieces_cost_no_more_than_the_layouts_so_many_times(times: int) -> None:
    once = solve(question(), effort=Effort.QUICK)
    answer = from_known(question(times), once.layouts)
    assert answer.price <= times * once.price + 1e-6
    assert_exact(question(times), answer)


def test_fewer_pieces_cost_no_more_than_all() -> None:
    all_of_them = solve(question(5), effort=Effort.QUICK)
    some = question(4)
    pieces = (some.pieces[0], *some.pieces[2:])  # a piece that the layouts know is not asked for
    fewer = from_known(replace(some, pieces=pieces), all_of_them.layouts)
    assert fewer.price <= all_of_them.price


@pytest.mark.parametrize("seed", range(40))
def test_the_bound_is_below_the_best_answer_there_is_and_the_price_is_not(seed: int) -> None:
    """Against trying everything."""
    asked = tiny(seed, None)
    if not asked.pieces:
        return
    answer = from_known(asked, ())
    least = least_cost(asked, {stock.id: stock.price_to_pay for stock in asked.stocks})
    assert answer.price_bound <= least + 1e-6
    assert answer.price >= least - 1e-6


def test_stock_of_which_there_is_too_little_and_parts_too_large_are_told() -> None:
    known = solve(question(), effort=Effort.QUICK).layouts
    with pytest.raises(NotEnoughStock):
        from_known(question(9, on_hand=2), known)
    large = replace(question().pieces[0], length=500)
    with pytest.raises(PieceTooBig) as caught:
        from_known(replace(question(), pieces=(large,)), known)
    assert [each.piece for each in caught.value.pieces] == ["0"]
