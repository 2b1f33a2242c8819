"""What the walls of a room are made of, and the fixings of a set that follow."""

from __future__ import annotations

from dataclasses import dataclass, replace

from parametric.geometry.space import Axis
from parametric.geometry.walls import Wall, wall_towards
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall
from parametric.stock.wall_types import AS_USUAL, WallType


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomWalls:
    """The walls of the rooms of a job: `every` one, but for those that have their `own` type."""

    every: WallType = AS_USUAL
    own: tuple[tuple[Wall, WallType], ...] = ()

    def at(self, wall: Wall) -> WallType:
        """Return what a wall is."""
        return dict(self.own).get(wall, self.every)

    def behind(self, assembly: Assembly) -> Assembly:
        """Return a set in the room frame, its wall screws going into these walls."""
        joints = tuple(
            self._into(joint)
            if isinstance(joint, FixedToWall) and joint.direction.axis is not Axis.Z
            else joint
            for joint in assembly.joints
        )
        return replace(assembly, joints=joints)

    def _into(self, joint: FixedToWall) -> FixedToWall:
        wall = self.at(wall_towards(joint.direction, joint.wall_mm))
        return replace(joint, wall=wall, screw=wall.screw_for(joint.screw))


WOOD_STUDS = RoomWalls()
