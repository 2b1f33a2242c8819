"""What parts and cuts are made of before they are put together: polygons drawn out straight."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.outline import Outline, Vertex
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.meshes.facets import polygon
from parametric.shapes.board import RoundedCorner

QUARTER_BULGE = math.tan(math.pi / 8)

# The corners of a rectangle, counter-clockwise, by the sides that meet there.
AROUND = ((-1, -1), (1, -1), (1, 1), (-1, 1))

Points = NDArray[np.float64]
Triangles = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prism:
    """A convex polygon drawn out along `axis`, millimetres.

    `corners` has shape (n, 2) and runs counter-clockwise in the plane of the two axes that follow
    `axis` in the order x, y, z, x, y. `bounds` has shape (2, 3): least and greatest coordinates.
    """

    axis: Axis
    corners: Points
    bounds: Points

    @property
    def low(self) -> float:
        """Where it starts along its axis."""
        return float(self.bounds[0, self.axis])

    @property
    def high(self) -> float:
        """Where it ends along its axis."""
        return float(self.bounds[1, self.axis])

    def points(self, low: float, high: float) -> Points:
        """Return the corners at `low`, then those at `high`, shape (2 n, 3)."""
        count, plane = len(self.corners), plane_axes(self.axis)
        points = np.empty((2 * count, 3))
        points[:count, plane] = points[count:, plane] = self.corners
        points[:count, self.axis] = low
        points[count:, self.axis] = high
        return points


@lru_cache(maxsize=256)
def triangles(corners: int) -> tuple[Triangles, Triangles, Triangles]:
    """Return the triangles of a prism's lower end, its upper end and its sides, as indices of its
    points, counter-clockwise as seen from outside.
    """
    inner, corner = np.arange(1, corners - 1), np.arange(corners)
    following = (corner + 1) % corners
    start = np.zeros_like(inner)
    lower = _rows((start, inner + 1, inner))
    sides = _rows(
        (corner, following, following + corners), (corner, following + corners, corner + corners)
    )
    return lower, lower[:, ::-1] + np.int32(corners), sides


def _rows(*columns: tuple[NDArray[np.intp], ...]) -> Triangles:
    return np.concatenate([np.stack(each, axis=1) for each in columns]).astype(np.int32)


def plane_axes(axis: Axis) -> tuple[int, int]:
    """Return the axes of the plane square to `axis`, so that with it they are right-handed."""
    return (axis + 1) % 3, (axis + 2) % 3


def box_bounds(box: Box) -> Points:
    """Return the box as bounds, shape (2, 3)."""
    return np.array((box.low, box.high))


def block(box: Box, axis: Axis = Axis.Z, corners: Iterable[RoundedCorner] = ()) -> Prism:
    """Return a block whose named edges, which run along `axis`, are rounded."""
    first, second = plane_axes(axis)
    radii = {}
    for corner in corners:
        signs = {side.axis: side.sign for side in (corner.first, corner.second)}
        radii[signs[Axis(first)], signs[Axis(second)]] = corner.radius_mm
    sides = {-1: box.low, 1: box.high}
    vertices = []
    for x_sign, y_sign in AROUND:
        x, y = sides[x_sign][first], sides[y_sign][second]
        radius = radii.get((x_sign, y_sign))
        if radius is None:
            vertices.append(Vertex(x, y))
            continue
        on_side, on_next = Vertex(x, y - y_sign * radius), Vertex(x - x_sign * radius, y)
        start, end = (on_side, on_next) if x_sign == y_sign else (on_next, on_side)
        vertices += [start._replace(bulge=QUARTER_BULGE), end]
    return _drawn_out(Outline(tuple(vertices)), axis, box.low[axis], box.high[axis])


def cylinder(at: Point, diameter_mm: float, axis: Axis, low: float, high: float) -> Prism:
    """Return a cylinder about the line along `axis` through `at`."""
    circle, centre = _circle(diameter_mm, axis), np.array(at)
    bounds = circle.bounds + centre
    bounds[:, axis] = low, high
    corners = circle.corners + centre[list(plane_axes(axis))]
    return Prism(axis=axis, corners=corners, bounds=bounds)


@lru_cache(maxsize=256)
def _circle(diameter_mm: float, axis: Axis) -> Prism:
    """Return a circle about the origin, drawn out by nothing."""
    return _drawn_out(Outline.circle(0.0, 0.0, diameter_mm), axis, 0.0, 0.0)


def half_cylinder(
    box: Box, axis: Axis, side: Direction, bottom: Direction, radius_mm: float
) -> Prism:
    """Return what a bit takes beyond `side` of the box when it runs on there along the bottom: half
    a circle on that side, from the corner at `bottom`, as long as the box along `axis`.
    """
    first, second = plane_axes(axis)
    corner = box.low.at(side.axis, box.side(side)).at(bottom.axis, box.side(bottom))
    ends = [corner, corner.along(bottom.opposite, 2 * radius_mm)]
    # Counter-clockwise, a side that looks along the first axis is run up along the second, one that
    # looks along the second is run down along the first.
    ahead = side.sign if side.axis == first else -side.sign
    start, end = sorted(ends, key=lambda end: end[bottom.axis] * ahead)
    arc = (Vertex(start[first], start[second], 1.0), Vertex(end[first], end[second]))
    return _drawn_out(Outline(arc), axis, box.low[axis], box.high[axis])


def _drawn_out(outline: Outline, axis: Axis, low: float, high: float) -> Prism:
    corners = np.array(polygon(outline))
    bounds = np.empty((2, 3))
    bounds[:, plane_axes(axis)] = corners.min(axis=0), corners.max(axis=0)
    bounds[:, axis] = low, high
    return Prism(axis=axis, corners=corners, bounds=bounds)
