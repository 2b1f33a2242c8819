"""From joints to the holes, notches, slots and grooves of every part. Nothing else makes any."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from parametric.geometry.space import SAME_MM, Axis, Box, Direction
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Bonded, FixedToWall, Housed, Hung, Passing, Screwed, Seated
from parametric.shapes.board import Board
from parametric.shapes.features import Cutout, Feature, Hole
from parametric.shapes.members import Leg, Member, SteelAngle, WallPlate
from parametric.shapes.routing import CornerRelief, Routing

# What a groove is wider than the bit that cuts it; common practice, no source.
BIT_PLAY_MM = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Machining:
    """The features of each board, cleat and steel angle by name; parts without any are left out."""

    features: dict[str, tuple[Feature, ...]]

    def of(self, name: str) -> tuple[Feature, ...]:
        """Return the features of the part called `name`."""
        return self.features.get(name, ())


def machining(assembly: Assembly, routing: Routing) -> Machining:
    """Return every feature that the joints of the assembly ask for, in its frame."""
    found: dict[str, list[Feature]] = defaultdict(list)
    for joint in assembly.joints:
        match joint:
            case Screwed():
                through, into = assembly.part(joint.through), assembly.part(joint.into)
                if is_machined(through):
                    found[through.name].append(clearance_hole(joint))
                found[into.name].extend(pilot_hole(joint, into))
            case FixedToWall():
                through = assembly.part(joint.through)
                if is_machined(through):
                    found[through.name].extend(wall_holes(joint))
            case Passing():
                angle, board = assembly.angle(joint.member), assembly.board(joint.through)
                found[board.name].append(passing_cut(joint, angle, board, routing))
            case Housed():
                member, into_board = assembly.board(joint.member), assembly.board(joint.into)
                found[into_board.name].append(housing(joint, member, into_board, routing))
            case Hung():
                plates = [plate for plate in assembly.wall_plates if plate.name in joint.plates]
                panel = assembly.board(joint.panel)
                found[panel.name].append(hanging_groove(joint, panel, plates, routing))
            case Seated() | Bonded():
                pass  # what only rests on others is not machined
    return Machining(features={name: tuple(features) for name, features in found.items()})


def is_machined(part: Board | Member) -> bool:
    """Return whether the part is made in the shop; legs and wall plates are bought drilled."""
    return not isinstance(part, Leg | WallPlate)


def clearance_hole(joint: Screwed | FixedToWall) -> Hole:
    """Return the hole for the shank, right through the first part."""
    return Hole(
        start=joint.head,
        direction=joint.direction,
        diameter_mm=joint.screw.clearance_diameter_mm,
        depth_mm=None,
    )


def pilot_hole(joint: Screwed, into: Board | Member) -> tuple[Hole, ...]:
    """Return the hole for the thread, as deep as the screw goes; none if it does not get there."""
    axis = joint.direction.axis
    mouth = into.box.side(joint.direction.opposite)
    depth = penetration_mm(joint, into)
    if depth <= SAME_MM:
        return ()
    through = depth >= into.box.size(axis) - SAME_MM
    return (
        Hole(
            start=joint.head.at(axis, mouth),
            direction=joint.direction,
            diameter_mm=joint.screw.pilot_diameter_mm,
            depth_mm=None if through else depth,
        ),
    )


def penetration_mm(joint: Screwed, into: Board | Member) -> float:
    """Return how far the screw's tip gets into the second part."""
    mouth = into.box.side(joint.direction.opposite)
    run = (mouth - joint.head[joint.direction.axis]) * joint.direction.sign
    return joint.screw.length_mm - run


def wall_holes(joint: FixedToWall) -> tuple[Hole, ...]:
    """Return the hole for the shank and, under a cap, the recess in the show face."""
    shank = clearance_hole(joint)
    if joint.cap is None:
        return (shank,)
    recess = Hole(
        start=joint.head,
        direction=joint.direction,
        diameter_mm=joint.cap.diameter_mm,
        depth_mm=joint.cap.recess_depth_mm,
    )
    return (recess, shank)


def passing_cut(joint: Passing, angle: SteelAngle, board: Board, routing: Routing) -> Cutout:
    """Return the notch or slot through `board` that the angle runs through.

    The clearance is left on both sides of the angle, room for packing below it, none above. The
    clearance counts on the bottom, where the angle's square toe stands: an overcut leaves that flat
    up to the sides, otherwise the notch is wider by the radius that the bit leaves in each of its
    corners.
    """
    across = angle.upright
    overcut = across.axis if routing.corner_relief is CornerRelief.OVERCUT else None
    room_mm = joint.clearance_mm + (0.0 if overcut is not None else routing.bit_radius_mm)
    box = angle.box.grown(across, room_mm).grown(across.opposite, room_mm)
    box = box.grown(Direction.Z_MINUS, joint.packing_mm)
    for side in (board.facing, board.facing.opposite):
        gap = (board.box.side(side) - box.side(side)) * side.sign
        box = box.grown(side, gap)
    return Cutout(box=box, tool=board.facing.opposite, overcut=overcut)


def housing(joint: Housed, member: Board, into: Board, routing: Routing) -> Cutout:
    """Return the groove in `into` that `member` stands in.

    It is wider than the member by the clearance and deeper by the glue room. Where it stops inside
    the board it runs on, by half the clearance as at its sides and then by the bit's radius, so
    that the member's square corner enters.

    Raises:
        ValueError: the two boards do not reach into one another.
    """
    common = member.box.overlap(into.box)
    if common is None:
        raise ValueError(f"{member.name} does not reach into {into.name}")
    across = member.facing
    box = common
    for side in (across, across.opposite):
        box = box.grown(side, joint.clearance_mm / 2)
    entry = into.facing
    if abs(common.side(entry) - into.box.side(entry)) > SAME_MM:
        entry = entry.opposite
    box = box.grown(entry.opposite, joint.bottom_mm)
    run = next(axis for axis in Axis if axis not in (entry.axis, across.axis))
    for end in (Direction((run, 1)), Direction((run, -1))):
        inside = (into.box.side(end) - common.side(end)) * end.sign > SAME_MM
        if inside:
            box = box.grown(end, joint.clearance_mm / 2 + routing.bit_radius_mm)
    return Cutout(box=box, tool=entry.opposite)


def hanging_groove(joint: Hung, panel: Board, plates: list[WallPlate], routing: Routing) -> Cutout:
    """Return the groove in the panel's back: its upper side on the lips, room below and beyond.

    It is a little higher than the bit is thick, so that the bit can go round in it.
    """
    lip = plates[0].lip  # all plates are alike and at one height
    along = next(axis for axis in Axis if axis not in (panel.facing.axis, Axis.Z))
    box = Box(
        lip.low.at(along, panel.box.low[along] + joint.stop_mm),
        lip.high.at(along, panel.box.high[along] - joint.stop_mm),
    )
    back = panel.facing.opposite
    box = box.grown(back, (panel.box.side(back) - box.side(back)) * back.sign)
    box = box.grown(panel.facing, joint.bottom_mm)
    lift = max(joint.lift_mm, routing.bit_diameter_mm + BIT_PLAY_MM - box.size(Axis.Z))
    box = box.grown(Direction.Z_MINUS, lift)
    return Cutout(box=box, tool=panel.facing)
