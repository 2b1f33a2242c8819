"""How deviations add up."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.stock.tolerances import Contribution, Tolerance, stack


def contribution(what: str, plus_minus_mm: float | None, times: float = 1.0) -> Contribution:
    known = None if plus_minus_mm is None else Tolerance(plus_minus_mm=plus_minus_mm, source="test")
    return Contribution(what=what, tolerance=known, times=times)


def of(*plus_minus_mm: float) -> list[Contribution]:
    return [contribution(str(at), value) for at, value in enumerate(plus_minus_mm)]


def test_the_root_sum_square_is_that_of_the_published_end_gauge():
    """JCGM 100:2008, H.1.4, from memory: 25, 9.7, 2.9 and 16.6 nm make 1 002 nm² with the figures
    before rounding, 32 nm.
    """
    found = stack(100.0, of(25.0, 9.7, 2.9, 16.6))
    assert round(found.root_sum_square_mm) == 32
    assert found.root_sum_square_mm**2 == pytest.approx(1002, abs=2)
    assert found.worst_case_mm == pytest.approx(54.2)  # by hand


def test_it_is_the_spread_that_random_sets_show():
    """A hundred thousand sets drawn with numpy, each tolerance three standard deviations."""
    tolerances, times = np.array([1.0, 0.3, 0.2, 0.2]), np.array([1.0, 0.5, 2.0, 1.0])
    drawn = np.random.default_rng(31).normal(0.0, tolerances / 3, size=(100_000, 4)) @ times
    found = stack(
        0.0,
        [
            contribution(str(at), float(size), float(count))
            for at, (size, count) in enumerate(zip(tolerances, times, strict=True))
        ],
    )
    assert found.root_sum_square_mm == pytest.approx(3 * float(drawn.std()), rel=0.01)


def test_one_roll_of_band_counts_as_often_as_it_is_met():
    """By hand: 3 x 0.1 and 0.4 make 0.5; three independent bands would make 0.436."""
    band = contribution("band", 0.1)
    found = stack(2.0, (band, contribution("deck", 0.4), band, band))
    assert [each.times for each in found.contributions] == [3.0, 1.0]
    assert found.root_sum_square_mm == pytest.approx(0.5)
    assert found.worst_case_mm == pytest.approx(0.7)
    assert found.largest.what == "deck"


def test_what_is_not_known_is_told_and_not_taken_for_nothing():
    found = stack(2.0, (contribution("band", None), contribution("deck", 0.4)))
    assert found.unknown == ("band",)
    assert stack(2.0, of(0.4)).unknown == ()


@given(st.lists(st.floats(0.0, 5.0), min_size=1, max_size=12))
def test_the_worst_case_is_never_below_the_root_sum_square(sizes: list[float]):
    """And never above it by more than the root of the number of contributions (Cauchy-Schwarz)."""
    found = stack(0.0, of(*sizes))
    likely = found.root_sum_square_mm
    assert likely <= found.worst_case_mm * (1 + 1e-12)
    assert found.worst_case_mm <= math.sqrt(len(sizes)) * likely * (1 + 1e-12)
