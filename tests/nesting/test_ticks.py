"""Lengths on the grids of 0.01 mm and 1/64 in are exact; others round the safe way.

A gap and a piece never shrink, a sheet never grows.
"""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.question.ticks import (
    TICKS_PER_MM,
    Grid,
    gap_ticks,
    piece_ticks,
    sheet_ticks,
    to_m2,
    to_mm,
)

CONVERSIONS = pytest.mark.parametrize("convert", [piece_ticks, sheet_ticks, gap_ticks])
MM_PER_INCH = Fraction(254, 10)  # international yard and pound agreement of 1959


@CONVERSIONS
def test_whole_hundredths_of_a_millimetre_are_exact(convert):
    for hundredths in range(0, 400_000, 7):
        assert convert(hundredths / 100) == convert(Fraction(hundredths, 100)) == hundredths * 16


@CONVERSIONS
def test_whole_sixty_fourths_of_an_inch_are_exact(convert):
    for parts in range(0, 64 * 1000, 7):
        exact_mm = Fraction(parts, 64) * MM_PER_INCH
        assert convert(exact_mm) == convert(float(exact_mm)) == parts * 635


def test_float_noise_is_not_length():
    assert piece_ticks(0.1 + 0.2) == 480
    assert piece_ticks(400.0000001) == 640_000
    assert sheet_ticks(399.9999999) == 640_000


def test_the_noise_of_floats_is_none_in_a_fraction():
    assert piece_ticks(400 + Fraction(1, 10**9)) == 640_001
    assert sheet_ticks(400 - Fraction(1, 10**9)) == 639_999


@given(st.fractions(0, 10**5))
def test_fractions_round_as_exact_numbers_do(mm):
    assert Fraction(piece_ticks(mm) - 1, TICKS_PER_MM) < mm <= Fraction(piece_ticks(mm), 1600)
    assert Fraction(sheet_ticks(mm), TICKS_PER_MM) <= mm < Fraction(sheet_ticks(mm) + 1, 1600)
    assert gap_ticks(mm) == piece_ticks(mm)


@given(st.floats(0, 1e5))
def test_what_fits_in_ticks_fits_in_millimetres(mm):
    assert to_mm(piece_ticks(mm)) >= mm - 2e-6
    assert to_mm(sheet_ticks(mm)) <= mm + 2e-6
    assert sheet_ticks(mm) <= piece_ticks(mm) <= sheet_ticks(mm) + 1


@CONVERSIONS
@pytest.mark.parametrize("mm", [math.nan, math.inf, -math.inf])
def test_lengths_must_be_finite(convert, mm):
    with pytest.raises(ValueError, match="finite"):
        convert(mm)


def test_what_was_rounded_most_is_kept():
    grid = Grid()
    assert (grid.piece(12.7), grid.sheet(Fraction(1, 64) * MM_PER_INCH), grid.gap(0.01)) == (
        20320,
        635,
        16,
    )
    assert grid.rounded_mm == 0.0
    grid.piece(Fraction(1, 3))  # 533 1/3 ticks: up by 2/3 of one
    grid.sheet(Fraction(1, 128) * MM_PER_INCH)  # 317 1/2 ticks: down by half a one
    assert grid.rounded_mm == pytest.approx(2 / 3 / 1600, rel=1e-12)


def test_square_metres():
    assert to_m2(piece_ticks(2440) * piece_ticks(1220)) == pytest.approx(2.9768, rel=1e-12)
