"""How amounts are told: in the units of a job, as finely as a person can use them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.stock.amounts import (
    DIAMETERS,
    KG_M3,
    KILOGRAMS,
    MM,
    MM3,
    N_M2,
    N_MM,
    N_MM2,
    NEWTONS,
    Amount,
    few_digits,
    force,
    in_words,
    joined,
    length,
)
from parametric.stock.lengths import Units, show_fine_length

UNITS = (MM, NEWTONS, N_MM2, N_M2, N_MM, KILOGRAMS, KG_M3, MM3, DIAMETERS, "rooms")


@pytest.mark.parametrize(
    ("amount", "in_mm", "in_inches"),
    [
        (length(12.7), "12.7 mm", '1/2"'),
        (length(9.0), "9 mm", '11/32"'),
        (length(0.05), "0.05 mm", '0.002"'),
        (length(3.0), "3 mm", '1/8"'),
        (length(1.5), "1.5 mm", '1/16"'),
        (length(0.4), "0.4 mm", '0.016"'),
        (length(-2e-13), "0 mm", '0"'),
        (length(-1e-6), "0 mm", '0"'),
        (length(-12.7), "-12.7 mm", '-1/2"'),
        # 250 lbf by the pound of 0.45359237 kg and standard gravity is 1112.055 N.
        (force(1112.0), "1110 N", "250 lbf"),
        (force(596.8), "597 N", "134 lbf"),
        (force(-0.0), "0 N", "0 lbf"),
        # 1000 psi is 6.8948 N/mm2, 50 lbf/ft2 2394 N/m2, 62.43 lb/ft3 1000 kg/m3 (from memory).
        (Amount(6.8948, N_MM2), "6.89 N/mm2", "1000 psi"),
        (Amount(0.0689, N_MM2), "0.07 N/mm2", "10 psi"),
        (Amount(2394.0, N_M2), "2390 N/m2", "50 lbf/ft2"),
        (Amount(1000.0, KG_M3), "1000 kg/m3", "62.4 lb/ft3"),
        (Amount(28.79, KILOGRAMS), "28.8 kg", "63.5 lb"),
        (Amount(16387.064, MM3), "16400 mm3", "1 in3"),
        (Amount(2.7166, DIAMETERS), "2.7 diameters", "2.7 diameters"),
        (Amount(20.0, "rooms"), "20 rooms", "20 rooms"),
        (Amount(1.0, "rooms"), "1 room", "1 room"),
        (Amount(0.0, "screws"), "0 screws", "0 screws"),
    ],
)
def test_an_amount_in_both_units(amount: Amount, in_mm: str, in_inches: str) -> None:
    assert (amount.shown(Units.MM), amount.shown(Units.INCH)) == (in_mm, in_inches)


def test_what_reads_like_its_limit_and_is_not_says_so() -> None:
    """9 mm and 8.98 mm are both 9 mm to a tenth, 9 and 8.8 both 11/32 in to a thirty-second."""
    assert Amount(8.98, MM, beside=9.0).shown(Units.MM) == "just under 9 mm"
    assert Amount(8.8, MM, beside=9.0).shown(Units.INCH) == 'just under 11/32"'
    assert Amount(1001.4, NEWTONS, beside=1000.0).shown(Units.MM) == "just over 1000 N"
    assert Amount(9.0, MM, beside=9.0).shown(Units.MM) == "9 mm"
    assert Amount(9.0 - 1e-6, MM, beside=9.0).shown(Units.MM) == "9 mm"
    assert Amount(8.0, MM, beside=9.0).shown(Units.MM) == "8 mm"


def test_words_hold_texts_and_amounts() -> None:
    words = ("under ", force(450.0), (", ", joined(" by ", map(length, (100.0, 25.4)))), " in")
    assert in_words(words, Units.MM) == "under 450 N, 100 mm by 25.4 mm in"
    assert in_words(words, Units.INCH) == 'under 101 lbf, 3 15/16" by 1" in'
    assert in_words("as it stands", Units.INCH) == "as it stands"
    assert in_words(joined("; ", ()), Units.MM) == ""


@given(st.floats(-1e6, 1e6), st.integers(0, 3))
def test_few_digits_are_near_and_few(value: float, decimals: int) -> None:
    text = few_digits(value, decimals)
    assert "e" not in text.lower()
    assert text != "-0"
    assert len(text.lstrip("-").replace(".", "").strip("0")) <= 3
    assert abs(float(text) - value) <= max(0.5001 * 10.0**-decimals, abs(value) * 0.00501)


@given(st.floats(-1e5, 1e5), st.sampled_from(UNITS), st.sampled_from(Units))
def test_no_amount_is_minus_nothing(value: float, unit: str, units: Units) -> None:
    shown = Amount(value, unit).shown(units)
    number = shown.split()[0].strip('"')
    assert number not in {"-0", "-0.0", "-0.00", "-0.000"}


@given(st.floats(0.0, 200.0), st.floats(0.0, 200.0), st.sampled_from(Units))
def test_the_longer_never_reads_as_the_shorter(one: float, other: float, units: Units) -> None:
    """So that an amount on the wrong side of its limit never reads as if it were on the right."""
    low, high = sorted((one, other))
    assert read(show_fine_length(low, units)) <= read(show_fine_length(high, units)) + 1e-9


def read(shown: str) -> float:
    """The number that a shown length stands for, in its own unit."""
    total = 0.0
    for part in shown.removesuffix(" mm").strip('"').split():
        above, _, below = part.partition("/")
        total += float(above) / float(below or 1)
    return total
