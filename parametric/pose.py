"""Proper rigid placements of a panel frame in the room: turns and shifts, never a mirror."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from parametric.panel import FlatPanel
from parametric.space import Point


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
        moved = zip(self.origin, self.turned(point), strict=True)
        return Point(*(start + away for start, away in moved))

    def turned(self, vector: Point) -> Point:
        """Return what a vector given in the frame is in the room."""
        axes = (self.x_axis, self.y_axis, self.z_axis)
        return Point(
            *(
                fsum(value * axis[i] for value, axis in zip(vector, axes, strict=True)) + 0.0
                for i in range(3)
            )
        )

    def of(self, inner: Pose) -> Pose:
        """Return where a frame lies that is given in this one."""
        return Pose(
            self.to_room(inner.origin), self.turned(inner.x_axis), self.turned(inner.z_axis)
        )


@dataclass(frozen=True, slots=True)
class LaidPanel:
    """A panel and where its frame lies in the room. Turning it turns both together."""

    panel: FlatPanel
    pose: Pose

    def turned_half(self) -> LaidPanel:
        """Return the same panel with its frame turned half round."""
        corner = Point(self.panel.length_mm, self.panel.width_mm, 0.0)
        pose = Pose(self.pose.to_room(corner), reverse(self.pose.x_axis), self.pose.z_axis)
        return LaidPanel(self.panel.turned_half(), pose)

    def turned_quarter(self) -> LaidPanel:
        """Return the same panel with its frame turned so that length and width change places."""
        corner = Point(0.0, self.panel.width_mm, 0.0)
        pose = Pose(self.pose.to_room(corner), reverse(self.pose.y_axis), self.pose.z_axis)
        return LaidPanel(self.panel.turned_quarter(), pose)

    def turned_over(self) -> LaidPanel:
        """Return the same panel with its frame turned over about the length."""
        corner = Point(0.0, self.panel.width_mm, self.panel.thickness_mm)
        pose = Pose(self.pose.to_room(corner), self.pose.x_axis, reverse(self.pose.z_axis))
        return LaidPanel(self.panel.turned_over(), pose)


def reverse(vector: Point) -> Point:
    """Return the vector that points the other way."""
    return Point(*(0.0 - value for value in vector))
