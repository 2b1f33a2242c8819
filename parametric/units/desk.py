"""Desk: a top on a cleat along the wall, and a gable or a leg at one end or both.

The cleats at walls are put up first; the top comes with its gables and legs, is laid on them and
screwed to them from below. In the corner of its wall a second cleat carries the end at that wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.spacing import between, evenly_of, spread
from parametric.joints.assembly import Assembly, joined
from parametric.joints.joints import FixedToWall, Seated
from parametric.primitives.cleat import END_MM, MOST_MM, Fixing, level_cleat, screwed_cleat
from parametric.primitives.leg import leg
from parametric.shapes.board import Band, Board, Show, Surface
from parametric.units.bench import rounded_corners
from parametric.units.family import (
    RADIUS_PER_OVERHANG,
    Family,
    Limit,
    Space,
    Stands,
    Unfit,
    UnitPlan,
)
from parametric.units.size import Choice, Length

# All: common practice, no source.
WALL_SCREW_END_MM = 60.0
OPEN_END_MM = 20.0  # a wall cleat stops so far short of an end that is seen
GABLE_CLEAT_FRONT_MM = 60.0  # a gable's cleat stops so far behind its front edge
LEAST_BETWEEN_MM = 200.0  # a wall cleat with two screws, and knees


class End(StrEnum):
    """What carries an end of a desk besides the cleat along the wall."""

    GABLE = "gable"
    LEG = "leg"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskSizes:
    """Sizes of a desk. The near end is the one towards the corner of its wall."""

    width_mm: Annotated[float, Length(300, 3000, "Top, along the wall.")]
    depth_mm: Annotated[float, Length(200, 1200, "Top, out from the wall.")]
    height_mm: Annotated[float, Length(400, 1300, "Upper face of the top above the floor.")]
    near_end: Annotated[End, Choice("What carries the end towards the corner.")]
    far_end: Annotated[End, Choice("What carries the other end.")]
    inset_mm: Annotated[
        float, Length(0, 500, "Gables, and centres of legs, from the ends of the top.")
    ]
    setback_mm: Annotated[
        float, Length(0, 500, "Gables, and centres of legs, from the front of the top.")
    ]
    wall_clearance_mm: Annotated[
        float, Length(0, 100, "Room between wall and gables, for the wall base.")
    ]
    corner_radius_mm: Annotated[float, Length(0, 300, "Radius of the top's free corners.")]


def desk_space(plan: UnitPlan[DeskSizes]) -> Space:
    """Return the top of a desk, and its gables and legs."""
    desk, low = plan.sizes, plan.start_mm
    under = desk.height_mm - plan.construction.deck.thickness_mm
    whole = Box.spanning((low, low + desk.width_mm), (0.0, desk.depth_mm), (under, desk.height_mm))
    gables = [_gable_box(plan, whole, end) for end in _ends(desk, End.GABLE)]
    half = plan.construction.leg.plate_mm / 2
    feet = [_foot(desk, whole, end) for end in _ends(desk, End.LEG)]
    legs = [
        Box.spanning((at.x - half, at.x + half), (at.y - half, at.y + half), (0.0, under))
        for at in feet
    ]
    return Space(whole=whole, others=(*gables, *legs))


def desk_parts(plan: UnitPlan[DeskSizes], space: Space) -> Assembly:
    """Return a desk."""
    desk, name, construction, whole = plan.sizes, plan.name, plan.construction, space.whole
    free = (Direction.X_PLUS,) if plan.in_corner else (Direction.X_MINUS, Direction.X_PLUS)
    top = Board(
        name=f"{name}/top",
        unit=name,
        description=f"{name} top",
        material=construction.deck,
        box=whole,
        grain=Axis.X,
        facing=Direction.Z_PLUS,
        show=Show.FRONT,
        bands=tuple(Band(edge, construction.band) for edge in (*free, Direction.Y_PLUS)),
        rounded=rounded_corners(desk.corner_radius_mm, free),
        surface=Surface.LEANING,
    )
    parts = [Assembly(boards=(top,))]
    carried: list[str] = []
    for box, wall in _wall_cleats(plan, whole):
        parts.append(_wall_cleat(plan, f"{name}/wall cleat {len(carried) + 1}", box, wall, top))
        carried.append(parts[-1].members[0].name)
    for end in _ends(desk, End.GABLE):
        parts.append(_gable(plan, top, end))
        carried.append(parts[-1].boards[0].name)
    parts.append(Assembly(joints=(Seated(top=top.name, on=tuple(carried)),)))
    legs = [
        leg(f"{name}/leg {index}", _foot(desk, whole, end), top, construction)
        for index, end in enumerate(_ends(desk, End.LEG), start=1)
    ]
    if legs:
        on_legs = tuple(member.name for each in legs for member in each.members)
        parts += [*legs, Assembly(joints=(Seated(top=top.name, on=on_legs),))]
    return joined(parts)


def desk_limits(plan: UnitPlan[DeskSizes]) -> Iterator[Limit | Unfit]:
    """Yield what must hold between the sizes of a desk."""
    desk, construction = plan.sizes, plan.construction
    if plan.in_corner and desk.near_end is not End.NONE:
        yield Unfit(
            ("near_end",),
            f"{desk.near_end.value!r} in the corner",
            "'none': the wall beside it carries that end on a cleat",
        )
    if not plan.in_corner and End.NONE is desk.near_end is desk.far_end:
        yield Unfit(("far_end",), "'none' at both ends", "'gable' or 'leg' at one end at least")
    half_mm = construction.leg.plate_mm / 2
    ends = [end for end in (desk.near_end, desk.far_end) if end is not End.NONE]
    least_mm = half_mm if End.LEG in ends else 0.0
    takes_mm = construction.carcass.thickness_mm if End.GABLE in ends else half_mm
    most_mm = (desk.width_mm - LEAST_BETWEEN_MM) / max(len(ends), 1) - takes_mm
    yield Limit(("inset",), desk.inset_mm, least_mm, most_mm, "so that knees fit between")
    if End.LEG in ends:
        under_mm = desk.height_mm - construction.deck.thickness_mm
        leg_mm = construction.leg.height_mm
        reason = "for the top to lie on its legs (construction.leg)"
        above_mm = construction.deck.thickness_mm
        yield Limit(("height",), under_mm + above_mm, leg_mm + above_mm, leg_mm + above_mm, reason)
        most_mm = desk.depth_mm - construction.cleat.thickness_mm - half_mm
        reason = "so that the plates lie under the top, clear of the cleat at the wall"
        yield Limit(("setback",), desk.setback_mm, half_mm, most_mm, reason)
    if End.GABLE in ends:
        least_mm = desk.wall_clearance_mm + construction.cleat.thickness_mm + 2 * END_MM
        most_mm = desk.depth_mm - least_mm - GABLE_CLEAT_FRONT_MM
        reason = "so that a gable and its cleat remain under the top"
        yield Limit(("setback",), desk.setback_mm, 0.0, most_mm, reason)
    # What stands so far in from both edges stays under a corner of this radius.
    half_mm = half_mm if End.LEG in ends else 0.0
    inner_mm = max(0.0, min(desk.inset_mm, desk.setback_mm) - half_mm)
    most_mm = min(desk.width_mm, desk.depth_mm) / 2
    most_mm = min(most_mm, inner_mm * RADIUS_PER_OVERHANG)
    reason = "so that the rounded corner covers what carries it"
    yield Limit(("corner_radius",), desk.corner_radius_mm, 0.0, most_mm, reason)


def _ends(desk: DeskSizes, kind: End) -> tuple[Direction, ...]:
    """Return the ends of a desk that are carried so, the near one first."""
    ends = ((Direction.X_MINUS, desk.near_end), (Direction.X_PLUS, desk.far_end))
    return tuple(way for way, end in ends if end is kind)


def _foot(desk: DeskSizes, top: Box, end: Direction) -> Point:
    return Point(top.side(end) - end.sign * desk.inset_mm, top.high.y - desk.setback_mm, 0.0)


def _gable_box(plan: UnitPlan[DeskSizes], top: Box, end: Direction) -> Box:
    desk = plan.sizes
    outer = top.side(end) - end.sign * desk.inset_mm
    return Box.spanning(
        (outer, outer - end.sign * plan.construction.carcass.thickness_mm),
        (top.low.y + desk.wall_clearance_mm, top.high.y - desk.setback_mm),
        (0.0, top.low.z),
    )


def _gable(plan: UnitPlan[DeskSizes], top: Board, end: Direction) -> Assembly:
    """Return a gable with the cleat inside along its upper edge, screwed to it and to the top."""
    construction, bar = plan.construction, plan.construction.cleat
    which = "near" if end is Direction.X_MINUS else "far"
    gable = Board(
        name=f"{plan.name}/{which} gable",
        unit=plan.name,
        description=f"{plan.name} {which} gable",
        material=construction.carcass,
        box=_gable_box(plan, top.box, end),
        grain=Axis.Z,
        facing=end,
        show=Show.BOTH,
        bands=(Band(Direction.Y_PLUS, construction.band),),
    )
    inner = gable.box.side(end.opposite)
    cleat = Box.spanning(
        (inner, inner - end.sign * bar.thickness_mm),
        (max(gable.box.low.y, bar.thickness_mm), gable.box.high.y - GABLE_CLEAT_FRONT_MM),
        (top.box.low.z - bar.width_mm, top.box.low.z),
    )
    held = level_cleat(f"{gable.name} cleat", cleat, (gable.name, end), (top,), construction)
    return joined((Assembly(boards=(gable,)), held))


def _wall_cleats(plan: UnitPlan[DeskSizes], top: Box) -> Iterator[tuple[Box, Direction]]:
    """Yield the cleat along the wall, from gable to gable or nearly to the ends, and in a corner
    the one along the wall beside it, each with the way to its wall.
    """
    desk, bar = plan.sizes, plan.construction.cleat
    z = (top.low.z - bar.width_mm, top.low.z)
    low, high = (
        _cleat_end(plan, top, way, end)
        for way, end in ((Direction.X_MINUS, desk.near_end), (Direction.X_PLUS, desk.far_end))
    )
    yield Box.spanning((low, high), (0.0, bar.thickness_mm), z), Direction.Y_MINUS
    if plan.in_corner:
        side = (top.low.x, top.low.x + bar.thickness_mm)
        front = top.high.y - OPEN_END_MM
        yield Box.spanning(side, (bar.thickness_mm, front), z), Direction.X_MINUS


def _cleat_end(plan: UnitPlan[DeskSizes], top: Box, way: Direction, end: End) -> float:
    """Return where the cleat along the wall ends."""
    if end is End.GABLE:
        return _gable_box(plan, top, way).side(way.opposite)
    if plan.in_corner and way is Direction.X_MINUS:
        return top.side(way)
    return top.side(way) - way.sign * OPEN_END_MM


def _wall_cleat(
    plan: UnitPlan[DeskSizes], name: str, box: Box, wall: Direction, top: Board
) -> Assembly:
    """Return a cleat fixed to a wall, screwed up into the top, these screws between those and no
    more than another level cleat of its length has.
    """
    along = Axis.X if wall.axis is Axis.Y else Axis.Y
    apart_mm = plan.construction.wall_cleat_screws_apart_mm
    into_wall = spread(box.size(along), WALL_SCREW_END_MM, apart_mm)
    as_level = between(box.size(along), spread(box.size(along), END_MM, MOST_MM))
    places = evenly_of(between(box.size(along), into_wall), len(as_level))
    up = Fixing(into=top.name, direction=Direction.Z_PLUS, positions=places)
    cleat = screwed_cleat(name, "wall cleat", box, along, (up,), plan.construction)
    fixings = tuple(
        FixedToWall(
            screw=plan.construction.screw_wall,
            head=box.centre.at(along, box.low[along] + at).at(wall.axis, box.side(wall.opposite)),
            direction=wall,
            through=name,
            wall_mm=box.side(wall),
        )
        for at in into_wall
    )
    return joined((cleat, Assembly(joints=fixings)))


DESK = Family(
    name="desk",
    meaning="Desk: a top on a cleat along the wall and a gable or leg.",
    sizes=DeskSizes,
    stands=Stands.WALL,
    space=desk_space,
    parts=desk_parts,
    limits=desk_limits,
    fills="width_mm",
)
