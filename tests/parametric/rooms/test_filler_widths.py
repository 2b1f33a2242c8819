"""Widths of deck for one room, held against the set built with them and `fit_room`.

The example set is 24 + 16 + 60 in wide with two butt gaps of 1/16; its bench stands on a box of
16 x 36 in, 44 in deep at its deck. Limits are common practice, no source.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric.geometry.hand import Hand
from parametric.rooms.filler_widths import (
    NOT_MEASURED,
    STEP_MM,
    LeftOut,
    SizedRoom,
    room_widths,
)
from parametric.rooms.fit import AT_FLOOR, fit_room
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.sets.room_set import RoomSet, build_set
from parametric.stock.lengths import Units
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes

FITTING = Fitting(least_gap_mm=3.0, most_filler_mm=50.0, most_scribe_mm=20.0)
DECK_MM = 24 * INCH
RUN_MM = (24 + 16 + 60 + 2 / 16) * INCH
BUILDABLE_MM = (400.0, 1500.0)


def example(hand: Hand, deck_mm: float = DECK_MM) -> RoomSet:
    sizes = set_sizes()
    assert sizes.bench is not None
    sizes = replace(sizes, bench=replace(sizes.bench, deck_width_mm=deck_mm))
    return build_set(sizes, hand, CONSTRUCTION, ROUTING, TRIM_MM)


SETS = {hand: example(hand) for hand in Hand}


def widths(
    measured: Measured,
    hand: Hand = Hand.RIGHT,
    units: Units = Units.MM,
    buildable_mm: tuple[float, float] = BUILDABLE_MM,
) -> SizedRoom | LeftOut:
    return room_widths("31", SETS[hand], measured, buildable_mm, FITTING, units)


def why_left_out(measured: Measured, **others: tuple[float, float]) -> str:
    found = widths(measured, **others)
    assert isinstance(found, LeftOut)
    assert found.room == "31"
    return found.why


def test_by_hand():
    """100 mm beyond a deck of 609.6: 709.6 leaves nothing, 706.6 the least, 659.6 a full filler."""
    found = widths(Measured(opening_at_seat_mm=RUN_MM + 100.0))
    assert isinstance(found, SizedRoom)
    ends = (found.exact.least_mm, found.exact.most_mm, found.exact.flush_mm)
    assert ends == pytest.approx((659.6, 706.6, 709.6))
    assert (found.stepped.least_mm, found.stepped.most_mm) == (660.0, 706.0)
    assert found.stepped.flush_mm == found.exact.flush_mm


def test_inches_go_by_what_papers_show():
    """Shown to 1/32; 25 31/32 is the last one below 26 less a least gap of 3 mm."""
    found = widths(Measured(opening_at_seat_mm=RUN_MM + 2 * INCH), units=Units.INCH)
    assert isinstance(found, SizedRoom)
    assert found.stepped.most_mm == pytest.approx((26 - 4 / 32) * INCH)
    assert 26 * INCH - found.stepped.most_mm >= FITTING.least_gap_mm
    assert 26 * INCH - found.stepped.most_mm - INCH / 32 < FITTING.least_gap_mm


def test_the_tightest_opening_lets_it_in_and_the_widest_at_seat_or_panel_takes_the_filler():
    measured = Measured(opening_at_seat_mm=RUN_MM + 60.0, opening_at_panel_mm=RUN_MM + 40.0)
    found = widths(measured)
    assert isinstance(found, SizedRoom)
    assert found.exact.most_mm == pytest.approx(DECK_MM + 40.0 - 3.0)
    assert found.exact.flush_mm == pytest.approx(DECK_MM + 60.0)


def test_at_the_floor_bases_only_have_to_go_in():
    """They stand 8 in back under the deck: a gap that no filler closes."""
    base_mm = RUN_MM - 8 * INCH
    seat = RUN_MM + 60.0
    wide = widths(Measured(opening_at_floor_mm=seat, opening_at_seat_mm=seat))
    assert wide == widths(Measured(opening_at_seat_mm=seat))
    tight = widths(Measured(opening_at_floor_mm=base_mm + 20.0, opening_at_seat_mm=seat))
    assert isinstance(tight, SizedRoom)
    assert tight.exact.most_mm == pytest.approx(DECK_MM + 20.0 - 3.0)
    assert tight.exact.flush_mm == pytest.approx(DECK_MM + 60.0)


def test_a_room_that_nobody_has_measured_is_left_out():
    assert why_left_out(Measured()) == NOT_MEASURED
    assert why_left_out(Measured(opening_at_floor_mm=RUN_MM)) == NOT_MEASURED


def test_what_no_width_puts_right_is_left_out():
    """Of 44 in, 20 thousandths are 22.4 mm."""
    seat = RUN_MM + 30.0
    leaning = Measured(opening_at_seat_mm=seat, corner_out_of_square_per_1000=20.0)
    assert "wedge of 22.4 mm" in why_left_out(leaning)
    fallen = Measured(opening_at_seat_mm=seat, floor_high_mm=10.0, floor_low_mm=-10.0)
    assert "floor falls by 20 mm" in why_left_out(fallen)


def test_openings_too_different_for_a_filler_are_left_out():
    """Between 40 and 3 mm less than the narrow one there is nothing that leaves 50 of the wide."""
    measured = Measured(opening_at_seat_mm=RUN_MM + 100.4, opening_at_panel_mm=RUN_MM + 40.4)
    assert why_left_out(measured) == (
        "a deck of more than 647 mm does not go in and one of less than 660 mm leaves too much;"
        " decks go by steps of 1 mm"
    )


def test_a_set_that_cannot_be_built_so_wide_is_left_out():
    measured = Measured(opening_at_seat_mm=RUN_MM + 100.4)
    assert why_left_out(measured, buildable_mm=(400.0, 650.0)) == (
        "asks for a deck of 660 mm to 707 mm; the set can be built with 400 mm to 650 mm"
    )


def test_widths_stay_within_what_can_be_built():
    """180 mm less than the set is wide: 379.6 to 426.6 would fill it."""
    found = widths(Measured(opening_at_seat_mm=RUN_MM - 180.0), buildable_mm=(400.0, 420.0))
    assert isinstance(found, SizedRoom)
    assert (found.exact.least_mm, found.exact.most_mm) == pytest.approx((379.6, 426.6))
    assert (found.stepped.least_mm, found.stepped.most_mm) == (400.0, 420.0)


def test_a_set_without_a_bench_has_no_deck_to_vary():
    alone = build_set(
        replace(SETS[Hand.RIGHT].sizes, bench=None, table=None, angle=None),
        Hand.RIGHT,
        CONSTRUCTION,
        ROUTING,
        TRIM_MM,
    )
    with pytest.raises(ValueError, match="no unit that fills"):
        room_widths("31", alone, Measured(), BUILDABLE_MM, FITTING, Units.MM)


MEASURED = st.builds(
    Measured,
    opening_at_floor_mm=st.none() | st.floats(RUN_MM - 250, RUN_MM + 250),
    opening_at_seat_mm=st.floats(RUN_MM - 50, RUN_MM + 250),
    opening_at_panel_mm=st.none() | st.floats(RUN_MM - 50, RUN_MM + 250),
    corner_out_of_square_per_1000=st.none() | st.floats(-15, 15),
)


@given(MEASURED, st.sampled_from(Hand), st.sampled_from(Units))
@settings(max_examples=80)
def test_sets_built_with_these_widths_fill_the_room_and_no_others_do(measured, hand, units):
    found, step_mm = widths(measured, hand, units), STEP_MM[units]
    if isinstance(found, LeftOut):
        flush = int((DECK_MM + measured.opening_at_seat_mm - RUN_MM) / step_mm)
        tried = range(flush - 70, flush, 7)
        assert not any(fills(measured, hand, steps * step_mm) for steps in tried)
        return
    assert fills(measured, hand, found.stepped.least_mm)
    assert fills(measured, hand, found.stepped.most_mm)
    assert not fills(measured, hand, found.stepped.least_mm - step_mm)
    assert not fills(measured, hand, found.stepped.most_mm + step_mm)


def fills(measured: Measured, hand: Hand, deck_mm: float) -> bool:
    """Whether the set built with such a deck goes in and a filler closes the rest."""
    fit = fit_room("31", example(hand, deck_mm), measured, (), FITTING, Units.MM)
    closed = [gap.gap_mm for gap in fit.gaps if gap.where != AT_FLOOR]
    return fit.fits and max(closed) <= FITTING.most_filler_mm + 1e-6


def test_a_mirrored_room_has_the_same_widths():
    measured = Measured(opening_at_seat_mm=RUN_MM + 77.0, corner_out_of_square_per_1000=-4.0)
    right, left = widths(measured), widths(measured, Hand.LEFT)
    assert isinstance(right, SizedRoom)
    assert isinstance(left, SizedRoom)
    assert left.stepped == right.stepped
