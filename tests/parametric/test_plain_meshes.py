"""Small meshes for a page: where the parts are, closed, and whole but for their drilled holes."""

from collections import Counter
from math import fsum, prod

import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis
from parametric.meshes.plain_meshes import PlainMesh, plain_meshes
from parametric.meshes.set_meshes import set_meshes
from parametric.sets.room_set import build_set
from parametric.shapes.board import Board
from parametric.shapes.members import Leg
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes

HANDS = pytest.mark.parametrize("hand", list(Hand))


def meshes(hand: Hand) -> tuple[PlainMesh, ...]:
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    return tuple(plain_meshes(assembly, ROUTING))


@HANDS
def test_each_part_fills_its_box_with_its_bands(hand: Hand) -> None:
    for plain in meshes(hand):
        points, box = plain.mesh.points, plain.part.box
        near = 0.06 if isinstance(plain.part, Leg) else 1e-6  # tubes are polygons of their area
        assert points.min(axis=0) == pytest.approx(tuple(box.low), abs=near), plain.part.name
        assert points.max(axis=0) == pytest.approx(tuple(box.high), abs=near), plain.part.name


@HANDS
def test_every_mesh_is_closed(hand: Hand) -> None:
    """Rule: each edge of a closed surface is run once in either direction."""
    for plain in meshes(hand):
        edges = Counter(
            (int(row[at]), int(row[(at + 1) % 3]))
            for row in plain.mesh.triangles
            for at in range(3)
        )
        assert set(edges.values()) == {1}
        assert all((end, start) in edges for start, end in edges)


@HANDS
def test_only_what_is_drilled_is_missing_and_cuts_are_there(hand: Hand) -> None:
    """The volume is that of the drilled mesh and its bands, and at most that of the box."""
    assembly = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    whole = {placed.part.name: placed.mesh for placed in set_meshes(assembly, ROUTING)}
    for plain in meshes(hand):
        if not isinstance(plain.part, Board):
            continue
        mesh = whole[plain.part.name]
        drilled = mesh.part.volume_mm3 + fsum(band.volume_mm3 for band in mesh.bands)
        box = prod(plain.part.box.size(axis) for axis in Axis)
        assert drilled - 1 <= plain.mesh.volume_mm3 <= box + 1, plain.part.name
        assert plain.mesh.volume_mm3 - drilled < 0.02 * box, plain.part.name


def test_they_are_much_smaller_than_the_whole_ones() -> None:
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    whole = sum(len(placed.mesh.part.triangles) for placed in set_meshes(assembly, ROUTING))
    plain = sum(len(each.mesh.triangles) for each in meshes(Hand.RIGHT))
    assert plain < whole / 4
