"""What is taken out of a board or bar: holes and cutouts, in the frame the part is placed in."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from parametric.space import Box, Direction, Point


class Corner(StrEnum):
    """What an inside corner of a cutout looks like."""

    OVERCUT = "overcut"  # a bit-sized circle through the corner, so that a square member enters
    ROUND = "round"  # the bit's own radius


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole from its mouth `start` in `direction`; `depth_mm` None goes right through."""

    start: Point
    direction: Direction
    diameter_mm: float
    depth_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutout:
    """A box-shaped cut made by a router moving square to `tool` (the way the bit points).

    Sides of the box that lie on or beyond the part's own side are open; where two closed sides meet
    there is an inside corner of the kind `corner`.
    """

    box: Box
    tool: Direction
    corner: Corner


Feature = Hole | Cutout
