"""Prices are sums of decimals: what they are counted in changes nothing."""

import dataclasses
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.solution import Layout, Placement, price_of
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.prices import common_divisor, exact_price, unit_price
from nesting.question.problem import problem_of
from nesting.question.settings import Preference
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.search.draft import Draft, rank
from nesting.search.pattern import Spot, pattern_of
from nesting.solve import solve
from tests.nesting.random_nests import instances
from tests.nesting.small_efforts import AS_FOUND, SmallEffort


def test_the_unit_is_what_all_prices_are_multiples_of():
    assert unit_price([exact_price(49.9), exact_price(35.0)]) == Fraction(1, 10)
    assert unit_price([exact_price(49.99), exact_price(0.0)]) == Fraction(4999, 100)
    assert unit_price([Fraction(0)]) == unit_price([]) == 1


@given(st.fractions(0, 100), st.fractions(0, 100))
def test_both_are_whole_multiples_of_their_divisor(one, other):
    shared = common_divisor(one, other)
    if one or other:
        assert (one / shared).denominator == (other / shared).denominator == 1
    else:
        assert shared == 0


def sheets(price: float) -> Instance:
    return Instance(
        pieces=(Piece(id="a", length=10, width=10, quantity=9, turn=Turn.FIXED),),
        stocks=(
            Stock(id="s", length=10, width=10, price=price, on_hand=None),
            Stock(id="t", length=20, width=10, price=2 * price, on_hand=None),
        ),
        rules=SheetRules(trim=Trim.even(0), gap=0),
    )


@pytest.mark.parametrize("price", [49.9, 0.1, 33.33])
def test_equal_prices_in_other_sheets_are_equal(price):
    """In floats 0.1 + 0.1 + 0.1 is not 3 x 0.1, and 33.33 x 3 not 33.33 + 66.66."""
    problem = problem_of(sheets(price))
    small, large = (
        pattern_of(room, [Spot(0, 10 * n, 0, False) for n in range(room + 1)]) for room in (0, 1)
    )
    one, other = Draft(), Draft()
    one.add(small, 9)
    for pattern, runs in ((large, 4), (small, 1)):
        other.add(pattern, runs)
    assert rank(problem, one).price == rank(problem, other).price
    assert rank(problem, other) < rank(problem, one)  # on fewer sheets
    assert float(rank(problem, one).price * problem.unit) == float(9 * Fraction(str(price)))


def test_a_price_is_the_nearest_float_to_the_sum_of_decimals():
    stocks = sheets(0.1).stocks
    placements = (Placement(piece="a", x=0, y=0, turned=False),)
    layouts = [Layout(stock=name, placements=placements, runs=1) for name in "sst"]
    assert price_of(stocks, layouts) == 0.4
    assert price_of(stocks, [dataclasses.replace(layouts[0], runs=3)]) == 0.3


@given(
    instances(most_item_types=4, most_copies=40),
    st.sampled_from([49.9, 0.07, 33.33]),
    st.sampled_from([0.0, 0.01]),
)
@settings(max_examples=20, phases=AS_FOUND)
def test_what_a_sheet_costs_changes_no_layout_where_there_is_one_size(instance, price, extra):
    """At 49.90 the nest is the one at 1.00: the same layouts, for so many times the money."""

    def nested(at: float):
        stock = dataclasses.replace(instance.stocks[0], price=at)
        return solve(
            dataclasses.replace(instance, stocks=(stock,)),
            effort=SmallEffort.TINY,
            preference=Preference(extra_price=extra),
        )

    plain, priced = nested(1.0), nested(price)
    assert priced.layouts == plain.layouts
    assert Fraction(str(priced.price)) == Fraction(str(price)) * plain.sheets
    assert [c.layouts for c in priced.choices] == [c.layouts for c in plain.choices]
