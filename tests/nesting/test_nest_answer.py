"""Answers: canonical order, merging, counts, cost and yield."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import (
    BoundKind,
    Layout,
    Placement,
    Solution,
    canonical,
    cost,
    layout_yield,
    solution_yield,
)
from tests.nesting.random_nests import one_sheet


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
    rules=SheetRules(trim=0, gap=0),
)
SOLUTION = Solution(
    layouts=(
        one_sheet("big", at(0, 0), at(0, 50), runs=4),
        one_sheet("small", at(0, 0, "b")),
    ),
    lower_bound=3,
    bound_kind=BoundKind.AREA,
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


def test_counts_and_cost():
    assert (SOLUTION.sheets, SOLUTION.distinct, SOLUTION.excess) == (5, 2, 2)
    assert (SOLUTION.sheets_of("big"), SOLUTION.sheets_of("none")) == (4, 0)
    assert SOLUTION.layouts[0].counts() == {"a": 2}
    assert cost(INSTANCE, SOLUTION) == 4 * 7.5 + 2.0


def test_yield_is_piece_area_over_full_sheet_area():
    assert layout_yield(INSTANCE, SOLUTION.layouts[0]) == pytest.approx(10_000 / 100_000)
    assert layout_yield(INSTANCE, SOLUTION.layouts[1]) == pytest.approx(20_000 / 25_000)
    assert solution_yield(INSTANCE, SOLUTION) == pytest.approx(60_000 / 425_000)


def test_yield_of_nothing_is_whole():
    nothing = Solution(layouts=(), lower_bound=0, bound_kind=BoundKind.NOTHING)
    assert solution_yield(INSTANCE, nothing) == 1.0
