"""Texts that stand wherever there is room: radii, and the letters of holes and cuts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product

from export.dimensions.content import Arrow, Dimension, Line, Measure, Reading, Text, text_size
from export.dimensions.free_space import FreeSpace, grown
from export.part_drawing.content import Mark
from export.part_drawing.needed import Arc
from export.part_drawing.plan import RoundSize
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds

_ROUND_MM = 0.35  # kept free round a text
_GAP_MM = 0.7  # between a leader and its text
_WAYS = 16  # directions that are tried
_FAR_MM = (3.0, 4.5, 6.0, 8.0, 10.5, 13.5, 17.0, 21.0, 26.0, 32.0, 40.0, 50.0, 65.0, 85.0, 110.0)
_POINTED_MM = _FAR_MM[1:]  # an arrowhead takes its length
_NEAR_MM = (0.5, 0.8, 1.2, 1.7, 2.3)  # without a leader it is plain what is meant
_LETTER_MM = (*_NEAR_MM, 3.0, 4.5, 6.0, 8.0, 10.5, 13.5)


class NoRoom(ValueError):
    """A text that must be told finds no free place."""


def radius_dimension(arc: Arc, size: RoundSize, inwards: Point2, space: FreeSpace) -> Dimension:
    """Return a radius or a diameter, with its leader to the middle of the arc, in free space:
    rather on the side of the arc that looks to `inwards`.

    Raises:
        NoRoom: the page has none left.
    """
    (cx, cy), (mx, my) = arc.centre, arc.middle
    sign = 1.0 if (inwards[0] - mx) * (mx - cx) + (inwards[1] - my) * (my - cy) > 0 else -1.0
    first = math.atan2(sign * (my - cy), sign * (mx - cx))
    found = _found(size.text, arc.middle, _POINTED_MM, first, space, pointed=True)
    if found is None:
        raise NoRoom(size.text)
    placed, leader = found
    arrow = _arrow(leader)
    points = (arc.centre, arc.middle)
    if size.measure is Measure.DIAMETER:
        points = ((2 * cx - mx, 2 * cy - my), arc.middle)
    taken(placed, leader, space)
    space.draw(arrow.head)
    return Dimension(
        measure=size.measure,
        value_mm=size.value_mm,
        text=placed,
        points=points,
        lines=(leader,),
        arrows=(arrow,),
    )


def cut_mark(mark: str, inside: Point2, space: FreeSpace) -> Mark:
    """Return the mark of a cut, with a leader that ends inside it.

    Raises:
        NoRoom: the page has none left.
    """
    found = _found(mark, inside, _FAR_MM, math.radians(67.5), space)
    if found is None:
        raise NoRoom(mark)
    taken(*found, space)
    return Mark(*found)


def notch_mark(mark: str, within: Bounds, space: FreeSpace) -> Mark | None:
    """Return the mark of a notch, in it where there is room, else beside it; None without any."""
    middle = ((within.x0 + within.x1) / 2, (within.y0 + within.y1) / 2)
    text = Text(mark, middle)
    if space.has_room(grown(text.box, _ROUND_MM)):
        taken(text, (), space)
        return Mark(text)
    found = _found(mark, middle, _FAR_MM[:8], math.radians(45.0), space)
    if found is None:
        return None
    taken(*found, space)
    return Mark(*found)


def letter(text: str, middle: Point2, radius_mm: float, space: FreeSpace) -> Mark | None:
    """Return the letter of a hole beside it, with a leader where it has to stand farther off; None
    where there is no room: the table has its place all the same.
    """
    steps = [radius_mm + step for step in _LETTER_MM]
    found = _found(text, middle, steps, math.radians(45.0), space)
    if found is None:
        return None
    placed, leader = found
    near = math.dist(leader[0], leader[1]) <= radius_mm + _NEAR_MM[-1]
    start = _moved(middle, _unit(middle, leader[1]), radius_mm)
    kept: Line = () if near else (start, leader[1])
    taken(placed, kept, space)
    return Mark(placed, kept)


def taken(text: Text, leader: Line, space: FreeSpace) -> None:
    """Take a text and its leader out of the free space."""
    space.write(text.box)
    if leader:
        space.draw(leader)


def _found(
    text: str,
    anchor: Point2,
    steps: Sequence[float],
    first_rad: float,
    space: FreeSpace,
    *,
    pointed: bool = False,
) -> tuple[Text, Line] | None:
    for placed, leader in _spots(text, anchor, steps, first_rad):
        if not space.has_room(grown(placed.box, _ROUND_MM)) or not space.is_clear(*leader):
            continue
        tip, *feet = _arrow(leader).head
        if not pointed or all(space.is_clear(tip, foot) for foot in feet):
            return placed, leader
    return None


def _arrow(leader: Line) -> Arrow:
    return Arrow(leader[0], _unit(leader[1], leader[0]))


def _spots(
    text: str, anchor: Point2, steps: Sequence[float], first_rad: float
) -> Iterator[tuple[Text, Line]]:
    """Yield where a text may stand, the nearest first, and the line from its anchor towards it."""
    turns = sorted(range(_WAYS), key=lambda turn: (min(turn, _WAYS - turn), turn))
    for reading, step in product(Reading, steps):
        across, up = text_size(text, reading)
        for turn in turns:
            angle = first_rad + turn * 2 * math.pi / _WAYS
            way = (math.cos(angle), math.sin(angle))
            reach = min(
                across / 2 / abs(way[0]) if abs(way[0]) > 1e-9 else math.inf,
                up / 2 / abs(way[1]) if abs(way[1]) > 1e-9 else math.inf,
            )
            placed = Text(text, _moved(anchor, way, step + reach), reading)
            yield placed, (anchor, _moved(anchor, way, max(step - _GAP_MM, 0.1)))


def _moved(point: Point2, way: Point2, by_mm: float) -> Point2:
    return (point[0] + way[0] * by_mm, point[1] + way[1] * by_mm)


def _unit(start: Point2, end: Point2) -> Point2:
    long = math.dist(start, end)
    return ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
