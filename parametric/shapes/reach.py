"""How far cuts reach in a part that fills a space: its rounded corners, holes and cutouts.

What makes solids and what makes meshes both ask here, each in its own way.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.space import SAME_MM, Axis, Box, Direction
from parametric.shapes.board import Board, RoundedCorner
from parametric.shapes.features import Cutout, Hole
from parametric.shapes.routing import Routing

# How far tools reach past an open side, so that no skin is left.
PAST_MM = 5.0
# Below this a rounded end would keep a straight piece too short for machine controls.
LEAST_PLAY_MM = 0.05


@dataclass(frozen=True, slots=True)
class CutReach:
    """The box of a cutout, run out past the part where it is open, and its inside corners, each by
    the two closed sides that meet there.
    """

    box: Box
    corners: tuple[tuple[Direction, Direction], ...]


def cut_corners(board: Board, space: Box) -> tuple[RoundedCorner, ...]:
    """Return the rounded corners as they are on the board without its bands.

    All arcs of a corner have one middle: where its edges carry a band, its radius is smaller by
    what the board lies inside its finished size, larger by what it reaches beyond before milling.
    """
    corners = []
    for corner in board.rounded:
        inset = (board.box.side(corner.first) - space.side(corner.first)) * corner.first.sign
        radius = max(corner.radius_mm - inset, 0.0)
        if radius > SAME_MM:
            corners.append(RoundedCorner(corner.first, corner.second, radius))
    return tuple(corners)


def hole_reach(hole: Hole, space: Box) -> tuple[float, float]:
    """Return from where to where the drill works, counted along the way that it goes: out past the
    hole's mouth and, if it goes through, past its end.

    The mouth is taken at the part's own side, so that a part cut larger for pre-milling is drilled
    to the same bottom.
    """
    axis, sign = hole.direction.axis, hole.direction.sign
    start = min(hole.start[axis] * sign, space.side(hole.direction.opposite) * sign) - PAST_MM
    if hole.depth_mm is None:
        return start, space.side(hole.direction) * sign + PAST_MM
    return start, hole.start[axis] * sign + hole.depth_mm


def cut_reach(cutout: Cutout, space: Box, routing: Routing) -> CutReach:
    """Return what the bit goes round in for a cutout.

    Raises:
        ValueError: the cut is too narrow for the bit.
    """
    box, open_sides = opened(cutout, space)
    first, second = (axis for axis in Axis if axis is not cutout.tool.axis)
    across = (first, second) if cutout.overcut is None else (cutout.overcut,)
    narrowest = min(box.size(axis) for axis in across)
    if narrowest < routing.bit_diameter_mm + LEAST_PLAY_MM:
        raise ValueError(
            f"a {narrowest:.2f} mm wide cut is too narrow for the "
            f"{routing.bit_diameter_mm:.2f} mm bit"
        )
    closed = tuple(
        (a, b)
        for a in (Direction((first, -1)), Direction((first, 1)))
        for b in (Direction((second, -1)), Direction((second, 1)))
        if a not in open_sides and b not in open_sides
    )
    return CutReach(box, closed)


def opened(cutout: Cutout, space: Box) -> tuple[Box, set[Direction]]:
    """Return the cutout's box run out past the part where it is open, and its open sides."""
    box = cutout.box
    open_sides = set()
    for side in Direction:
        beyond = (box.side(side) - space.side(side)) * side.sign
        if side is cutout.tool.opposite or beyond >= -SAME_MM:
            open_sides.add(side)
            box = box.grown(side, max(PAST_MM - beyond, 0.0))
    return box, open_sides
