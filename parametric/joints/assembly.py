"""Boards, members and the joints between them: a unit, or a whole set."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from parametric.geometry.space import Placing
from parametric.joints.joints import FixedToWall, Joint, placed_joint
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle, WallPlate


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """Parts placed in one frame. Names of boards and members are unique in an assembly."""

    boards: tuple[Board, ...] = ()
    members: tuple[Member, ...] = ()
    joints: tuple[Joint, ...] = ()

    def placed(self, placing: Placing) -> Assembly:
        """Return the assembly where `placing` puts it; a product of -1 mirrors it."""
        return Assembly(
            boards=tuple(board.placed(placing) for board in self.boards),
            members=tuple(member.placed(placing) for member in self.members),
            joints=tuple(placed_joint(joint, placing) for joint in self.joints),
        )

    def board(self, name: str) -> Board:
        """Return the board called `name`.

        Raises:
            KeyError: there is none.
        """
        for board in self.boards:
            if board.name == name:
                return board
        raise KeyError(name)

    def part(self, name: str) -> Board | Member:
        """Return the board or member called `name`.

        Raises:
            KeyError: there is none.
        """
        for part in (*self.boards, *self.members):
            if part.name == name:
                return part
        raise KeyError(name)

    def angle(self, name: str) -> SteelAngle:
        """Return the steel angle called `name`.

        Raises:
            KeyError: there is none.
        """
        for angle in self.angles:
            if angle.name == name:
                return angle
        raise KeyError(name)

    def on_walls(self) -> frozenset[str]:
        """Return the members that are put up on a wall by themselves: wall plates, and cleats that
        are fixed to it.
        """
        fixed = self.wall_fixings()
        return frozenset(member.name for member in self.members if member.name in fixed)

    def wall_fixings(self) -> dict[str, tuple[FixedToWall, ...]]:
        """Return the screws into the wall by the part that they go through, in order."""
        found: dict[str, list[FixedToWall]] = {}
        for joint in self.joints:
            if isinstance(joint, FixedToWall):
                found.setdefault(joint.through, []).append(joint)
        return {name: tuple(joints) for name, joints in found.items()}

    def held_by_walls(self) -> dict[str, tuple[FixedToWall, ...]]:
        """Return the screws into the wall that carry, by the part that they go through."""
        carrying = {
            name: tuple(joint for joint in joints if joint.carries)
            for name, joints in self.wall_fixings().items()
        }
        return {name: joints for name, joints in carrying.items() if joints}

    @property
    def cleats(self) -> tuple[Cleat, ...]:
        """The cleats, in order."""
        return tuple(member for member in self.members if isinstance(member, Cleat))

    @property
    def angles(self) -> tuple[SteelAngle, ...]:
        """The steel angles, in order."""
        return tuple(member for member in self.members if isinstance(member, SteelAngle))

    @property
    def legs(self) -> tuple[Leg, ...]:
        """The legs, in order."""
        return tuple(member for member in self.members if isinstance(member, Leg))

    @property
    def wall_plates(self) -> tuple[WallPlate, ...]:
        """The wall plates, in order."""
        return tuple(member for member in self.members if isinstance(member, WallPlate))


def joined(assemblies: Iterable[Assembly]) -> Assembly:
    """Return one assembly of all the parts and joints, in order."""
    listed = tuple(assemblies)
    return Assembly(
        boards=tuple(board for assembly in listed for board in assembly.boards),
        members=tuple(member for assembly in listed for member in assembly.members),
        joints=tuple(joint for assembly in listed for joint in assembly.joints),
    )
