"""Scales of drawings against ISO 5455 and the scales of drawings in feet and inches."""

from fractions import Fraction

import pytest

from export.dimensions.scales import scales_of, told_scale
from parametric.stock.lengths import Units
from tests.export.test_part_drawings import SAMPLES, drawing_of

ISO_5455 = [1, 2, 5, 10, 20, 50, 100]
"""ISO 5455, table of recommended scales: reductions up to 1 : 100. Others may be chosen where these
cannot be applied."""

INCHES_FOR_A_FOOT = [Fraction(n) for n in ("3", "3/2", "1", "3/4", "1/2", "1/4", "1/8")]
"""On every triangular rule for buildings; from memory."""


def test_scales_of_millimetres_are_those_of_iso_5455() -> None:
    scales = scales_of(Units.MM)
    assert set(ISO_5455) <= set(scales)
    assert list(scales) == sorted(set(scales))
    others = [scale for scale in scales if scale not in ISO_5455]
    assert all(min(iso for iso in ISO_5455 if iso > scale) >= 1.3 * scale for scale in others)


def test_scales_of_inches_are_those_of_rules() -> None:
    scales = scales_of(Units.INCH)
    assert list(scales) == [1, 2, *(12 / inches for inches in INCHES_FOR_A_FOOT)]
    assert told_scale(16, Units.INCH) == '1 : 16, 3/4" = 1\'-0"'
    assert told_scale(96, Units.INCH) == '1 : 96, 1/8" = 1\'-0"'
    assert told_scale(16, Units.MM) == "1 : 16"


@pytest.mark.parametrize("units", Units)
def test_parts_are_drawn_at_a_scale_of_their_units(units: Units) -> None:
    for panel in SAMPLES.values():
        assert drawing_of(panel, units).scale in scales_of(units)
