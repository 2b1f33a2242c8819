"""Pieces as the shop delivers them, by what its joints hold together."""

import math
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings

from parametric.geometry.hand import Hand
from parametric.joints.delivered import delivered, joined_from, joining
from parametric.joints.joints import Screwed, made_in
from parametric.joints.machining import machining
from parametric.primitives.decked_box import DeckHold
from parametric.sets.room_set import build_set
from parametric.shapes.mass import total_kg
from parametric.steps.order import steps_of
from parametric.steps.step_findings import step_findings
from parametric.stock.made_in import MadeIn
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.strategies import set_sizes as random_sizes


def cleats(*places: str) -> set[str]:
    """The names of cleats of the bench."""
    return {f"bench/{' cleat '.join(place.split())}" for place in places}


@settings(max_examples=25)
@given(random_sizes())
def test_every_part_and_every_joint_of_the_shop_is_in_one_piece(sizes) -> None:
    assembly = build_set(sizes, Hand.LEFT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    pieces = delivered(assembly)
    parts = (*assembly.boards, *assembly.members)
    assert Counter(name for each in pieces for name in each.names) == Counter(p.name for p in parts)
    joints = enumerate(assembly.joints)
    of_shop = Counter(at for at, joint in joints if made_in(joint) is MadeIn.SHOP)
    assert Counter(at for each in pieces for at in each.joints) == of_shop
    assert math.fsum(each.mass_kg for each in pieces) == pytest.approx(total_kg(parts))


@pytest.mark.parametrize("hand", Hand)
def test_the_pieces_of_the_bench_by_hand(hand: Hand) -> None:
    """An upright cleat goes with the panel that it lies flat on: the ends of the rail at the head
    wall, the fronts of the two sides; a level one with the panel behind it. The side panel has its
    level cleat in two, either side of the angle.
    """
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    bench = {
        piece.main.name: set(piece.names) - {piece.main.name}
        for piece in delivered(assembly)
        if piece.main.unit == "bench"
    }
    assert bench == {
        "bench/head wall rail": cleats("upright 1", "upright 3", "deck 1"),
        "bench/side wall rail": cleats("upright 2", "deck 3"),
        "bench/side panel": cleats("upright 4", "deck 4", "deck 5"),
        "bench/front panel": cleats("deck 2"),
        "bench/deck": set(),
    }


def test_a_carcass_is_one_piece_called_by_its_unit() -> None:
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    (table,) = (piece for piece in delivered(assembly) if piece.main.unit == "bedside table")
    assert table.called == "bedside table"
    assert len(table.parts) == 6
    sides = sorted(table.box.size(axis) / 25.4 for axis in range(3))
    assert sides == pytest.approx([10.75, 16.0, 16.0])


JOINED = replace(CONSTRUCTION, boxes_made_in=MadeIn.SHOP)


@pytest.mark.parametrize("hand", Hand)
def test_a_box_of_the_shop_is_joined_from_what_would_else_be_delivered(hand: Hand) -> None:
    """By hand: two No. 6 at each of four corners of both boxes, and at both ends of two bearers of
    the bed. Nothing else of the set is delivered otherwise.
    """
    loose = delivered(build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly)
    assembly = build_set(set_sizes(), hand, JOINED, ROUTING, TRIM_MM).assembly
    pieces = delivered(assembly)
    boxes = {piece.called: piece for piece in pieces if piece.called.endswith("/box")}
    screws = {}
    for called, box in boxes.items():
        made_of = joined_from(assembly, box)
        unit = box.main.unit
        assert [each.names for each in made_of] == [
            each.names
            for each in loose
            if each.main.unit == unit
            and "/deck" not in each.main.name
            and "/leg" not in each.called
        ]
        joints = [assembly.joints[at] for at in joining(box, made_of)]
        assert all(isinstance(joint, Screwed) for joint in joints)
        screws[called] = Counter(j.screw.key for j in joints if isinstance(j, Screwed))
    wide = CONSTRUCTION.screw_cleat_wide.key
    assert screws == {"bench/box": {wide: 4 * 2}, "bed/box": {wide: 4 * 2 + 2 * 2 * 2}}
    in_box = {name for box in boxes.values() for name in box.names}
    assert [each.names for each in pieces if each not in boxes.values()] == [
        each.names for each in loose if in_box.isdisjoint(each.names)
    ]


@pytest.mark.parametrize("held", [None, DeckHold.SCREWED])
def test_a_box_of_the_shop_is_only_set_down(held: DeckHold | None) -> None:
    """It needs no putting together, unless a deck is still screwed to it; it can be built, and no
    screw of it is left to the room but those into walls and up into the deck.
    """
    assembly = build_set(set_sizes(deck_held=held), Hand.RIGHT, JOINED, ROUTING, TRIM_MM).assembly
    titles = [step.title for step in steps_of(assembly, str)]
    assert "Set the bench in its place, level and square" in titles
    together = [title for title in titles if "together" in title]
    assert bool(together) is (held is DeckHold.SCREWED)
    assert all(title.startswith("Put the bed together upside down") for title in together)
    found = step_findings("set", assembly, machining(assembly, ROUTING))
    assert not [each for each in found if each.severity.value == "fail"]


@settings(max_examples=25)
@given(random_sizes())
def test_boxes_of_the_shop_leave_their_joints_out_of_the_steps(sizes) -> None:
    assembly = build_set(sizes, Hand.LEFT, JOINED, ROUTING, TRIM_MM).assembly
    made = Counter(at for step in steps_of(assembly, str) for at in step.joints)
    joints = enumerate(assembly.joints)
    assert made == Counter(at for at, joint in joints if made_in(joint) is not MadeIn.SHOP)
    for piece in delivered(assembly):
        made_of = joined_from(assembly, piece)
        assert sorted(n for each in made_of for n in each.names) == sorted(piece.names)
        shared = [at for each in made_of for at in each.joints]
        assert sorted((*shared, *joining(piece, made_of))) == sorted(piece.joints)
