"""Axis-aligned room geometry: axes, directions, points and boxes.

Two frames use these types:

* the *room frame*: facing the head wall from inside the room, x runs right along it, y points into
  the wall (the wall is y = 0, the room y < 0), z up from the finished floor;
* the *frame of a wall* in which the unit families are written once for all walls and both hands: x
  runs along the wall away from its corner, y out from the wall, z up. That of the head wall is
  called the *corner frame*.

`Placing` takes one to the other: axes change places and signs, and origins move.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, IntEnum
from math import fsum
from typing import NamedTuple

# Lengths closer than this are one length: far below any shop tolerance, far above float noise.
SAME_MM = 1e-6


class Axis(IntEnum):
    """A coordinate axis; its value indexes a point."""

    X = 0
    Y = 1
    Z = 2


class Point(NamedTuple):
    """A point or vector, millimetres."""

    x: float
    y: float
    z: float

    def along(self, direction: Direction, distance_mm: float) -> Point:
        """Return the point moved by `distance_mm` in `direction`."""
        moved = list(self)
        moved[direction.axis] += direction.sign * distance_mm
        return Point(*moved)

    def at(self, axis: Axis, value: float) -> Point:
        """Return the point with its coordinate on `axis` replaced."""
        moved = list(self)
        moved[axis] = value
        return Point(*moved)

    def placed(self, placing: Placing) -> Point:
        """Return where `placing` puts the point."""
        return Point(
            *(self[axis] * sign + shift for axis, sign, shift in zip(*placing, strict=True))
        )


def dot(a: Sequence[float], b: Sequence[float]) -> float:
    """Return the scalar product of two vectors."""
    return fsum(x * y for x, y in zip(a, b, strict=True))


def unit_vector(axis: Axis) -> Point:
    """Return the unit vector of an axis."""
    return Direction((axis, 1)).vector


class Placing(NamedTuple):
    """Where a frame lies in another one: for each axis of that one, which of its own runs along it,
    whether the same way (1) or against it (-1), and how far its origin lies along it.

    A product of signs and order of -1 is a mirror.
    """

    axes: tuple[Axis, Axis, Axis] = (Axis.X, Axis.Y, Axis.Z)
    signs: tuple[int, int, int] = (1, 1, 1)
    shift: Point = Point(0.0, 0.0, 0.0)

    def axis(self, own: Axis) -> Axis:
        """Return the axis that one of the frame's own runs along."""
        return Axis(self.axes.index(own))

    def of(self, inner: Placing) -> Placing:
        """Return where a frame lies that is placed in this one."""
        first, second, third = self.axes
        x, y, z = (
            sign * inner.signs[axis] for axis, sign in zip(self.axes, self.signs, strict=True)
        )
        return Placing(
            axes=(inner.axes[first], inner.axes[second], inner.axes[third]),
            signs=(x, y, z),
            shift=inner.shift.placed(self),
        )


class Direction(Enum):
    """One of the six axis directions."""

    X_PLUS = (Axis.X, 1)
    X_MINUS = (Axis.X, -1)
    Y_PLUS = (Axis.Y, 1)
    Y_MINUS = (Axis.Y, -1)
    Z_PLUS = (Axis.Z, 1)
    Z_MINUS = (Axis.Z, -1)

    @property
    def axis(self) -> Axis:
        """The axis the direction runs along."""
        return self.value[0]

    @property
    def sign(self) -> int:
        """+1 when the direction points to growing coordinates, else -1."""
        return self.value[1]

    @property
    def opposite(self) -> Direction:
        """The direction that points the other way."""
        return Direction((self.axis, -self.sign))

    @property
    def vector(self) -> Point:
        """The unit vector of the direction."""
        return Point(0.0, 0.0, 0.0).along(self, 1.0)

    def placed(self, placing: Placing) -> Direction:
        """Return the way it points where `placing` puts it."""
        axis = placing.axis(self.axis)
        return Direction((axis, self.sign * placing.signs[axis]))


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-aligned box from its `low` to its `high` corner, millimetres."""

    low: Point
    high: Point

    @classmethod
    def spanning(
        cls, x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]
    ) -> Box:
        """Return the box that covers the three intervals, each given in any order."""
        low = Point(min(x), min(y), min(z))
        return cls(low, Point(max(x), max(y), max(z)))

    def size(self, axis: Axis) -> float:
        """Return the extent along `axis` in millimetres."""
        return self.high[axis] - self.low[axis]

    def side(self, direction: Direction) -> float:
        """Return the coordinate, along its own axis, of the side that faces `direction`."""
        corner = self.high if direction.sign > 0 else self.low
        return corner[direction.axis]

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return Point(*((a + b) / 2 for a, b in zip(self.low, self.high, strict=True)))

    def corners(self, side: Direction) -> list[Point]:
        """Return the four corners of a side."""
        first, second = (axis for axis in Axis if axis is not side.axis)
        at = self.low.at(side.axis, self.side(side))
        return [
            at.at(first, one).at(second, other)
            for one in (self.low[first], self.high[first])
            for other in (self.low[second], self.high[second])
        ]

    def grown(self, direction: Direction, amount_mm: float) -> Box:
        """Return the box with the side facing `direction` moved outwards (inwards if negative)."""
        if direction.sign > 0:
            return Box(self.low, self.high.along(direction, amount_mm))
        return Box(self.low.along(direction, amount_mm), self.high)

    def overlap(self, other: Box) -> Box | None:
        """Return the common box, or None when the boxes share no volume."""
        # Spelled out: it is asked of every two boxes of a set, for each way that a part goes in.
        (ax, ay, az), (bx, by, bz) = self.low, other.low
        (cx, cy, cz), (dx, dy, dz) = self.high, other.high
        x, right = ax if ax > bx else bx, cx if cx < dx else dx
        if right - x <= SAME_MM:
            return None
        y, back = ay if ay > by else by, cy if cy < dy else dy
        if back - y <= SAME_MM:
            return None
        z, top = az if az > bz else bz, cz if cz < dz else dz
        if top - z <= SAME_MM:
            return None
        return Box(Point(x, y, z), Point(right, back, top))

    def contains(self, point: Point, slack_mm: float = SAME_MM) -> bool:
        """Return whether the point lies in the box, its surface included."""
        return all(
            l - slack_mm <= p <= h + slack_mm
            for l, p, h in zip(self.low, point, self.high, strict=True)
        )

    def placed(self, placing: Placing) -> Box:
        """Return the box where `placing` puts it."""
        a, b = self.low.placed(placing), self.high.placed(placing)
        return Box.spanning((a.x, b.x), (a.y, b.y), (a.z, b.z))
