"""The shop's pictures: every screw of a piece at its hole, its parts set apart as they come."""

import pytest

from casewright.stages.shop.piece_pictures import piece_pictures
from casewright.stages.site.site_pictures import letters_of
from parametric.geometry.hand import Hand
from parametric.joints.delivered import Delivered, delivered
from parametric.joints.joints import Housed, Screwed
from parametric.joints.machining import machining
from parametric.pictures.apart import in_parts
from parametric.pictures.bodies import AS_IT_STANDS
from parametric.sets.room_set import build_set
from parametric.steps.part_boxes import boxes_of
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes

ASSEMBLY = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
WORKED = machining(ASSEMBLY, ROUTING)
JOINED = [piece for piece in delivered(ASSEMBLY) if len(piece.parts) > 1]


@pytest.mark.parametrize("piece", JOINED, ids=lambda piece: piece.main.name)
def test_every_screw_of_a_piece_is_drawn_once_and_seen(piece: Delivered) -> None:
    numbers = {part.name: part.name for part in piece.parts}
    letters = letters_of(ASSEMBLY, piece.joints)
    pictures = piece_pictures(ASSEMBLY, WORKED, piece, numbers, letters)
    drawn = [screw for picture in pictures for screw in picture.screws]
    driven = [at for at in piece.joints if isinstance(ASSEMBLY.joints[at], Screwed)]
    assert len(drawn) == len(driven)
    assert all(screw.seen and screw.label in letters.values() for screw in drawn)
    assert all(screw.thread is not None for screw in drawn), "drawn off their place"


@pytest.mark.parametrize("piece", JOINED, ids=lambda piece: piece.main.name)
def test_cleats_come_off_along_their_screws(piece: Delivered) -> None:
    boxes = {part.name: boxes_of(part, WORKED) for part in piece.parts}
    poses = {n: each.pose for each in in_parts(ASSEMBLY, boxes, piece) for n in each.names}
    assert poses[piece.main.name] == AS_IT_STANDS
    for joint in (ASSEMBLY.joints[at] for at in piece.joints):
        if isinstance(joint, Screwed):
            axis, sign = joint.direction.axis, joint.direction.sign
            back = poses[joint.into].origin[axis] - poses[joint.through].origin[axis]
            assert back * sign > 0, "the part with the head is drawn off against the way it goes"


def test_a_carcass_comes_apart_into_its_boards() -> None:
    """No two of its boards stay together, and none meets another where it is drawn."""
    (piece,) = (
        each
        for each in JOINED
        if any(isinstance(ASSEMBLY.joints[at], Housed) for at in each.joints)
    )
    boxes = {part.name: boxes_of(part, WORKED) for part in piece.parts}
    coming = in_parts(ASSEMBLY, boxes, piece)
    assert sum(each.pose == AS_IT_STANDS for each in coming) == 1
    origins = [(each.names, each.pose.origin) for each in coming]
    for at, (names, origin) in enumerate(origins):
        for other_names, other in origins[at + 1 :]:
            joined = any(
                {joint.member, joint.into} <= {*names, *other_names}
                for joint in ASSEMBLY.joints
                if isinstance(joint, Housed)
            )
            assert not joined or origin != other
