"""Screws and hours of a room, by hand."""

from dataclasses import replace

import pytest

from parametric.geometry.hand import Hand
from parametric.joints.delivered import delivered
from parametric.joints.joints import Bonded, FixedToWall, Screwed, made_in
from parametric.kit.count import kit_of
from parametric.kit.supplies import Supplies
from parametric.sets.room_set import build_set
from parametric.steps.order import steps_of
from parametric.steps.site_rates import SiteRates
from parametric.steps.site_time import SiteTime, site_time
from parametric.stock.lengths import Units
from parametric.stock.made_in import MadeIn
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes

NOTHING = SiteRates(
    step_minutes=0.0,
    piece_minutes=0.0,
    screw_minutes=0.0,
    wall_screw_minutes=0.0,
    bead_minutes=0.0,
)


def of_example(rates: SiteRates, hand: Hand = Hand.RIGHT) -> SiteTime:
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    return site_time(assembly, steps_of(assembly, str), rates)


@pytest.mark.parametrize("hand", list(Hand))
def test_the_screws_are_those_of_the_kit(hand: Hand) -> None:
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    keys = {
        joint.screw.key for joint in assembly.joints if isinstance(joint, Screwed | FixedToWall)
    }
    kit = kit_of(assembly, Supplies(), Units.INCH)
    assert of_example(NOTHING, hand).screws == sum(
        line.needed for line in kit.lines if line.key in keys
    )


def test_each_rate_counts_what_it_is_for() -> None:
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    steps = steps_of(assembly, str)
    on_site = [joint for joint in assembly.joints if made_in(joint) is MadeIn.SITE]
    walls = sum(isinstance(joint, FixedToWall) for joint in on_site)
    screws = sum(isinstance(joint, Screwed) for joint in on_site)
    beads = sum(len(joint.on) for joint in on_site if isinstance(joint, Bonded))
    assert of_example(NOTHING).person_minutes == 0.0
    for rate, count in (
        ("wall_screw_minutes", walls),
        ("screw_minutes", screws),
        ("bead_minutes", beads),
        ("step_minutes", sum(step.people for step in steps)),
    ):
        assert of_example(replace(NOTHING, **{rate: 1.0})).person_minutes == count, rate
    pieces = of_example(replace(NOTHING, piece_minutes=1.0)).person_minutes
    assert pieces >= len(delivered(assembly))


def test_hours_are_told_to_the_half_hour() -> None:
    for minutes, told in ((10.0, "0.5 hours"), (60.0, "1 hour"), (140.0, "2.5 hours")):
        words = SiteTime(screws=58, person_minutes=minutes, people=2).words
        assert words == f"58 screws, about {told} of work in all, up to 2 people"
