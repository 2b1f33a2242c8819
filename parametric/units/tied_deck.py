"""How a deck over a base box is screwed to the steel angles that run into the box."""

from __future__ import annotations

from collections.abc import Iterator

from parametric.geometry.space import Box
from parametric.joints.assembly import Assembly
from parametric.primitives.decked_box import DeckHold
from parametric.primitives.steel_angle import MIDDLE, QUARTERS, screwed_up
from parametric.shapes.board import Board
from parametric.units.family import AnyPlan


def tied_deck(
    plan: AnyPlan, deck: Board, whole: Box, base: Box, hold: DeckHold
) -> Iterator[Assembly]:
    """Yield the screws up into the deck where it overhangs the box beside each panel that an angle
    runs through: two, or one that draws down a deck which adhesive holds.
    """
    shares = MIDDLE if hold is DeckHold.BONDED else QUARTERS
    beside_low, beside_high = (whole.low.x, base.low.x), (base.high.x, whole.high.x)
    for tied in plan.tied:
        if tied.low:
            yield screwed_up(tied.angle, deck, beside_low, plan.construction, shares)
        if tied.high:
            yield screwed_up(tied.angle, deck, beside_high, plan.construction, shares)
