"""A panel and where it lies in the room."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.pose import Pose, reverse
from parametric.geometry.space import Point
from parametric.shapes.panel import FlatPanel


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
