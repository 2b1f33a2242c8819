"""Dual-feasible functions: the property that makes them so, and values worked by hand."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nesting.bounds.dual_feasible import (
    counted,
    counting,
    counting_functions,
    dual_feasible_functions,
    rounding,
    threshold,
)


@st.composite
def rows_of_sides(draw):
    """A length, and sides that lie in a row within it."""
    whole = draw(st.integers(2, 60) | st.integers(900, 300_000))
    sides = draw(st.lists(st.integers(1, whole), min_size=1, max_size=7))
    kept = [side for n, side in enumerate(sides) if sum(sides[: n + 1]) <= whole]
    return whole, kept or [whole]


@given(rows_of_sides())
def test_a_row_within_the_length_stays_within_it(row):
    whole, sides = row
    values = dual_feasible_functions(np.array(sides, dtype=np.int64), whole)
    assert (values[:, :-1].sum(axis=1) <= values[:, -1]).all()
    assert (values[:, :-1] >= 0).all()


@given(st.integers(2, 80), st.data())
def test_functions_never_fall_and_are_superadditive(whole, data):
    # So that the value at a smaller room's length limits the rows there.
    values = dual_feasible_functions(np.arange(whole + 1), whole)[:, :-1]
    assert (np.diff(values, axis=1) >= 0).all()
    one = data.draw(st.integers(0, whole))
    other = data.draw(st.integers(0, whole - one))
    assert (values[:, one] + values[:, other] <= values[:, one + other]).all()


@st.composite
def pieces_to_count(draw):
    whole = draw(st.integers(2, 40))
    side = st.integers(1, whole)
    turns = draw(st.lists(st.tuples(side, side), min_size=1, max_size=7))
    return whole, turns, draw(st.randoms(use_true_random=False))


@given(pieces_to_count())
def test_counting_functions_hold_for_the_pieces_that_there_are(question):
    whole, turns, random = question
    sides = np.array(turns, dtype=np.int64)
    values = counting_functions(sides.ravel(), whole, sides, np.ones(len(turns), dtype=np.int64))
    order = random.sample(range(len(turns)), len(turns))
    left, total = whole, np.zeros(len(values), dtype=np.int64)
    for piece in order:
        turn = random.randrange(2)
        if turns[piece][turn] <= left:
            left -= turns[piece][turn]
            total += values[:, 2 * piece + turn]
    assert (total <= values[:, -1]).all()


def test_values_worked_by_hand():
    # In a length of 10: more than 7 leaves no place for a 3; below 3 counts for nothing.
    sides = np.array([2, 3, 7, 8])
    assert threshold(sides, 10, 3).tolist() == [0, 3, 7, 10]
    # k = 2: a third is kept (3 * 10 = 30), just above a third counts a half, in units of 20.
    assert rounding(np.array([10, 11, 15, 20]), 30, 2).tolist() == [20, 30, 30, 40]
    # Units of 4: two fit 10, so the whole is 4; a 7 leaves no place for one, a 5 is the half.
    assert counting(np.array([3, 4, 5, 6, 7, 10]), 10, 4).tolist() == [0, 2, 2, 2, 4, 4]
    # Small pieces 3, 3, 4: three of them fill 10; a 6 leaves place for one, a 7 for one.
    turns, copies = np.array([[3], [4]]), np.array([2, 1])
    assert counted(np.array([3, 4, 6, 7, 10]), 10, 3, turns, copies).tolist() == [1, 1, 2, 2, 3]
