"""What of a room its set asks for: nobody measures what is not there, or does not matter to it."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.geometry.space import SAME_MM
from parametric.geometry.walls import Wall
from parametric.joints.joints import Hung
from parametric.rooms.measured import Measured
from parametric.rooms.turning_room import turns_of
from parametric.rooms.wall_fixings import wall_fixings
from parametric.sets.room_set import RoomSet

UNKNOWN = {
    "opening_at_floor_mm": "opening at the floor",
    "opening_at_seat_mm": "opening at the seat",
    "opening_at_panel_mm": "opening at the panel",
    "side_opening_mm": "opening along the side wall",
    "corner_out_of_square_per_1000": "corner",
    "floor_width_mm": "clear floor, to turn things over on",
    "floor_depth_mm": "clear floor, to turn things over on",
    "floor_high_mm": "floor",
    "floor_low_mm": "floor",
    "wall_base_height_mm": "wall base",
    "wall_base_thickness_mm": "wall base",
    "first_stud_mm": "studs",
    "wall_lining_mm": "lining of the walls: its thickness is assumed",
    "blocking_mm": "blocking",
    "side_blocking_mm": "blocking in the side wall",
}
"""Measured values by how papers say that they are missing."""


def asked_of(room_set: RoomSet) -> frozenset[str]:
    """Return the names of the measures that matter to a set, as `Measured` has them."""
    return frozenset(_asked(room_set))


def not_measured(room_set: RoomSet, measured: Measured) -> tuple[str, ...]:
    """Return what a set asks for that was not measured, as papers say it; the schedule has no
    column for the walls opposite the two that meet in the corner.
    """
    asked = asked_of(room_set)
    missing = (
        word for name, word in UNKNOWN.items() if name in asked and getattr(measured, name) is None
    )
    opposite = (str(wall) for wall in Wall if wall.is_opposite and room_set.along(wall))
    return tuple(dict.fromkeys((*missing, *opposite)))


def _asked(room_set: RoomSet) -> Iterator[str]:
    yield from ("floor_high_mm", "floor_low_mm", "wall_base_height_mm", "wall_base_thickness_mm")
    yield "corner_out_of_square_per_1000"
    yield from _openings(room_set)
    if turns_of(room_set.assembly):
        yield from ("floor_width_mm", "floor_depth_mm")
    fixings = wall_fixings(room_set.assembly)
    # What the job says of a wall is not assumed.
    if any(each.joint.wall.lining_mm is None for each in fixings):
        yield "wall_lining_mm"
    blocked = {each.wall for each in fixings if each.joint.wall.kind.wants_blocking}
    if Wall.HEAD in blocked:
        yield from ("first_stud_mm", "stud_spacing_mm", "blocking_mm")
    if Wall.SIDE in blocked:
        yield "side_blocking_mm"


def _openings(room_set: RoomSet) -> Iterator[str]:
    joints = room_set.assembly.joints
    hung = {joint.panel for joint in joints if isinstance(joint, Hung)}
    head = room_set.along(Wall.HEAD)
    boards = [board for board in room_set.assembly.boards if board.unit in head]
    if boards or room_set.along(Wall.FAR):
        yield "opening_at_seat_mm"
    if any(board.box.low.z < SAME_MM for board in boards):
        yield "opening_at_floor_mm"
    if any(board.name in hung for board in boards):
        yield "opening_at_panel_mm"
    if room_set.along(Wall.SIDE):
        yield "side_opening_mm"
