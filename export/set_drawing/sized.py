"""What is told of a view and at which side, so that no line of a size runs through the picture
(ISO 129-1: extension lines begin at the outline or a small gap off it, and cross no other lines
where that can be avoided).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from export.dimensions.content import CAPITAL_MM
from export.dimensions.overall import beyond_mm, overall_reach_mm
from export.dimensions.running import Side, Station, reach_mm, sticks_out_mm
from export.set_drawing.content import SetView
from export.site.content import Line2
from export.svg.elements import Point2
from parametric.geometry.space import SAME_MM

Told = Callable[[float], str]
"""How a length stands in a drawing."""

WALL_MM = 2.0
"""How deep walls and the floor are hatched, millimetres of the page."""

_RIM_MM = 4.0  # round a view where nothing is written
_LINE_MM = 0.05  # lines are rounded to 0.01
_NEAR_MM = 150.0  # so near to what it tells of, the outline shows that; no source


@dataclass(frozen=True, slots=True)
class _Place:
    """A distance with its two ends: where the picture ends there, away from the corner and towards
    it; how far inside of these the parts end that it is told of.
    """

    station: Station
    inside: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizedView:
    """A view and all that is told of it, at any scale."""

    view: SetView
    places: tuple[tuple[_Place, ...], tuple[_Place, ...]]
    over_all: dict[Side, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What is written at which side of a view at 1 : `scale`, and how far out it reaches there."""

    view: SetView
    scale: float
    sides: dict[Side, tuple[Station, ...]]
    over_all: dict[Side, str]
    reach: dict[Side, float]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the picture."""
        box = self.view.box
        return (
            self.reach[Side.LEFT] + (box.x1 - box.x0) / self.scale + self.reach[Side.RIGHT],
            self.reach[Side.BELOW] + (box.y1 - box.y0) / self.scale + self.reach[Side.ABOVE],
        )


def sized(view: SetView, told: Told) -> SizedView:
    """Return a view with its distances from the corner, each once, and its sizes over all."""
    drawn = list(_drawn(view))
    along, across = (
        tuple(_placed(view, axis, station, drawn) for station in _stations(view, axis, told))
        for axis in (0, 1)
    )
    box = view.box
    size = (box.x1 - box.x0, box.y1 - box.y0)
    over_all = {sides_of(view, axis)[0]: told(size[axis]) for axis in (0, 1)}
    return SizedView(
        view=view, places=(along, across), over_all=over_all if view.from_corner else {}
    )


def frame_at(of: SizedView, scale: float) -> Frame:
    """Return what is written at each side of a view at 1 : `scale`."""
    view, over_all = of.view, of.over_all
    size = (view.box.x1 - view.box.x0, view.box.y1 - view.box.y0)
    walled = tuple(wall_sides(view))
    sides: dict[Side, tuple[Station, ...]] = {}
    for axis, places in enumerate(of.places):
        for side, listed in _by_side(places, view, axis, size[axis] / scale).items():
            off = WALL_MM * scale if side in walled else 0.0
            sides[side] = tuple(_off_the_wall(station, side, off) for station in listed)
    reach = {
        side: overall_reach_mm(reach_mm(listed)) if side in over_all else reach_mm(listed)
        for side, listed in sides.items()
    }
    for side in walled:
        reach[side] = max(reach[side], CAPITAL_MM + 1.0) + WALL_MM
    for axis in (0, 1):  # what sticks out does so at the end away from the corner
        end = sides_of(view, 1 - axis)[0]
        for side in sides_of(view, axis):
            reach[end] = max(reach[end], sticks_out_mm(sides[side], size[axis] / scale))
            text_end = Side.RIGHT if axis == 0 else Side.ABOVE
            if side in over_all:
                more = beyond_mm(over_all[side], size[axis] / scale)
                reach[text_end] = max(reach[text_end], more)
    reach = {side: max(far + 1.0, _RIM_MM) for side, far in reach.items()}
    return Frame(view=view, scale=scale, sides=sides, over_all=over_all, reach=reach)


def sides_of(view: SetView, axis: int) -> tuple[Side, Side]:
    """Return the sides at which distances along an axis stand, the one away from the corner
    first.
    """
    box = view.box
    if axis == 0:
        below = abs(box.y0) >= abs(box.y1)
        return (Side.BELOW, Side.ABOVE) if below else (Side.ABOVE, Side.BELOW)
    left = abs(box.x0) >= abs(box.x1)
    return (Side.LEFT, Side.RIGHT) if left else (Side.RIGHT, Side.LEFT)


def wall_sides(view: SetView) -> Iterator[Side]:
    """Yield the sides of a view at which walls and the floor are drawn."""
    for _, wall in view.walls:
        yield wall_side(view, wall)


def wall_side(view: SetView, wall: Line2) -> Side:
    """Return the side of a view at which a wall or the floor is drawn."""
    (x0, y0), (x1, y1) = wall
    return sides_of(view, 0 if abs(y1 - y0) < abs(x1 - x0) else 1)[1]


def _stations(view: SetView, axis: int, told: Told) -> Iterator[Station]:
    """Yield the distances from the origin along an axis, each once."""
    box = view.box
    low, high = (box.x0, box.x1) if axis == 0 else (box.y0, box.y1)
    groups: list[list[Point2]] = []
    for place in sorted((view.along, view.across)[axis], key=lambda at: at[axis]):
        if abs(place[axis]) <= SAME_MM:
            continue
        if groups and place[axis] - groups[-1][0][axis] <= SAME_MM:
            groups[-1].append(place)
        else:
            groups.append([place])
    for group in groups:
        at = group[0][axis]
        if low - SAME_MM <= at <= high + SAME_MM:
            yield Station(abs(at), told(abs(at)), tuple(group), axis)


def _drawn(view: SetView) -> Iterator[Line2]:
    yield from view.lines
    yield from view.hidden
    for box in (box for face in view.faces for box in face.boxes):
        corners = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
        yield from pairwise((*corners, corners[0]))


def _placed(view: SetView, axis: int, station: Station, drawn: Iterable[Line2]) -> _Place:
    """Return a distance with the ends of the picture there instead of the parts' own."""
    at = station.points[0][axis]
    found = [level for line in drawn for level in _levels(line, axis, at)]
    points, inside = [], []
    for side in sides_of(view, axis):
        sign = side.value[1 - axis]
        own = station.nearest(side)[1 - axis]
        end = max(found, key=lambda level: sign * level, default=own)
        points.append((at, end) if axis == 0 else (end, at))
        inside.append(sign * (end - own))
    return _Place(replace(station, points=tuple(points)), (inside[0], inside[1]))


