"""From where a picture is seen: parallel projection, the picture's plane in millimetres, y up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric.geometry.pose import cross, reverse
from parametric.geometry.space import Point

PicturePoint = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Camera:
    """`towards` points from the scene to the viewer, `right` to the right of the picture; both are
    unit vectors, square to each other.
    """

    towards: Point
    right: Point

    @classmethod
    def slanting(cls, sideways: float, outwards: float, degrees_up: float) -> Camera:
        """Return the camera above (or, with negative degrees, below) what it looks at; it stands
        towards x `sideways` and y `outwards`, whose sizes only matter to each other. Upright lines
        are upright in the picture.
        """
        level = math.hypot(sideways, outwards)
        x, y = sideways / level, outwards / level
        flat, up = math.cos(math.radians(degrees_up)), math.sin(math.radians(degrees_up))
        return cls(Point(x * flat, y * flat, up), Point(-y, x, 0.0))

    @property
    def up(self) -> Point:
        """What points up in the picture."""
        return cross(self.towards, self.right)

    @property
    def upside_down(self) -> Camera:
        """The camera that stays where it is while all is turned half round, top down, about the
        level line that lies across the picture's depth: the floor side is then seen from above.
        """
        x, y, z = self.towards
        return Camera(Point(x, y, 0.0 - z), reverse(self.right))

    def seen(self, point: Point) -> PicturePoint:
        """Return where a point lies in the picture."""
        right, up = self.right, self.up
        return (
            point.x * right.x + point.y * right.y + point.z * right.z,
            point.x * up.x + point.y * up.y + point.z * up.z,
        )
