"""Lengths against exact arithmetic: NIST SP 811 (2008), appendix B: 1 inch = 25.4 mm exactly."""

from fractions import Fraction

import pytest
from ruamel.yaml import YAML

from casewright.job import Job
from parametric.sets.composition import sizes_in
from parametric.stock.lengths import Units, parse_length, show_length
from tests.outside.built_demo import CENTRE, CONFIGS

INCH_MM = Fraction(254, 10)
SIXTY_FOURTHS = range(20 * 64 + 1)


def mixed(value: Fraction, between: str) -> str:
    """The number as a person writes it: whole and fraction in lowest terms."""
    whole, part = divmod(value, 1)
    if not part:
        return f"{whole}"
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{whole}{between}{fraction}" if whole else fraction


@pytest.mark.parametrize("unit", [" in", '"', " inch"])
@pytest.mark.parametrize("between", [" ", "-"])
def test_every_64th_is_read_exactly(unit: str, between: str) -> None:
    for count in SIXTY_FOURTHS:
        value = Fraction(count, 64)
        text = mixed(value, between) + unit
        assert parse_length(text, Units.MM) == float(value * INCH_MM), text


def test_bare_fractions_count_in_inches_of_an_inch_job() -> None:
    for count in SIXTY_FOURTHS:
        value = Fraction(count, 64)
        assert parse_length(mixed(value, " "), Units.INCH) == float(value * INCH_MM)


def test_decimals_of_every_64th_are_the_same_length() -> None:
    # n/64 has at most six decimals, so writing it as a decimal loses nothing.
    for count in SIXTY_FOURTHS:
        value = Fraction(count, 64)
        assert parse_length(f"{count / 64:.6f} in", Units.MM) == float(value * INCH_MM)


def test_shown_inches_are_the_nearest_32nd_in_lowest_terms() -> None:
    for tenths in range(0, 5000, 7):
        mm = Fraction(tenths, 10)
        shown = show_length(float(mm), Units.INCH).removesuffix('"').split()
        value = sum((Fraction(word) for word in shown), Fraction(0))
        assert abs(value - mm / INCH_MM) <= Fraction(1, 64)
        assert value.denominator in (1, 2, 4, 8, 16, 32)
        assert mixed(value, " ").split() == shown


@pytest.mark.parametrize(
    ("path", "inches"),
    [
        (("base_height",), Fraction(53, 4)),
        (("butt_gap",), Fraction(1, 16)),
        (("head_wall", "bed", "wall_clearance"), Fraction(5, 8)),
        (("head_wall", "bedside table", "height"), Fraction(43, 4)),
        (("head_wall", "bed", "deck_length"), Fraction(81)),
    ],
)
def test_the_demo_is_read_as_it_is_written(
    jobs: dict[str, Job], path: tuple[str, ...], inches: Fraction
) -> None:
    """The fraction stands in the file, and its exact length in the job."""
    written = YAML(typ="safe").load((CONFIGS / f"{CENTRE}.yaml").read_text(encoding="utf-8"))
    entry = written["sets"]["twin"]
    for key in path:
        entry = entry[key]
    text = str(entry).removesuffix(" in")
    assert sum((Fraction(word) for word in text.split()), Fraction(0)) == inches
    (twin,) = [sizes for sizes in jobs[CENTRE].sets if sizes.name == "twin"]
    (size,) = [each for each in sizes_in(twin) if each.keys == path]
    assert size.value == float(inches * INCH_MM)