def _levels(line: Line2, axis: int, at: float) -> Iterator[float]:
    """Yield the places across an axis of what a line has where its coordinate is `at`."""
    (a, b) = line
    low, high = sorted((a[axis], b[axis]))
    if high < at - _LINE_MM or low > at + _LINE_MM:
        return
    if high - low <= _LINE_MM:
        yield from (a[1 - axis], b[1 - axis])
        return
    share = (min(max(at, low), high) - a[axis]) / (b[axis] - a[axis])
    yield a[1 - axis] + share * (b[1 - axis] - a[1 - axis])


def _by_side(
    places: Iterable[_Place], view: SetView, axis: int, room_mm: float
) -> dict[Side, tuple[Station, ...]]:
    """Return at which side each distance is written: away from the corner, but at the wall where
    only there the picture ends near the part that it tells of. What has no room at the one goes to
    the other: first what lies deepest in the picture.
    """
    away, near = sides_of(view, axis)
    listed = list(places)
    at_wall = [p for p in listed if view.from_corner and p.inside[1] <= _NEAR_MM < p.inside[0]]
    free = sorted((p for p in listed if p not in at_wall), key=lambda p: p.inside[0])
    while free and sticks_out_mm([p.station for p in free], room_mm):
        if sticks_out_mm([p.station for p in (*at_wall, free[-1])], room_mm):
            break
        at_wall.append(free.pop())

    def ordered(those: Iterable[_Place]) -> tuple[Station, ...]:
        stations = (place.station for place in those)
        return tuple(sorted(stations, key=lambda each: each.points[0][each.along]))

    return {away: ordered(free), near: ordered(at_wall)}


def _off_the_wall(station: Station, side: Side, off_mm: float) -> Station:
    """Return a distance that begins outside the hatching of a wall, if at the wall."""
    across = 1 - station.along
    x, y = station.nearest(side)
    if abs((x, y)[across]) > off_mm:
        return station
    out = (side.value[0] * off_mm, side.value[1] * off_mm)
    beyond = (x, out[1]) if across else (out[0], y)
    return replace(station, points=(*station.points, beyond)) if off_mm else station
