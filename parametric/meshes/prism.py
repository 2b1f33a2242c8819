"""What parts and cuts are made of before they are put together: outlines drawn out straight."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from parametric.geometry.outline import Outline, Vertex
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.shapes.board import RoundedCorner

QUARTER_BULGE = math.tan(math.pi / 8)


@dataclass(frozen=True, slots=True, kw_only=True)
class Prism:
    """A convex outline drawn out along `axis` from `low` to `high`, millimetres.

    The outline runs counter-clockwise in the plane of the two axes that follow `axis` in the order
    x, y, z, x, y.
    """

    axis: Axis
    outline: Outline
    low: float
    high: float


def plane_axes(axis: Axis) -> tuple[Axis, Axis]:
    """Return the axes of the plane square to `axis`, so that with it they are right-handed."""
    return Axis((axis + 1) % 3), Axis((axis + 2) % 3)


def block(box: Box, axis: Axis = Axis.Z, corners: Iterable[RoundedCorner] = ()) -> Prism:
    """Return a block whose named edges, which run along `axis`, are rounded."""
    radii = {frozenset((corner.first, corner.second)): corner.radius_mm for corner in corners}
    first, second = plane_axes(axis)
    round_it = (
        (Direction((second, -1)), Direction((first, 1))),
        (Direction((first, 1)), Direction((second, 1))),
        (Direction((second, 1)), Direction((first, -1))),
        (Direction((first, -1)), Direction((second, -1))),
    )
    vertices = []
    for before, after in round_it:  # the sides that meet in each corner, as the outline runs
        radius = radii.get(frozenset((before, after)), 0.0)
        corner = box.low.at(before.axis, box.side(before)).at(after.axis, box.side(after))
        if radius:
            start = corner.along(after.opposite, radius)
            vertices.append(Vertex(start[first], start[second], QUARTER_BULGE))
            corner = corner.along(before.opposite, radius)
        vertices.append(Vertex(corner[first], corner[second]))
    return Prism(
        axis=axis, outline=Outline(tuple(vertices)), low=box.low[axis], high=box.high[axis]
    )


def cylinder(at: Point, diameter_mm: float, axis: Axis, low: float, high: float) -> Prism:
    """Return a cylinder about the line along `axis` through `at`."""
    first, second = plane_axes(axis)
    outline = Outline.circle(at[first], at[second], diameter_mm)
    return Prism(axis=axis, outline=outline, low=low, high=high)


def half_cylinder(
    box: Box, axis: Axis, side: Direction, bottom: Direction, radius_mm: float
) -> Prism:
    """Return what a bit takes beyond `side` of the box when it runs on there along the bottom: half
    a circle on that side, from the corner at `bottom`, as long as the box along `axis`.
    """
    first, second = plane_axes(axis)
    corner = box.low.at(side.axis, box.side(side)).at(bottom.axis, box.side(bottom))
    ends = [corner, corner.along(bottom.opposite, 2 * radius_mm)]
    # Counter-clockwise the side is run along in the way that is a quarter turn on from its own.
    onwards = Direction((second if side.axis is first else first, 1))
    ahead = side.sign if side.axis is first else -side.sign
    ends.sort(key=lambda end: end[onwards.axis] * ahead)
    start, end = (Vertex(point[first], point[second], 1.0) for point in ends)
    outline = Outline((start, end._replace(bulge=0.0)))
    return Prism(axis=axis, outline=outline, low=box.low[axis], high=box.high[axis])
