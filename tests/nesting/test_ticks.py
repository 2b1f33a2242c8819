"""Rounding always goes the safe way: pieces and gaps never shrink, sheets never grow."""

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.ticks import TICK_MM, gap_ticks, piece_ticks, sheet_ticks, to_mm

HUNDREDTH = Decimal("0.01")


@pytest.mark.parametrize("convert", [piece_ticks, sheet_ticks, gap_ticks])
def test_whole_hundredths_are_exact(convert):
    for ticks in range(0, 400_000, 7):
        assert convert(ticks * TICK_MM) == ticks


def test_float_noise_is_not_length():
    assert piece_ticks(0.1 + 0.2) == 30
    assert piece_ticks(400.0000001) == 40_000
    assert sheet_ticks(399.9999999) == 40_000


# The inch is exactly 25.4 mm (international yard and pound agreement of 1959).
@given(st.integers(1, 3200))
def test_inch_fractions_round_as_exact_decimals_do(thirty_seconds):
    exact = Decimal(thirty_seconds) * Decimal("25.4") / 32
    up = int((exact / HUNDREDTH).to_integral_value(ROUND_CEILING))
    down = int((exact / HUNDREDTH).to_integral_value(ROUND_FLOOR))
    assert piece_ticks(thirty_seconds * 25.4 / 32) == up
    assert gap_ticks(thirty_seconds * 25.4 / 32) == up
    assert sheet_ticks(thirty_seconds * 25.4 / 32) == down


@given(st.floats(0, 1e5))
def test_what_fits_in_ticks_fits_in_millimetres(mm):
    assert to_mm(piece_ticks(mm)) >= mm - 2e-6
    assert to_mm(sheet_ticks(mm)) <= mm + 2e-6
    assert sheet_ticks(mm) <= piece_ticks(mm) <= sheet_ticks(mm) + 1


@pytest.mark.parametrize("convert", [piece_ticks, sheet_ticks, gap_ticks])
@pytest.mark.parametrize("mm", [math.nan, math.inf, -math.inf])
def test_lengths_must_be_finite(convert, mm):
    with pytest.raises(ValueError, match="finite"):
        convert(mm)
