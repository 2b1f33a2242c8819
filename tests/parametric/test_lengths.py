from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.stock.lengths import (
    LENGTH_PATTERN,
    LengthError,
    Rounding,
    Sign,
    Units,
    parse_length,
    show_closely,
    show_cut_length,
    show_diameter,
    show_feed,
    show_length,
    show_way,
    site_length_mm,
    write_length,
)

INCH, MM = Units.INCH, Units.MM


@pytest.mark.parametrize(
    ("text", "units", "inches"),
    [
        ("13 1/4 in", MM, Fraction(53, 4)),
        ('13-1/4"', MM, Fraction(53, 4)),
        ("13.25 in", MM, Fraction(53, 4)),
        ('1/2"', MM, Fraction(1, 2)),
        ("13 1/4", INCH, Fraction(53, 4)),
        ("13.25", INCH, Fraction(53, 4)),
        (13.25, INCH, Fraction(53, 4)),
        (24, INCH, Fraction(24)),
        ("3/4 inch", INCH, Fraction(3, 4)),
        ("  8 inches ", INCH, Fraction(8)),
        (".164", INCH, Fraction(164, 1000)),
        ("5/4 in", INCH, Fraction(5, 4)),
        (0.1, INCH, Fraction(1, 10)),
    ],
)
def test_inches_are_read_exactly(text: str | float, units: Units, inches: Fraction) -> None:
    # 1 in = 25.4 mm exactly: NIST SP 811, appendix B (from memory).
    assert parse_length(text, units) == float(inches * Fraction(254, 10))


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("336.5 mm", INCH, 336.5),
        ("336.5mm", INCH, 336.5),
        ("336.5", MM, 336.5),
        (340, MM, 340.0),
        (0.3, MM, 0.3),
    ],
)
def test_millimetres_are_read_as_they_are(text: str | float, units: Units, mm: float) -> None:
    assert parse_length(text, units) == mm


@pytest.mark.parametrize(
    ("inches", "printed_mm"), [("17 in", 430), ("19 in", 485), ("42 in", 1065), ("48 in", 1220)]
)
def test_published_pairs_of_inches_and_millimetres_agree(inches: str, printed_mm: float) -> None:
    # 2010 ADA Standards 903.5, 903.3 and 308.2.1 print both units, millimetres rounded to 5.
    assert abs(parse_length(inches, INCH) - printed_mm) <= 2.5


@pytest.mark.parametrize(
    "text",
    [
        "", "in", "60 inn", "13 5/4 in", "1/0 in", "1 - 1/2 in", "13,5", "1'6\"", "13 1/4 mm",
        "1e3", "nan", "--3 in", "1234567", "١٣ in", "33.65 cm", "12 mm 3", "1.2.3",
    ],
)  # fmt: skip
@pytest.mark.parametrize("units", list(Units))
def test_what_is_no_length_is_refused(text: str, units: Units) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, units)
    assert caught.value.found == repr(text)
    assert "13 1/4 in" in caught.value.allowed


@pytest.mark.parametrize(
    "number", [float("nan"), float("inf"), float("-inf"), 1e9, 10**400, -(10**400), True, False]
)
def test_numbers_that_measure_nothing_are_refused(number: float) -> None:
    with pytest.raises(LengthError):
        parse_length(number, MM, Sign.ANY)


def test_a_fraction_among_millimetres_must_say_that_it_is_inches() -> None:
    with pytest.raises(LengthError) as caught:
        parse_length("1/2", MM)
    assert caught.value.allowed == "inches marked as such: 1/2 in"


@pytest.mark.parametrize("text", ["-3", '-1/2"', "-0.1 mm", -3, -0.5])
def test_negative_lengths_only_where_they_are_asked_for(text: str | float) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, INCH)
    assert caught.value.found == repr(text)
    assert parse_length(text, INCH, Sign.ANY) < 0


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (336.55, INCH, '13 1/4"'),
        (12.7, INCH, '1/2"'),
        (76.2, INCH, '3"'),
        (0.0, INCH, '0"'),
        (-12.7, INCH, '-1/2"'),
        (-0.1, INCH, '0"'),
        (25.4 * 31 / 32, INCH, '31/32"'),
        (25.003125, INCH, '1"'),  # 63/64: half way goes up
        (336.5, MM, "336.5 mm"),
        (340.0, MM, "340 mm"),
        (336.55, MM, "336.6 mm"),  # half way goes up
        (-0.04, MM, "0 mm"),
        (-5.25, MM, "-5.3 mm"),
        (123456.0, MM, "123456 mm"),
    ],
)
def test_lengths_are_shown_in_the_units_of_the_job(mm: float, units: Units, text: str) -> None:
    assert show_length(mm, units) == text


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        # The floats next below 297.35 and 0.05, as sums of lengths give them.
        (297.34999999999997, MM, "297.4 mm"),
        (0.04999999999999999, MM, "0.1 mm"),
        # 1 1/64 in are 25.796875 mm.
        (25.796875 - 1e-12, INCH, '1 1/32"'),
    ],
)
def test_noise_never_rounds_a_length_down(mm: float, units: Units, text: str) -> None:
    assert show_length(mm, units) == text
    assert show_length(-mm, units) == f"-{text}"


