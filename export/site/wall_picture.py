"""The picture of a wall for the blocking plan. Millimetres of the page."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from export.dimensions.scales import scales_of
from export.papers.drawn import CAPITAL_MM, CHARACTER_MM, Fit, on_page, path, scale_filling
from export.site.content import BlockingZone, Callout, WallElevation
from export.svg.elements import Point2, closed_path_data, number, text_element
from parametric.geometry.outline import Bounds, Outline, PlaneMotion
from parametric.stock.lengths import Units

WALL_SIZE_MM = (170.0, 80.0)
"""Width of the picture of a wall, and its greatest height."""

_LEADER_MM = 6.0  # between the picture and the labels on either side
_LABEL_STEP_MM = 5.2
_DIMENSION_ROOM_MM = 19.0  # under the floor
_DISTANCE_ROWS_MM = (10.0, 14.6)  # under it, of the rows of distances
_CLEAR_MM = 0.8
_RIM_MM = 3.0
_CROSS_MM = 0.8  # from the middle of a screw's cross to its ends


def wall_scale(walls: Sequence[WallElevation], units: Units) -> float:
    """Return millimetres of the page for one of the walls: the largest scale of drawings at which
    each of them has room, so that all can be drawn alike.
    """
    fits = (scale_filling(_corners(wall), _wall_room(wall)) for wall in walls)
    least = 1.0 / min(fits, default=1.0) - 1e-9
    smallest = scales_of(units)[-1]
    beyond = smallest * math.ceil(least / smallest)
    return 1.0 / next((each for each in scales_of(units) if each >= least), beyond)


def wall_svg(wall: WallElevation, scale: float) -> str:
    """Return the elevation of a wall: floor and corner heavy, zones filled, each screw a cross. It
    is as high as the wall needs at this `scale`.

    Its zones' edges are running dimensions (ISO 129-1): heights beside the corner, distances from
    it under the floor.
    """
    corners = _corners(wall)
    levels = [Callout(label=text, at=(0.0, y)) for y, text in wall.heights]
    far = max((x for x, _ in corners), key=abs)
    top = max(y for _, y in corners)
    labelled = _LABEL_STEP_MM * (len(levels) + 0.5)
    height = max(top * scale + _DIMENSION_ROOM_MM + _RIM_MM + _LABEL_STEP_MM, labelled)
    size = (WALL_SIZE_MM[0], height)
    fit = Fit(scale, size[0] / 2 - scale * far / 2, _DIMENSION_ROOM_MM)
    body = [path(fit.lines([[(far, 0.0), (0.0, 0.0), (0.0, top)]]), "#000", 0.7)]
    ends = [[(0.0, y), (far, y)] for y, _ in wall.heights]
    body.append(path(fit.lines(ends), "#999", 0.1, "1 1"))
    for zone in wall.zones:
        body += _zone(zone, fit)
    body += _labels(levels, fit, size)
    body += _distances(wall, fit)
    return on_page((0.0, 0.0, *size), wall.title, body)


def _corners(wall: WallElevation) -> list[Point2]:
    """Return what a picture of the wall holds: its corner at the floor, and those of its zones."""
    low = [(zone.area.x0, zone.area.y0) for zone in wall.zones]
    return [(0.0, 0.0), *low, *((zone.area.x1, zone.area.y1) for zone in wall.zones)]


def _wall_room(wall: WallElevation) -> Bounds:
    """Return the room that a wall may take on its picture."""
    width, height = WALL_SIZE_MM
    column = _column([Callout(label=text, at=(0.0, y)) for y, text in wall.heights])
    top = height - _RIM_MM - _LABEL_STEP_MM
    return Bounds(column, _DIMENSION_ROOM_MM, width - column, top)


def _zone(zone: BlockingZone, fit: Fit) -> list[str]:
    (x0, y0), (x1, y1) = fit.at((zone.area.x0, zone.area.y0)), fit.at((zone.area.x1, zone.area.y1))
    outline = Outline.rectangle(x1 - x0, y1 - y0).moved(PlaneMotion(0, False, x0, y0))
    drawn = [
        f'<path d="{closed_path_data(outline.vertices)}" fill="#ddd" stroke="#000"'
        ' stroke-width="0.25"/>'
    ]
    for x, y in map(fit.at, zone.screws):
        ends = (x - _CROSS_MM, y), (x + _CROSS_MM, y), (x, y - _CROSS_MM), (x, y + _CROSS_MM)
        cross = [ends[:2], ends[2:]]
        drawn.append(path(cross, "#000", 0.25))
    drawn.append(text_element(zone.label, *_label_in(zone, fit), CAPITAL_MM, anchor="middle"))
    return drawn


def _label_in(zone: BlockingZone, fit: Fit) -> Point2:
    """Return where a zone's label stands: in the widest room between its screws or its ends, so
    that no neighbour's edge runs through it; above a zone that has too little.
    """
    low, high = fit.at((zone.area.x0, zone.area.y0)), fit.at((zone.area.x1, zone.area.y1))
    across = sorted((low[0], high[0], *(fit.at(screw)[0] for screw in zone.screws)))
    left, right = max(pairwise(across), key=lambda pair: round(pair[1] - pair[0], 6))
    if right - left < CHARACTER_MM + 2 * (_CROSS_MM + _CLEAR_MM):
        return (low[0] + high[0]) / 2, high[1] + _CLEAR_MM
    return (left + right) / 2, (low[1] + high[1] - CAPITAL_MM) / 2


def _distances(wall: WallElevation, fit: Fit) -> list[str]:
    """Return the distances from the corner, in two rows under the floor by turns.

    No line crosses another one or a number: each number keeps its place in the order, and as far
    from the next as is half as wide as it. They are laid out from the corner outwards, and back
    from the rim of the page, so that mirrored walls get mirrored rows.
    """
    floor = fit.at((0.0, 0.0))[1]
    halves = [CHARACTER_MM * (len(text) + 1) / 2 for _, text in wall.across]
    steps = [max(pair) + _CLEAR_MM for pair in pairwise(halves)]
    ends = [fit.at((distance, 0.0))[0] for distance, _ in wall.across]
    outwards = 1.0 if wall.across[-1][0] > 0 else -1.0
    places = [outwards * end for end in ends]
    for at, step in enumerate(steps, start=1):
        places[at] = max(places[at], places[at - 1] + step)
    places[-1] = min(places[-1], (WALL_SIZE_MM[0] if outwards > 0 else 0.0) - halves[-1])
    for at, step in reversed(list(enumerate(steps))):
        places[at] = min(places[at], places[at + 1] - step)
    drawn = []
    for at, (distance, text) in enumerate(wall.across):
        x = outwards * places[at]
        turn = floor - _DISTANCE_ROWS_MM[0] + CAPITAL_MM + _CLEAR_MM
        y = floor - _DISTANCE_ROWS_MM[at % 2]
        lowest = min((z.area.y0 for z in wall.zones if distance in _edges(z)), default=0.0)
        bends = (ends[at], floor - _CLEAR_MM), (x, turn), (x, y + CAPITAL_MM + _CLEAR_MM / 2)
        drawn.append(path([[fit.at((distance, lowest)), *bends]], "#777", 0.1))
        drawn.append(text_element(text, x, y, CAPITAL_MM, anchor="middle"))
    return drawn


def _edges(zone: BlockingZone) -> tuple[float, float]:
    return round(zone.area.x0, 3), round(zone.area.x1, 3)


def _column(callouts: Iterable[Callout]) -> float:
    return _LEADER_MM + 2 + CHARACTER_MM * max((len(c.label) for c in callouts), default=0)


def _labels(callouts: Sequence[Callout], fit: Fit, size: tuple[float, float]) -> list[str]:
    """Return the labels in a column on either side, each on its own line, with their leaders."""
    width, height = size
    column = _column(callouts) - _LEADER_MM
    listed = sorted((fit.at(c.at), c.label) for c in callouts)
    # As many on one side as on the other; an odd one goes to where it is nearer.
    half, odd = divmod(len(listed), 2)
    on_left = half + (odd and listed[half][0][0] <= width / 2)
    if len({point[0] for point, _ in listed}) == 1:  # along one upright, all on its nearer side
        on_left = len(listed) if listed[0][0][0] <= width / 2 else 0
    left, right = listed[:on_left], listed[on_left:]
    sides = ((left, column, -1.0, "end"), (right, width - column, 1.0, "start"))
    body = []
    for side, x, outwards, anchor in sides:
        top = height
        ordered = sorted(side, key=lambda each: (-each[0][1], each[1]))
        for below, (point, label) in zip(reversed(range(len(side))), ordered, strict=True):
            lowest = _LABEL_STEP_MM * (below + 0.5)
            top = max(lowest, min(point[1], top - _LABEL_STEP_MM))
            body.append(path([[point, (x, top + CAPITAL_MM / 2)]], "#000", 0.13))
            dot = f'cx="{number(point[0])}" cy="{number(-point[1])}"'
            body.append(f'<circle {dot} r="0.5" fill="#000"/>')
            body.append(text_element(label, x + outwards, top, CAPITAL_MM, anchor=anchor))
    return body
