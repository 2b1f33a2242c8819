"""The shop's glue: areas by hand, and what is bought for them."""

import math
from dataclasses import replace

import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Box, Point
from parametric.joints.joints import Housed, made_in, parts_of
from parametric.kit.glue import glue_ml, glued_mm2, touching_mm2, whole_glue
from parametric.kit.kit import KitUnit
from parametric.kit.set_kit import NOTHING, SetKit
from parametric.kit.supplies import GLUE, Supplies
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.members import Cleat
from parametric.stock.made_in import MadeIn
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes


def example(hand: Hand = Hand.RIGHT) -> RoomSet:
    return build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)


def box(low: tuple[float, ...], high: tuple[float, ...]) -> Box:
    return Box(Point(*low), Point(*high))


def test_boxes_touch_on_what_their_faces_share() -> None:
    board = box((0, 0, 0), (600, 300, 19))
    assert touching_mm2(board, box((50, 40, 19), (550, 80, 39))) == 500 * 40
    assert touching_mm2(board, box((500, 40, 19), (700, 80, 39))) == 100 * 40  # overhangs
    assert touching_mm2(board, box((50, 40, 20), (550, 80, 40))) == 0  # a gap between
    assert touching_mm2(board, box((600, 300, 0), (700, 400, 19))) == 0  # an edge alone


@pytest.mark.parametrize("hand", Hand)
def test_cleats_are_glued_on_their_whole_face_and_grooves_all_round(hand: Hand) -> None:
    """In this set each cleat lies on one board with all of a long face. The table's grooves by
    hand, in inches: four of 15 1/2, two of 14 1/4, two of 10, two of its shelf, each 3/4 wide and
    3/8 deep.
    """
    assembly = example(hand).assembly
    in_shop = {name for j in assembly.joints if made_in(j) is MadeIn.SHOP for name in parts_of(j)}
    cleats = [
        math.prod(sorted(map(member.box.size, Axis))[1:])
        for member in assembly.members
        if isinstance(member, Cleat) and member.name in in_shop
    ]
    (shelf,) = (board.box for board in assembly.boards if board.name.endswith("table/shelf"))
    along = 25.4 * (4 * 15.5 + 2 * 14.25 + 2 * 10) + 2 * shelf.size(Axis.Y)
    grooves = along * 25.4 * (0.75 + 2 * 0.375)
    assert len(cleats) > 20
    assert math.fsum(glued_mm2(assembly)) == pytest.approx(math.fsum(cleats) + grooves)


def test_what_is_put_on_in_the_room_is_not_glued_in_the_shop() -> None:
    made_on_site = replace(CONSTRUCTION, cleats_made_in=MadeIn.SITE, boxes_made_in=MadeIn.SITE)
    room_set = build_set(set_sizes(), Hand.RIGHT, made_on_site, ROUTING, TRIM_MM)
    joints = [j for j in room_set.assembly.joints if isinstance(j, Housed)]
    assert len(list(glued_mm2(room_set.assembly))) == len(joints)


def test_glue_goes_by_rooms_and_spread() -> None:
    assembly = example().assembly
    kit = SetKit(set_name="set", hand=Hand.RIGHT, rooms=3, assembly=assembly, kit=NOTHING)
    area_m2 = math.fsum(glued_mm2(assembly)) / 1e6
    assert glue_ml(assembly, Supplies(glue_ml_m2=200)) == pytest.approx(200 * area_m2)
    line = whole_glue((kit,), Supplies(glue_ml_m2=200, spare_adhesive=0.2))
    assert line is not None
    assert (line.key, line.unit, line.supplied) == (GLUE, KitUnit.MILLILITRES, True)
    assert line.needed == pytest.approx(3 * 200 * area_m2)
    assert line.spare == pytest.approx(0.2 * line.needed)
    assert whole_glue((replace(kit, rooms=0),), Supplies()) is None
