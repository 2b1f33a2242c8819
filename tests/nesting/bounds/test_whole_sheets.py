"""The cheapest whole sheets that hold all needs, against trying every number of each."""

import dataclasses
from fractions import Fraction
from itertools import product
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.answer.solution import BoundKind, StopReason
from nesting.bounds import whole_sheets
from nesting.bounds.certificate import Certificate
from nesting.bounds.whole_sheets import Need, least_whole, needs_of
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.solve import solve
from tests.nesting.bounds.bare_room import room

RULES = SheetRules(trim=Trim.even(0), gap=0)
MOST = 6
"""Sheets on hand at most, so that every number of them can be tried."""


@st.composite
def questions(draw):
    """Needs, prices and numbers on hand of one to three rooms."""
    item_types = draw(st.integers(1, 3))

    def each(values):
        return draw(st.tuples(*[values] * item_types))

    needs = [
        Need(draw(st.integers(1, 60)), each(st.integers(0, 12)))
        for _ in range(draw(st.integers(1, 4)))
    ]
    return needs, each(st.sampled_from([0, 1, 3, 7, 10])), each(st.integers(0, MOST))


def cheapest_tried(needs, prices, on_hand) -> float:
    costs = (
        sum(count * price for count, price in zip(counts, prices, strict=True))
        for counts in product(*(range(most + 1) for most in on_hand))
        if all(need.held_by(counts) for need in needs)
    )
    return min(costs, default=inf)


def proven(needs, prices, on_hand) -> float:
    rooms = [dataclasses.replace(room(100, 100), on_hand=most) for most in on_hand]
    cost = least_whole(needs, [Fraction(price, 4) for price in prices], rooms)
    return inf if cost is None else float(4 * cost)


@given(questions())
def test_the_least_is_what_trying_every_number_finds(question):
    assert proven(*question) == cheapest_tried(*question)


@given(questions(), st.integers(0, 40))
def test_a_search_that_ends_before_is_never_above(question, sums):
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(whole_sheets, "MOST_SUMS", sums)
        assert proven(*question) <= cheapest_tried(*question)


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9), st.integers(0, 9)), max_size=6))
def test_what_others_imply_is_left_out_and_nothing_else(rows):
    certificates = [Certificate(dual_values=(total,), most=(a, b)) for total, a, b in rows]
    kept = needs_of(certificates, (1,))
    for counts in product(range(11), repeat=2):
        every = all(a * counts[0] + b * counts[1] >= total for total, a, b in rows)
        assert all(need.held_by(counts) for need in kept) == every


def test_fractions_that_no_whole_sheets_come_to():
    # Sheets at 30 and 9 that hold 10 and 3. Fractions that hold 78 cost 234 at least, and 6 and 6
    # whole ones do.
    rooms = [room(100, 100), room(100, 100)]
    costs = [Fraction(30), Fraction(9)]
    assert least_whole([Need(78, (10, 3))], costs, rooms) == 234
    # With 2 small ones on hand, 7 and 2 hold 76 only, and 8 large ones are needed.
    limited = [rooms[0], dataclasses.replace(rooms[1], on_hand=2)]
    assert least_whole([Need(78, (10, 3))], costs, limited) == 240
    # Where one piece fits the large sheet only, it takes one whole.
    assert least_whole([Need(3, (10, 3)), Need(1, (4, 0))], costs, rooms) == 30


def test_a_piece_that_fits_the_dear_sheet_only_proves_a_whole_one():
    # One strip of 2000 and 60 squares of 200 x 200: the strip's sheet of 2000 x 400 takes 10 of the
    # squares beside it, and the others fill two of the small sheets.
    pieces = (
        Piece(id="strip", length=2000, width=200, quantity=1, turn=Turn.FIXED),
        Piece(id="square", length=200, width=200, quantity=60, turn=Turn.FIXED),
    )
    stocks = (
        Stock(id="long", length=2000, width=400, price=50.0, on_hand=None),
        Stock(id="short", length=1000, width=1000, price=8.0, on_hand=None),
    )
    answer = solve(Instance(pieces=pieces, stocks=stocks, rules=RULES), effort=Effort.QUICK)
    assert answer.price == pytest.approx(50 + 2 * 8)
    assert answer.price_bound == pytest.approx(50 + 2 * 8)
    assert answer.price_bound_kind is BoundKind.WHOLE_SHEETS
    assert answer.stop is StopReason.PROVEN
