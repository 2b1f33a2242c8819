"""From the wall fixings of a set to the elevations of its blocking plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from casewright.stages.site.wall_words import wanted
from export.site.content import BlockingPlan, BlockingZone, WallElevation
from export.svg.elements import Point2
from parametric.findings.screw_loads import NOT_WORKED_OUT
from parametric.findings.wall_hold import wood_mm
from parametric.geometry.hand import Hand
from parametric.geometry.outline import Bounds
from parametric.geometry.space import Axis
from parametric.geometry.walls import Wall, wall_towards
from parametric.joints.into_wall import wall_cautions
from parametric.joints.joints import FixedToWall
from parametric.rooms.wall_fixings import far_corner
from parametric.sets.room_set import RoomSet
from parametric.sets.standing_plan import stands_in_plan
from parametric.stock.amounts import Words, in_words
from parametric.stock.lengths import Rounding, Units, show_length, site_length_mm
from parametric.strength.loads import Loads

ZONE_MARGIN_MM = 50.0
"""Blocking round the outermost screws, so that setting out may err (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfJob:
    """What a plan tells besides its set: the rooms that it is for, what the job says of its walls,
    and the load on a screw by the part that it goes through.
    """

    units: Units
    rooms: tuple[str, ...] = ()
    loads: Loads = field(default_factory=Loads)
    screw_loads: Mapping[str, Words] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Corner:
    """A wall and the corner that distances along it count from: with the wall `with_far`, which
    stands so far away, where that is not the wall's own corner.
    """

    wall: Wall
    with_far: Wall | None = None
    away_mm: float = 0.0

    @property
    def title(self) -> str:
        if self.with_far is None:
            return str(self.wall)
        return f"{self.wall}, from its corner with the {self.with_far}"

    def on_wall(self, joint: FixedToWall, hand: Hand) -> Point2:
        """Return where a screw meets the wall, x as seen from the room with the corner at 0."""
        along = abs(joint.head.x if joint.direction.axis is Axis.Y else joint.head.y)
        away = _away(self.wall, hand)
        if self.with_far is None:
            return away * along, joint.head.z
        return -away * (self.away_mm - along), joint.head.z


def blocking_plan(job: str, room_set: RoomSet, of_job: OfJob) -> BlockingPlan:
    """Return the plan: the walls that screws go into, head wall first. What stands along a wall
    opposite is set out from its own corner, on the wall beside it too.
    """
    on: dict[_Corner, list[FixedToWall]] = {}
    for joint in room_set.assembly.joints:
        if isinstance(joint, FixedToWall):
            on.setdefault(_corner_of(joint, room_set), []).append(joint)
    order = list(Wall)
    corners = sorted(on, key=lambda each: (order.index(each.wall), each.with_far is not None))
    return BlockingPlan(
        job=job,
        set_name=room_set.name,
        hand=room_set.hand,
        rooms=of_job.rooms,
        rounded=show_length(site_length_mm(0.1, of_job.units, Rounding.UP), of_job.units),
        units=of_job.units,
        stands=stands_in_plan(room_set),
        walls=tuple(_elevation(corner, room_set.hand, on[corner], of_job) for corner in corners),
    )


def _corner_of(joint: FixedToWall, room_set: RoomSet) -> _Corner:
    far = far_corner(joint, room_set)
    return _Corner(wall_towards(joint.direction, joint.wall_mm), *(far or ()))


def _elevation(
    corner: _Corner, hand: Hand, fixings: Sequence[FixedToWall], of_job: OfJob
) -> WallElevation:
    """Return one wall seen from the room, a zone for each part that is screwed to it."""
    units = of_job.units
    by_part: dict[str, list[FixedToWall]] = {}
    for joint in fixings:
        by_part.setdefault(joint.through, []).append(joint)
    screws = {
        name: [corner.on_wall(joint, hand) for joint in joints] for name, joints in by_part.items()
    }
    ordered = sorted(screws.items(), key=lambda each: min((abs(x), y) for x, y in each[1]))
    zones, rows = [], []
    for index, (name, points) in enumerate(ordered):
        label, joint = chr(ord("A") + index), by_part[name][0]
        area = _outwards(_round(points), units)
        zones.append(BlockingZone(label=label, area=area, screws=tuple(points)))
        ranges = (_range(*pair, units) for pair in _sides(area))
        blocked = joint.wall.kind.wants_blocking
        what = _block(area, joint, of_job) if blocked else _places(points, units)
        borne = in_words(of_job.screw_loads.get(name, NOT_WORKED_OUT), units)
        rows.append((label, *ranges, what, str(len(points)), borne))
    across = {round(x, 3) + 0.0 for z in zones for x in (z.area.x0, z.area.x1)}
    heights = {round(y, 3) + 0.0 for z in zones for y in (z.area.y0, z.area.y1)}
    kind = fixings[0].wall.kind
    return WallElevation(
        title=corner.title,
        wanted=tuple(wanted(fixings, of_job.loads, units)),
        cautions=tuple(wall_cautions(fixings)),
        wants_blocking=kind.wants_blocking,
        zones=tuple(zones),
        across=tuple((x, show_length(abs(x), units)) for x in sorted(across, key=abs)),
        heights=tuple((y, show_length(y, units)) for y in sorted(heights)),
        rows=tuple(rows),
    )


def _sides(area: Bounds) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return from where to where a zone reaches from the corner, and above the floor."""
    near, far = sorted((abs(area.x0), abs(area.x1)))
    return (near, far), (area.y0, area.y1)


def _range(low_mm: float, high_mm: float, units: Units) -> str:
    return " to ".join(_listed((low_mm, high_mm), units))


def _listed(lengths_mm: Sequence[float], units: Units) -> list[str]:
    """Return lengths for a narrow column: of millimetres the last one alone says so."""
    shown = [show_length(each, units) for each in lengths_mm]
    return [*(each.removesuffix(" mm") for each in shown[:-1]), *shown[-1:]]


def _block(area: Bounds, joint: FixedToWall, of_job: OfJob) -> str:
    """Return length and height of what is wanted in a zone, and how thick wood is at least."""
    sizes_mm = [area.x1 - area.x0, area.y1 - area.y0]
    if joint.wall.kind.is_wood:
        sizes_mm.append(wood_mm(joint, of_job.loads))
    return " × ".join(_listed(sizes_mm, of_job.units))


def _places(points: Sequence[Point2], units: Units) -> str:
    """Return where each screw of a zone is, to the nearest step, for what is made beforehand."""

    def steps_mm(listed: Sequence[float]) -> list[float]:
        return sorted({site_length_mm(abs(each), units, Rounding.NEAREST) for each in listed})

    across, up = steps_mm([x for x, _ in points]), steps_mm([y for _, y in points])
    shown = _listed([*across, *up], units)
    return f"{', '.join(shown[: len(across)])}; {', '.join(shown[len(across) :])}"


def _away(wall: Wall, hand: Hand) -> float:
    """Return the picture's direction away from the wall's corner: facing the head wall, a right
    hand's corner is at the right end, and so is that of the far wall; of the others at the left.
    """
    at_right = wall in {Wall.HEAD, Wall.FAR}
    return -1.0 if at_right == (hand is Hand.RIGHT) else 1.0


def _round(points: Sequence[Point2]) -> Bounds:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    x0, x1 = min(xs) - ZONE_MARGIN_MM, max(xs) + ZONE_MARGIN_MM
    # No blocking beyond the corner or under the floor.
    x0, x1 = (max(x0, 0.0), x1) if x1 > 0 and min(xs) >= 0 else (x0, min(x1, 0.0))
    return Bounds(x0, max(min(ys) - ZONE_MARGIN_MM, 0.0), x1, max(ys) + ZONE_MARGIN_MM)


def _outwards(area: Bounds, units: Units) -> Bounds:
    """Return the zone in whole steps, never smaller than it is."""
    (near, far), (low, high) = _sides(area)
    sign = 1.0 if area.x1 > 0 else -1.0
    near = sign * site_length_mm(near, units, Rounding.DOWN)
    far = sign * site_length_mm(far, units, Rounding.UP)
    return Bounds(
        min(near, far) + 0.0,
        site_length_mm(low, units, Rounding.DOWN),
        max(near, far) + 0.0,
        site_length_mm(high, units, Rounding.UP),
    )
