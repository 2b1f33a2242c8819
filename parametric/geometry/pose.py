"""Proper rigid placements of a panel frame in the room: turns and shifts, never a mirror."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from parametric.geometry.space import Point


def cross(a: Point, b: Point) -> Point:
    """Return the cross product."""
    return Point(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x)


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a frame lies: its origin, and unit vectors of its x and z axes; y is z cross x."""

    origin: Point
    x_axis: Point
    z_axis: Point

    @property
    def y_axis(self) -> Point:
        """The unit vector across, so that the frame is right-handed."""
        return cross(self.z_axis, self.x_axis)

    def to_room(self, point: Point) -> Point:
        """Return where a point given in the frame lies in the room."""
        (x, y, z), (away_x, away_y, away_z) = self.origin, self.turned(point)
        return Point(x + away_x, y + away_y, z + away_z)

    def turned(self, vector: Point) -> Point:
        """Return what a vector given in the frame is in the room."""
        (x, y, z), along, across, up = vector, self.x_axis, self.y_axis, self.z_axis
        return Point(
            fsum((x * along.x, y * across.x, z * up.x)) + 0.0,
            fsum((x * along.y, y * across.y, z * up.y)) + 0.0,
            fsum((x * along.z, y * across.z, z * up.z)) + 0.0,
        )

    def of(self, inner: Pose) -> Pose:
        """Return where a frame lies that is given in this one."""
        return Pose(
            self.to_room(inner.origin), self.turned(inner.x_axis), self.turned(inner.z_axis)
        )


def reverse(vector: Point) -> Point:
    """Return the vector that points the other way."""
    return Point(*(0.0 - value for value in vector))
