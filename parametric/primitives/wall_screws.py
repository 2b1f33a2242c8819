"""Rows of screws through an upright board into the wall that it stands against, or off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from parametric.geometry.space import Axis, Point
from parametric.geometry.spacing import Interval
from parametric.joints.joints import FixedToWall
from parametric.shapes.board import Board
from parametric.stock.construction import Construction

END_MM = 90.0  # from a board's ends, at most; common practice, no source
HEIGHT = 0.6  # share of the board's height: above wall base, below the deck cleats


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """How many screws there are at least, and how far apart at most."""

    least: int
    most_mm: float


def wall_screws(
    board: Board,
    along: Axis,
    row: Row,
    construction: Construction,
    *,
    off_wall_mm: float = 0.0,
    carries: bool = True,
    taken: Sequence[Interval] = (),
) -> tuple[FixedToWall, ...]:
    """Return the screws that fix a board to the wall that its front looks at, driven from its back;
    those in what is `taken` along it stand beside that. The wall's face is `off_wall_mm` beyond it.
    """
    inner = board.box.side(board.facing.opposite)
    z = board.box.low.z + board.box.size(Axis.Z) * HEIGHT
    # Clear of the upright cleats in the corners, where no driver gets at the heads.
    cleat_mm = construction.cleat.width_mm
    end = min(END_MM, cleat_mm + (board.box.size(along) - 2 * cleat_mm) / 4)
    run = board.box.size(along) - 2 * end
    gaps = max(row.least - 1, math.ceil(run / row.most_mm - 1e-9))
    even = [board.box.low[along] + end + run * gap / gaps for gap in range(gaps + 1)]
    screw = construction.screw_wall
    if off_wall_mm and construction.screw_off_wall is not None:
        screw = construction.screw_off_wall
    wall_mm = board.box.side(board.facing) + board.facing.sign * off_wall_mm
    return tuple(
        FixedToWall(
            screw=screw,
            head=Point(0.0, 0.0, z).at(along, _beside(place, taken)).at(board.facing.axis, inner),
            direction=board.facing,
            through=board.name,
            wall_mm=wall_mm,
            carries=carries,
        )
        for place in even
    )


def _beside(place: float, taken: Sequence[Interval]) -> float:
    """Return the place, or the nearer end of what takes it."""
    for low, high in taken:
        if low < place < high:
            return low if place - low <= high - place else high
    return place
