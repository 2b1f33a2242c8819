"""Where pieces are drawn on their way in: set back from their place, the way that they come."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import Delivered, delivered, joined_from
from parametric.joints.joints import Screwed
from parametric.joints.standing import rim
from parametric.pictures.bodies import AS_IT_STANDS
from parametric.shapes.members import SteelAngle
from parametric.steps.portions import base_of
from parametric.steps.step_findings import ways_in
from parametric.steps.straight_way import FROM_ABOVE, in_the_way

Boxes = Mapping[str, tuple[Box, ...]]

# How far back: a share of the longest side of what is put together, within limits; to be seen as
# apart and still as belonging there. Common practice, no source.
_SHARE, _LEAST_MM, _MOST_MM = 0.45, 120.0, 500.0
SHOWN_TILT_DEG = 20.0  # a tilted way is drawn where it is this steep, or as steep as it gets


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """Parts that come as one and where they are drawn; `tilt_deg` is the steepest tilt on their way
    in, of which they are drawn tilted `SHOWN_TILT_DEG` at most, and `first` the way to which their
    lower end goes.
    """

    names: tuple[str, ...]
    pose: Pose = AS_IT_STANDS
    tilt_deg: float = 0.0
    first: Direction | None = None


def apart(
    assembly: Assembly, boxes: Boxes, names: Sequence[str], beside: Sequence[str]
) -> tuple[Coming, ...]:
    """Return the pieces that are screwed together, each set back from its place straight out of the
    others; the heaviest one, or what is joined already (`beside`), stays.
    """
    wanted = {*names, *beside}
    pieces = [each for each in delivered(assembly) if not wanted.isdisjoint(each.names)]
    return _set_back(assembly, boxes, pieces, set(beside) or set(base_of(pieces).names))


def in_parts(assembly: Assembly, boxes: Boxes, piece: Delivered) -> tuple[Coming, ...]:
    """Return what a piece is joined from, each set back from the largest one, which stays."""
    made_of = joined_from(assembly, piece)
    stays = next(each for each in made_of if piece.main in each.parts)
    return _set_back(assembly, boxes, made_of, set(stays.names))


def _set_back(
    assembly: Assembly, boxes: Boxes, pieces: Sequence[Delivered], stay: Collection[str]
) -> tuple[Coming, ...]:
    """Return the pieces taken apart as far as they come off, what comes off first the furthest."""
    whole = rim([piece.box for piece in pieces])
    kept = [piece for piece in pieces if set(stay).issuperset(piece.names)]
    left = [piece for piece in pieces if piece not in kept]
    rounds: list[dict[str, Direction]] = []
    while left:
        there = [*kept, *left]
        ways = {each.main.name: _way_out(assembly, each, there, boxes, whole) for each in left}
        free = {name: way for name, way in ways.items() if way is not None}
        rounds.append(free or dict.fromkeys(ways, FROM_ABOVE))
        left = [piece for piece in left if piece.main.name not in rounds[-1]]
    poses = {
        name: _back(way, _distance_mm(whole) * (len(rounds) - number))
        for number, ways in enumerate(rounds)
        for name, way in ways.items()
    }
    return tuple(
        Coming(names=piece.names, pose=poses.get(piece.main.name, AS_IT_STANDS)) for piece in pieces
    )


def _way_out(
    assembly: Assembly, piece: Delivered, there: Sequence[Delivered], boxes: Boxes, whole: Box
) -> Direction | None:
    """Return the way in which a piece comes off what is there: back along its screws, as most of
    them say; then the way on which it lies from the middle of the whole. None where none is free.
    """
    others = {name: boxes[name] for other in there if other is not piece for name in other.names}
    coming = [box for name in piece.names for box in boxes[name]]
    middle, centre = whole.centre, piece.main.box.centre
    votes = Counter(_back_along_screws(assembly, piece, others))

    def order(way: Direction) -> tuple[float, ...]:
        off = (middle[way.axis] - centre[way.axis]) * way.sign
        inwards = round(off / (whole.size(way.axis) or 1.0), 3)
        return votes[way.opposite] - votes[way], inwards, 0 if way is FROM_ABOVE else 1 + way.axis

    free = [way for way in Direction if not in_the_way(coming, others, way)]
    return min(free, key=order, default=None)


def _back_along_screws(
    assembly: Assembly, piece: Delivered, others: Collection[str]
) -> Iterator[Direction]:
    """Yield for each screw that joins a piece to others the way in which the piece comes off it."""
    for joint in assembly.joints:
        if isinstance(joint, Screwed):
            if joint.through in piece.names and joint.into in others:
                yield joint.direction.opposite
            elif joint.into in piece.names and joint.through in others:
                yield joint.direction


def on_their_way(
    assembly: Assembly,
    boxes: Boxes,
    names: Sequence[str],
    there: Boxes,
    from_room: Collection[Direction],
) -> Coming:
    """Return parts that are brought to their place as one, set back the way that is free: down from
    above, or from the room.
    """
    listed = tuple(names)
    first = assembly.part(listed[0])
    if isinstance(first, SteelAngle):
        tilted = _tilted(assembly, first, there)
        if tilted is not None:
            return tilted
    coming = [box for name in names for box in boxes[name]]
    met = {way: len(in_the_way(coming, there, way)) for way in (FROM_ABOVE, *from_room)}
    away = _distance_mm(rim([assembly.part(name).box for name in names]))
    return Coming(names=listed, pose=_back(min(met, key=lambda way: met[way]), away))


def off_the_wall(name: str, out: Direction) -> Coming:
    """Return what is put up on a wall, held in front of it."""
    return Coming(names=(name,), pose=_back(out, _LEAST_MM))


def way_in(assembly: Assembly, coming: Coming) -> tuple[Point, Point] | None:
    """Return a point of what comes where it is drawn, in front, and where that ends up; None of
    what is drawn in its place.
    """
    if coming.pose == AS_IT_STANDS:
        return None
    whole = rim([assembly.part(name).box for name in coming.names])
    ahead = coming.first or main_way(coming.pose)
    place = whole.centre.at(ahead.axis, whole.side(ahead))
    return coming.pose.to_room(place), place


def main_way(pose: Pose) -> Direction:
    """Return the direction in which what is set back straight goes home."""
    axis = max(Axis, key=lambda each: abs(pose.origin[each]))
    return Direction((axis, -1 if pose.origin[axis] > 0 else 1))


def _tilted(assembly: Assembly, angle: SteelAngle, there: Boxes) -> Coming | None:
    """Return a member as it is held on its tilted way, None where it needs no tilt."""
    ways = list(ways_in(assembly, angle, there))
    if not ways:
        return None
    edge, towards, way = max(ways, key=lambda each: each[2].spare_mm)
    if way.tilt_deg <= 0:
        return None
    steep = min(SHOWN_TILT_DEG, way.tilt_deg)
    held = next(each for each in way.postures if each.tilt_deg >= steep)
    tilt = math.radians(held.tilt_deg)
    back = held.reach_mm - (angle.box.side(towards) - edge[towards.axis]) * towards.sign
    # Along the tilted member by `back`, then turned about the edge of the notch and raised.
    along, down = towards.vector, Point(0.0, 0.0, -1.0)
    x_axis = Point(
        *(a * math.cos(tilt) + d * math.sin(tilt) for a, d in zip(along, down, strict=True))
    )
    z_axis = Point(
        *(a * math.sin(tilt) - d * math.cos(tilt) for a, d in zip(along, down, strict=True))
    )
    turn = _turn_of(towards, x_axis, z_axis)
    raised = edge.along(FROM_ABOVE, held.raised_mm)
    away = turn.turned(Point(0.0, 0.0, 0.0).along(towards, back))
    at = turn.turned(edge)
    origin = Point(*(r - a + b for r, a, b in zip(raised, at, away, strict=True)))
    return Coming(
        names=(angle.name,),
        pose=Pose(origin, turn.x_axis, turn.z_axis),
        tilt_deg=way.tilt_deg,
        first=towards,
    )


def _turn_of(towards: Direction, x_axis: Point, z_axis: Point) -> Pose:
    """Return the turn that takes `towards` to `x_axis` and up to `z_axis`."""
    if towards.axis is Axis.X:
        own_x = Point(*(value * towards.sign for value in x_axis))
        return Pose(AS_IT_STANDS.origin, own_x, z_axis)
    y_axis = Point(*(value * towards.sign for value in x_axis))
    # x is y cross z.
    own_x = Point(
        y_axis.y * z_axis.z - y_axis.z * z_axis.y,
        y_axis.z * z_axis.x - y_axis.x * z_axis.z,
        y_axis.x * z_axis.y - y_axis.y * z_axis.x,
    )
    return Pose(AS_IT_STANDS.origin, own_x, z_axis)


def _distance_mm(whole: Box) -> float:
    longest = max(whole.size(axis) for axis in Axis)
    return min(max(_SHARE * longest, _LEAST_MM), _MOST_MM)


def _back(way: Direction, distance_mm: float) -> Pose:
    return Pose(
        Point(0.0, 0.0, 0.0).along(way, distance_mm), AS_IT_STANDS.x_axis, AS_IT_STANDS.z_axis
    )
