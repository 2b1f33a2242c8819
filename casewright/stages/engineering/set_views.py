"""The views of a set with sizes: plan, front and side, from the corner and the floor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from export.set_drawing.content import Plane, SetView
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds
from parametric.geometry.pose import cross
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly
from parametric.joints.standing import rim
from parametric.pictures.bodies import Body
from parametric.pictures.camera import Camera
from parametric.pictures.setting_out import told_in_height, told_in_plan, told_on_the_wall
from parametric.pictures.sight import Line, seen_lines
from parametric.sets.room_set import RoomSet

_ABOVE = Camera(Direction.Z_PLUS.vector, Direction.X_PLUS.vector)
_NEAR_MM, _LEVEL_MM = 3.0, 0.05  # lines so near are one on paper; a level or upright one
_UP = Direction.Z_PLUS.vector


def level_camera(towards: Direction) -> Camera:
    """Return the camera that looks level, from the side `towards`."""
    return Camera(towards.vector, cross(_UP, towards.vector))


def plan_view(room_set: RoomSet, bodies: Mapping[str, Body], planes: Sequence[Plane]) -> SetView:
    """Return the set seen from above, both walls behind it; cleats that are hidden are left out."""
    assembly = room_set.assembly
    cleats = {cleat.name for cleat in assembly.cleats}
    glass = _as_glass(bodies, [name for name in bodies if name not in cleats], _ABOVE)
    places = [_ABOVE.seen(point) for point in told_in_plan(assembly)]
    box = _box(room_set, _ABOVE)
    return SetView(
        title="plan",
        lines=all_seen(bodies, _ABOVE),
        hidden=glass,
        box=box,
        along=tuple(places),
        across=tuple(places),
        walls=(
            (Wall.HEAD.value, ((0.0, 0.0), (_far(box), 0.0))),
            (Wall.SIDE.value, ((0.0, 0.0), (0.0, box.y0))),
        ),
        planes=tuple(planes),
    )


def elevations(room_set: RoomSet, bodies: Mapping[str, Body]) -> tuple[SetView, ...]:
    """Return the set seen from the room, square to the head wall and to the side wall."""
    assembly = room_set.assembly
    away = Direction.X_PLUS.placed(room_set.hand.corner_to_room)
    on_side = room_set.along(Wall.SIDE)
    views = (
        ("front, looking at the head wall", Direction.Y_MINUS, None),
        ("side, looking at the side wall", away, on_side),
    )
    made = []
    for title, towards, own in views:
        camera = level_camera(towards)
        along = Axis.X if towards.axis is Axis.Y else Axis.Y
        units = {part.unit for part in (*assembly.boards, *assembly.members)} - on_side
        levels = _both_ends(
            assembly, told_in_height(assembly, units if own is None else own), Axis.Z
        )
        hung = _both_ends(assembly, told_on_the_wall(assembly, along), along)
        box = _box(room_set, camera)
        wall = Wall.SIDE if own is None else Wall.HEAD
        made.append(
            SetView(
                title=title,
                lines=all_seen(bodies, camera),
                hidden=_as_glass(bodies, [plate.name for plate in assembly.wall_plates], camera),
                box=box,
                along=tuple(map(camera.seen, hung)),
                across=tuple(map(camera.seen, levels)),
                walls=(
                    ("floor", ((0.0, 0.0), (_far(box), 0.0))),
                    (wall.value, ((0.0, 0.0), (0.0, box.y1))),
                ),
            )
        )
    return tuple(made)


def _both_ends(assembly: Assembly, places: Iterable[Point], axis: Axis) -> Iterator[Point]:
    """Yield places that are told along an axis, those that are a corner of a part with the opposite
    one at the same distance: what is told ends at both.
    """
    boxes = [part.box for part in (*assembly.boards, *assembly.members)]
    for place in places:
        yield place
        for box in boxes:
            if place in (box.low, box.high):
                yield (box.high if place == box.low else box.low).at(axis, place[axis])


def _as_glass(bodies: Mapping[str, Body], names: Iterable[str], camera: Camera) -> tuple[Line, ...]:
    """Return all lines of some parts, as if nothing hid them."""
    return merged(seen_lines([[e for name in names for e in bodies[name].edges]], (), camera)[0])


def merged(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Return level and upright lines, those together that lie on each other or nearly so: dashes of
    several would look like a line. Others are left as they are.
    """
    spans: dict[tuple[int, float], list[tuple[float, float]]] = {}
    others: list[Line] = []
    for (x, y), (x_end, y_end) in lines:
        if abs(y_end - y) < _LEVEL_MM:
            spans.setdefault((0, round(y / _NEAR_MM) * _NEAR_MM), []).append((x, x_end))
        elif abs(x_end - x) < _LEVEL_MM:
            spans.setdefault((1, round(x / _NEAR_MM) * _NEAR_MM), []).append((y, y_end))
        else:
            others.append(((x, y), (x_end, y_end)))
    made: list[Line] = []
    for (upright, at), own in sorted(spans.items()):
        reached: list[list[float]] = []
        for low, high in sorted((min(pair), max(pair)) for pair in own):
            if reached and low <= reached[-1][1]:
                reached[-1][1] = max(reached[-1][1], high)
            else:
                reached.append([low, high])
        for low, high in reached:
            made.append(((at, low), (at, high)) if upright else ((low, at), (high, at)))
    return (*made, *others)


def all_seen(bodies: Mapping[str, Body], camera: Camera) -> tuple[Line, ...]:
    """Return all lines of a picture that nothing hides, each once."""
    groups = seen_lines([body.edges for body in bodies.values()], bodies.values(), camera)
    return tuple(dict.fromkeys(line for lines in groups for line in lines))


def seen_box(box: Box, camera: Camera) -> Bounds:
    """Return the bounds of a box in a picture."""
    return _bounds(camera.seen(corner) for side in Direction for corner in box.corners(side))


def _box(room_set: RoomSet, camera: Camera) -> Bounds:
    assembly = room_set.assembly
    whole = rim([part.box for part in (*assembly.boards, *assembly.members)])
    seen = seen_box(whole, camera)
    return _bounds([(seen.x0, seen.y0), (seen.x1, seen.y1), (0.0, 0.0)])


def _far(box: Bounds) -> float:
    """Return the end of a view that is away from the corner."""
    return max(box.x0, box.x1, key=abs)


def _bounds(points: Iterable[Point2]) -> Bounds:
    listed = list(points)
    xs, ys = [x for x, _ in listed], [y for _, y in listed]
    return Bounds(min(xs), min(ys), max(xs), max(ys))
