"""What is taken out of a board or bar: holes and cutouts, in the frame the part is placed in."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.space import Axis, Box, Direction, Point


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
    there is an inside corner, which keeps the bit's radius. With `overcut` a square member enters
    it: the bit runs on along that axis, by its radius past the side and touching the side across,
    on which the member bears.
    """

    box: Box
    tool: Direction
    overcut: Axis | None = None

    def flat(self, axis: Axis, bit_radius_mm: float) -> tuple[float, float]:
        """Return from where to where along `axis`, between two inside corners, the cut is as deep
        as its box: what a square member has.

        Raises:
            ValueError: overcuts run across the axis, and what is left between them is no seat.
        """
        if self.overcut not in (None, axis):
            raise ValueError("a cut is flat only along its overcuts")
        round_mm = bit_radius_mm if self.overcut is None else 0.0
        return self.box.low[axis] + round_mm, self.box.high[axis] - round_mm

    def reached(self, bit_radius_mm: float) -> Box:
        """Return the box that bounds all that the bit takes, overcuts included."""
        if self.overcut is None:
            return self.box
        further = self.box.grown(Direction((self.overcut, 1)), bit_radius_mm)
        return further.grown(Direction((self.overcut, -1)), bit_radius_mm)


Feature = Hole | Cutout
