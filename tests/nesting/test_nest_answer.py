"""Answers: canonical order, merging, counts, cost and yield."""

import dataclasses
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.answer.solution import (
    Layout,
    Placement,
    canonical,
    layout_yield,
    price_of,
    solution_yield,
)
from nesting.question.instance import Instance, Piece, Stock, StockKind, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from tests.nesting.random_nests import answer_of, one_sheet


def at(x: int, y: int, piece: str = "a") -> Placement:
    return Placement(piece=piece, x=x, y=y, turned=False)


INSTANCE = Instance(
    pieces=(
        Piece(id="a", length=100, width=50, quantity=8, turn=Turn.FIXED),
        Piece(id="b", length=200, width=100, quantity=1, turn=Turn.FIXED),
    ),
    stocks=(
        Stock(id="big", length=500, width=200, price=7.5, on_hand=None),
        Stock(id="small", length=250, width=100, price=2.0, on_hand=None),
    ),
    rules=SheetRules(trim=Trim.even(0), gap=0),
)
SOLUTION = answer_of(
    INSTANCE,
    one_sheet("big", at(0, 0), at(0, 50), runs=4),
    one_sheet("small", at(0, 0, "b")),
    lower_bound=3,
    price_bound=24.0,
)


def test_identical_layouts_become_one_with_a_run_count():
    twice = [one_sheet("s", at(0, 0), at(9, 0), runs=2), one_sheet("s", at(9, 0), at(0, 0))]
    assert canonical(twice) == (one_sheet("s", at(0, 0), at(9, 0), runs=3),)


def test_the_same_arrangement_on_another_stock_stays_apart():
    assert len(canonical([one_sheet("s", at(0, 0)), one_sheet("t", at(0, 0))])) == 2


@given(st.permutations([at(0, 0), at(0, 5), at(5, 0, "b"), at(5, 5)]))
def test_order_of_placements_does_not_matter(placements):
    (layout,) = canonical([Layout(stock="s", placements=tuple(placements), runs=1)])
    assert layout.placements == (at(0, 0), at(0, 5), at(5, 0, "b"), at(5, 5))


def test_order_of_layouts_does_not_matter():
    layouts = [
        one_sheet("s", at(0, 0), runs=5),
        one_sheet("s", at(0, 1), runs=2),
        one_sheet("s", at(0, 2), runs=2),
        one_sheet("t", at(0, 0), runs=9),
    ]
    for mixed in permutations(layouts):
        assert canonical(mixed) == tuple(layouts)


def test_counts_and_price():
    assert (SOLUTION.sheets, SOLUTION.distinct, SOLUTION.excess) == (5, 2, 2)
    assert (SOLUTION.sheets_of("big"), SOLUTION.sheets_of("none")) == (4, 0)
    assert SOLUTION.layouts[0].counts() == {"a": 2}
    assert SOLUTION.price == 4 * 7.5 + 2.0
    assert SOLUTION.gap == pytest.approx((32.0 - 24.0) / 32.0)


def test_remnants_cost_nothing_more():
    kept = dataclasses.replace(INSTANCE.stocks[0], kind=StockKind.REMNANT)
    assert price_of((kept, INSTANCE.stocks[1]), SOLUTION.layouts) == 2.0
    assert answer_of(INSTANCE).gap == 0.0


def test_yield_is_piece_area_over_full_sheet_area():
    assert layout_yield(INSTANCE, SOLUTION.layouts[0]) == pytest.approx(10_000 / 100_000)
    assert layout_yield(INSTANCE, SOLUTION.layouts[1]) == pytest.approx(20_000 / 25_000)
    assert solution_yield(INSTANCE, SOLUTION) == pytest.approx(60_000 / 425_000)


def test_yield_of_nothing_is_whole():
    assert solution_yield(INSTANCE, answer_of(INSTANCE)) == 1.0
