"""Pieces as the shop delivers them, by what its joints hold together."""

import math
from collections import Counter

import pytest
from hypothesis import given, settings

from parametric.geometry.hand import Hand
from parametric.joints.delivered import delivered
from parametric.joints.joints import made_in
from parametric.sets.room_set import build_set
from parametric.shapes.mass import total_kg
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
