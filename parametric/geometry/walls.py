"""The walls of a room that furniture stands along, and where their frames lie."""

from __future__ import annotations

from enum import StrEnum

from parametric.geometry.space import Axis, Direction, Placing, Point

_ALONG_SIDE = (Axis.Y, Axis.X, Axis.Z)


class Wall(StrEnum):
    """A wall of a room, seen from the corner of head wall and side wall.

    The foot wall is opposite the head wall and has its corner with the side wall; the far wall is
    opposite the side wall and has its corner with the head wall.
    """

    HEAD = "head wall"
    SIDE = "side wall"
    FOOT = "foot wall"
    FAR = "far wall"

    @property
    def is_opposite(self) -> bool:
        """Whether it stands opposite one that meets the corner, so far from it."""
        return self in {Wall.FOOT, Wall.FAR}

    @property
    def corner_with(self) -> Wall:
        """The wall that it has its corner with."""
        return Wall.HEAD if self in {Wall.SIDE, Wall.FAR} else Wall.SIDE

    def placing(self, away_mm: float = 0.0) -> Placing:
        """Return where the frame of the wall lies in the corner frame; `away_mm` is how far it
        stands from the wall opposite, if that one meets the corner.
        """
        match self:
            case Wall.HEAD:
                return Placing()
            case Wall.SIDE:
                return Placing(axes=_ALONG_SIDE)
            case Wall.FOOT:
                return Placing(signs=(1, -1, 1), shift=Point(0.0, away_mm, 0.0))
            case Wall.FAR:
                return Placing(axes=_ALONG_SIDE, signs=(-1, 1, 1), shift=Point(away_mm, 0.0, 0.0))


def wall_towards(direction: Direction, wall_mm: float) -> Wall:
    """Return the wall that a direction of the room frame points into, which has its face at
    `wall_mm` on that axis.
    """
    if direction.axis is Axis.Y:
        return Wall.HEAD if direction is Direction.Y_PLUS else Wall.FOOT
    return Wall.SIDE if wall_mm == 0 else Wall.FAR
