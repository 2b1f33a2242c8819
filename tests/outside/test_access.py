"""Pieces in doors, lifts and corridors, against brute force and the textbooks.

The ladder round a corner: (w1^(2/3) + w2^(2/3))^(3/2), an exercise of most calculus textbooks (from
memory). A rectangle in a rectangle: Carver 1957 (from memory), here against turning it by hand.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.findings.access import (
    lies_in,
    longest_in_rectangle_mm,
    longest_round_corner_mm,
    spare_in_door_mm,
    spare_in_lift_mm,
    spare_round_corner_mm,
)

TURNS = np.linspace(0.0, math.pi / 2, 20_001)


def turned_fits(p: float, q: float, a: float, b: float) -> bool:
    """Whether p x q lies in a x b at one of many angles: its bounding box does."""
    along = p * np.cos(TURNS) + q * np.sin(TURNS)
    across = p * np.sin(TURNS) + q * np.cos(TURNS)
    return bool(np.any((along <= a) & (across <= b)))


@given(st.floats(1, 30), st.floats(1, 30), st.floats(1, 30), st.floats(1, 30))
def test_a_rectangle_in_a_rectangle_is_what_turning_finds(p, q, a, b):
    p, q = max(p, q), min(p, q)
    a, b = max(a, b), min(a, b)
    if turned_fits(p * 1.001, q * 1.001, a, b):
        assert lies_in(p, q, a, b)
    if not turned_fits(p * 0.999, q * 0.999, a, b):
        assert not lies_in(p, q, a, b)


def test_a_stick_lies_on_the_diagonal():
    assert longest_in_rectangle_mm(0.0, 30.0, 40.0) == pytest.approx(50.0)
    assert longest_in_rectangle_mm(31.0, 30.0, 40.0) == 0.0


@pytest.mark.parametrize(("one", "other", "longest"), [(1000, 1000, 2828.4), (8, 27, 46.87)])
def test_the_ladder_of_the_textbooks(one, other, longest):
    expected = (one ** (2 / 3) + other ** (2 / 3)) ** 1.5
    assert expected == pytest.approx(longest, abs=0.05)
    assert longest_round_corner_mm(0.0, (one, other)) == pytest.approx(expected, rel=1e-9)


@given(st.floats(500, 3000), st.floats(500, 3000), st.floats(10, 200))
def test_a_thick_piece_is_shorter_and_the_two_corridors_change_places(one, other, thick):
    longest = longest_round_corner_mm(thick, (one, other))
    assert longest < longest_round_corner_mm(0.0, (one, other))
    assert longest == pytest.approx(longest_round_corner_mm(thick, (other, one)), rel=1e-6)
    # No position on the way is tighter: the inner corner against every angle.
    angles = TURNS[1:-1]
    sines, cosines = np.sin(angles), np.cos(angles)
    ways = one / sines + other / cosines - thick / (sines * cosines)
    assert longest == pytest.approx(max(0.0, float(ways.min())), rel=1e-5, abs=1e-3)


def test_a_door_by_hand():
    """A sheet of 2440 x 1220 x 19 through a door of 800 x 2000: on edge, 780 above it."""
    assert spare_in_door_mm((2440.0, 1220.0, 19.0), (800.0, 2000.0)) == pytest.approx(780.0)
    assert spare_in_door_mm((1500.0, 900.0, 850.0), (800.0, 2000.0)) == pytest.approx(-50.0)


def test_a_lift_by_hand():
    """A car of 1100 x 1400 x 2100 (a common size; EN 81-70 asks for it, from memory): a thin board
    1000 wide leans along 1400 x 2100, whose diagonal is 2523.9; one 1300 wide only along 1100 x
    2100, 2370.7.
    """
    car = (1100.0, 1400.0, 2100.0)
    assert spare_in_lift_mm((2400.0, 1000.0, 0.0), car) == pytest.approx(123.9, abs=0.1)
    assert spare_in_lift_mm((2400.0, 1300.0, 0.0), car) == pytest.approx(-29.3, abs=0.1)
    assert spare_in_lift_mm((2000.0, 1200.0, 1050.0), car) >= 100.0, "it stands on its end"
    assert spare_in_lift_mm((3000.0, 2500.0, 1500.0), car) < 0


def test_a_long_board_goes_round_a_corner_on_its_end_where_it_can_stand():
    corner = (900.0, 900.0)
    lying = spare_round_corner_mm((2600.0, 900.0, 19.0), corner, 2000.0)
    standing = spare_round_corner_mm((2600.0, 900.0, 19.0), corner, 2700.0)
    assert lying < 0 < standing