@given(st.integers(-32 * 1000, 32 * 1000))
def test_thirty_seconds_of_an_inch_survive_showing_and_reading(steps: int) -> None:
    mm = float(Fraction(steps, 32) * Fraction(254, 10))
    assert parse_length(show_length(mm, INCH), MM, Sign.ANY) == mm


@given(st.integers(-100_000, 100_000))
def test_tenths_of_a_millimetre_survive_showing_and_reading(tenths: int) -> None:
    mm = float(Fraction(tenths, 10))
    assert parse_length(show_length(mm, MM), INCH, Sign.ANY) == mm


@given(st.floats(-1e5, 1e5), st.sampled_from(Units))
def test_showing_rounds_to_the_nearest_step(mm: float, units: Units) -> None:
    half_step_mm = 0.05 if units is MM else 25.4 / 64
    read = parse_length(show_length(mm, units), units, Sign.ANY)
    assert abs(read - mm) <= half_step_mm + 1e-9


@given(st.from_regex(LENGTH_PATTERN, fullmatch=True), st.sampled_from(Units))
def test_the_published_pattern_and_the_reader_agree(text: str, units: Units) -> None:
    # What the pattern lets through is a length, or one of the three faults it cannot see.
    try:
        mm = parse_length(text, units, Sign.ANY)
    except LengthError:
        above, _, below = text.strip(' "inches-').rpartition("/")
        numerator = above.replace("-", " ").split()[-1]
        unmarked = units is MM and not text.rstrip().endswith(("in", "inch", "inches", '"'))
        assert int(below) == 0 or int(numerator) >= int(below) or unmarked
    else:
        assert (mm < 0) <= text.startswith("-")


LIKES = ("", "13 1/4 in", '13-1/4"', "1/2", "13", "13.25", "13.25 inch", "3in", "336.5 mm", "9mm")


@given(
    st.floats(-25_000, 25_000) | st.integers(-32_000, 32_000).map(lambda steps: steps * 25.4 / 32),
    st.sampled_from(Units),
    st.sampled_from(LIKES),
)
def test_written_lengths_read_back(mm: float, units: Units, like: str) -> None:
    text = write_length(mm, units, like)
    assert parse_length(text, units, Sign.ANY) == pytest.approx(mm, rel=0, abs=6e-7)
    assert write_length(mm, units, text if like else "") == text


@given(st.integers(0, 32_000), st.sampled_from(["13 1/4 in", '3/4"', "13-1/4 inches", "8 in"]))
def test_inches_to_a_thirty_second_are_written_as_fractions(steps: int, like: str) -> None:
    assert "." not in write_length(steps * 25.4 / 32, MM, like)


@pytest.mark.parametrize("mm", [1e6, -1e6, float("inf"), float("nan")])
def test_lengths_out_of_bounds_are_not_written(mm: float) -> None:
    with pytest.raises(LengthError, match="out of all bounds"):
        write_length(mm, MM)


@given(st.floats(0.0, 5000.0), st.sampled_from(Units))
def test_what_is_marked_on_walls_goes_to_the_next_step_either_way(mm: float, units: Units) -> None:
    """A sixteenth is 1.5875 mm; a length on a step but for noise stays there."""
    step = {Units.INCH: 1.5875, Units.MM: 1.0}[units]
    down, near, up = (site_length_mm(mm, units, each) for each in Rounding)
    assert down - 1e-5 <= mm <= up + 1e-5
    assert 0 <= up - down < step + 1e-9
    assert abs(near - mm) <= step / 2 + 1e-5
    for each in (down, near, up):
        assert each / step == pytest.approx(round(each / step), abs=1e-9)
        for rounding in Rounding:
            assert site_length_mm(each + 1e-10, units, rounding) == pytest.approx(each)


@pytest.mark.parametrize(
    ("mm", "units", "told"),
    [
        (2.778125, Units.INCH, '7/64"'),  # 7 x 25.4 / 64, never the nearest 32nd
        (12.7, Units.INCH, '1/2"'),
        (26.19375, Units.INCH, '1 1/32"'),
        (5.0, Units.INCH, "5 mm"),  # 0.16 mm from the nearest 64th, 13/64
        (2.778125, Units.MM, "2.78 mm"),
    ],
)
def test_drills_are_told_as_they_are_sold(mm: float, units: Units, told: str) -> None:
    assert show_diameter(mm, units) == told


def test_what_machines_are_set_to() -> None:
    assert show_closely(9.921875, Units.INCH) == '0.391"'  # 25/64 in is 0.390625
    assert show_closely(9.45, Units.MM) == "9.45 mm"
    assert (show_way(30_480.0, Units.INCH), show_way(30_480.0, Units.MM)) == ("100.0 ft", "30.5 m")
    assert show_feed(6096.0, Units.INCH) == "240 in/min"


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (9.525, Units.INCH, '3/8"'),
        (353.21875, Units.INCH, '13 29/32"'),  # 13 + 29/32 = 13.90625 in
        (404.4, Units.INCH, '15.921"'),  # 404.4 / 25.4 = 15.92126, in 32nds 15 29/32 = 15.906
        (0.0, Units.INCH, '0"'),
        (404.44, Units.MM, "404.4 mm"),
    ],
)
def test_a_cut_size_is_a_fraction_or_thousandths(mm: float, units: Units, text: str) -> None:
    assert show_cut_length(mm, units) == text
