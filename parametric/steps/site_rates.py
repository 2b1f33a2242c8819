"""How long work on site takes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteRates:
    """Minutes of work on site; the defaults are common practice, no source.

    `step_minutes` are to read a step, mark and check, for each who is needed at it;
    `piece_minutes` to bring in and place a piece, the same; `screw_minutes` to drive a screw,
    `wall_screw_minutes` to find wood, drill, shim and drive one into the wall, `bead_minutes` to
    lay a bead of adhesive on a board and press what lies on it.
    """

    step_minutes: float = 6.0
    piece_minutes: float = 2.0
    screw_minutes: float = 0.7
    wall_screw_minutes: float = 4.0
    bead_minutes: float = 2.0
