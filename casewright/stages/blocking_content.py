"""From the wall fixings of a set to the elevations of its blocking plan."""

from __future__ import annotations

from export.site.content import BlockingPlan, BlockingZone, WallElevation
from export.svg.elements import Point2
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds
from parametric.geometry.space import Axis
from parametric.geometry.walls import Wall, wall_towards
from parametric.joints.joints import FixedToWall
from parametric.sets.room_set import RoomSet
from parametric.stock.lengths import Units, show_length

ZONE_MARGIN_MM = 50.0
"""Blocking round the outermost screws, so that setting out may err (common practice, no source)."""


def blocking_plan(job: str, room_set: RoomSet, units: Units) -> BlockingPlan:
    """Return the plan: the walls that screws go into, head wall first."""
    fixings: dict[Wall, list[FixedToWall]] = {wall: [] for wall in Wall}
    for joint in room_set.assembly.joints:
        if isinstance(joint, FixedToWall):
            fixings[wall_towards(joint.direction, joint.wall_mm)].append(joint)
    return BlockingPlan(
        job=job,
        set_name=room_set.name,
        hand=room_set.hand,
        walls=tuple(
            elevation(wall, room_set.hand, on_it, units) for wall, on_it in fixings.items() if on_it
        ),
    )


def elevation(wall: Wall, hand: Hand, fixings: list[FixedToWall], units: Units) -> WallElevation:
    """Return one wall seen from the room, a zone for each part that is screwed to it."""
    screws: dict[str, list[Point2]] = {}
    for joint in fixings:
        screws.setdefault(joint.through, []).append(on_wall(joint, wall, hand))
    zones, rows = [], []
    ordered = sorted(screws.items(), key=lambda each: min((abs(x), y) for x, y in each[1]))
    for index, (_, points) in enumerate(ordered):
        label = chr(ord("A") + index)
        area = _round(points)
        zones.append(BlockingZone(label=label, area=area, screws=tuple(points)))
        near, far = sorted((area.x0, area.x1), key=abs)
        lengths = (abs(near), abs(far), area.y0, area.y1)
        rows.append((label, *(show_length(each, units) for each in lengths), str(len(points))))
    across = {round(x, 3) + 0.0 for z in zones for x in (z.area.x0, z.area.x1)}
    heights = {round(y, 3) + 0.0 for z in zones for y in (z.area.y0, z.area.y1)}
    return WallElevation(
        title=str(wall),
        zones=tuple(zones),
        across=tuple((x, show_length(abs(x), units)) for x in sorted(across, key=abs)),
        heights=tuple((y, show_length(y, units)) for y in sorted(heights)),
        rows=tuple(rows),
    )


def on_wall(joint: FixedToWall, wall: Wall, hand: Hand) -> Point2:
    """Return where a screw meets its wall, x as seen from the room with the wall's corner at 0."""
    along = joint.head.x if joint.direction.axis is Axis.Y else joint.head.y
    return _away(wall, hand) * abs(along), joint.head.z


def _away(wall: Wall, hand: Hand) -> float:
    """Return the picture's direction away from the wall's corner: facing the head wall, a right
    hand's corner is at the right end, and so is that of the far wall; of the others at the left.
    """
    at_right = wall in {Wall.HEAD, Wall.FAR}
    return -1.0 if at_right == (hand is Hand.RIGHT) else 1.0


def _round(points: list[Point2]) -> Bounds:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    x0, x1 = min(xs) - ZONE_MARGIN_MM, max(xs) + ZONE_MARGIN_MM
    # No blocking beyond the corner or under the floor.
    x0, x1 = (max(x0, 0.0), x1) if x1 > 0 and min(xs) >= 0 else (x0, min(x1, 0.0))
    return Bounds(x0, max(min(ys) - ZONE_MARGIN_MM, 0.0), x1, max(ys) + ZONE_MARGIN_MM)
