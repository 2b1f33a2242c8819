"""The dimensions in the pictures of a set, by hand from the example's sizes.

Bench 24 in wide and 44 deep, table 16, bed 60 by 80, gaps of 1/16 between them: 100 1/8 in all.
"""

from types import SimpleNamespace
from typing import Any

import pytest

from casewright.stages.models.model_stage import front_dimensions, plan_dimensions, set_bounds
from parametric.geometry.hand import Hand
from parametric.sets.room_set import build_set
from parametric.stock.lengths import Units
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes


def model(hand: Hand) -> Any:
    """What the dimensions are read from: a set without its solids."""
    room_set = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)
    return SimpleNamespace(room_set=room_set)


@pytest.mark.parametrize("hand", list(Hand))
def test_the_view_from_above(hand: Hand) -> None:
    run, depth = plan_dimensions(set_bounds(model(hand)), Units.INCH)
    assert (run.text, depth.text) == ('100 1/8"', '80"')
    assert (run.offset_mm, depth.offset_mm) == (-140.0, 140.0)  # below, and to the left
    for each, length_in in ((run, 100.125), (depth, 80)):
        apart = sum(abs(b - a) for a, b in zip(each.start, each.end, strict=True))
        assert apart == pytest.approx(length_in * INCH)


@pytest.mark.parametrize("hand", list(Hand))
def test_the_view_from_in_front(hand: Hand) -> None:
    """Widths of the tops of bench, table and bed; heights of decks, table and panel."""
    built = model(hand)
    found = front_dimensions(built, set_bounds(built), Units.INCH)
    assert [each.text for each in found] == ['24"', '16"', '60"', '14"', '24"', '44 1/2"']
    widths, heights = found[:3], found[3:]
    for each, length_in in zip(widths, (24, 16, 60), strict=True):
        assert each.end[0] - each.start[0] == pytest.approx(length_in * INCH)
    # Common practice, no source: 140 mm below the floor and beside the set, then 210 mm more each.
    assert [each.offset_mm for each in found] == [-140.0, -140.0, -140.0, 140.0, 350.0, 560.0]
    for each, height_in in zip(heights, (14, 24, 44.5), strict=True):
        assert (each.start[1], each.end[1]) == (0.0, pytest.approx(height_in * INCH, abs=1e-3))
