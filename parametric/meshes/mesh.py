"""Triangles of one thing in one frame."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parametric.geometry.pose import Pose
from parametric.geometry.space import Point


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """A closed surface. `points` has shape (n, 3), millimetres; `triangles` has shape (m, 3), three
    indices of points each, counter-clockwise as seen from outside. Neither can be written to.
    """

    points: NDArray[np.float64]
    triangles: NDArray[np.int32]

    def __post_init__(self) -> None:
        """Close both arrays: one mesh is shared by all parts of its shape."""
        self.points.flags.writeable = False
        self.triangles.flags.writeable = False

    @property
    def volume_mm3(self) -> float:
        """The volume inside."""
        return float(self._cones().sum())

    @property
    def centre(self) -> Point:
        """The centre of mass of what is inside, all of one density."""
        cones = self._cones()
        moments = cones @ self.points[self.triangles].sum(axis=1) / 4
        return Point(*(float(moment) for moment in moments / cones.sum()))

    def placed(self, pose: Pose) -> Mesh:
        """Return the mesh, given in the frame that lies at `pose`, in the room."""
        axes = np.array((pose.x_axis, pose.y_axis, pose.z_axis))
        return Mesh(points=self.points @ axes + np.array(pose.origin), triangles=self.triangles)

    def _cones(self) -> NDArray[np.float64]:
        """Return the signed volume between each triangle and the origin."""
        a, b, c = np.moveaxis(self.points[self.triangles], 1, 0)
        volumes: NDArray[np.float64] = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6
        return volumes
