"""A set placed in the room, in either hand."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.hand import Hand
from parametric.joints.assembly import Assembly, joined
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction
from parametric.units.known_units import KNOWN_UNITS
from parametric.units.set_plan import plan_set
from parametric.units.sizes import SetSizes


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomSet:
    """One set in one hand; its assembly is in the room frame, the room corner at the origin."""

    name: str
    hand: Hand
    sizes: SetSizes
    assembly: Assembly


def build_set(
    sizes: SetSizes,
    hand: Hand,
    construction: Construction,
    routing: Routing,
    sheet_trim_mm: float,
) -> RoomSet:
    """Return the set in the room.

    The families build it once, in the corner frame; the hand only decides how that frame lies in
    the room, so the two hands are exact mirror images.

    Raises:
        DeckTooLarge: no stock sheet holds a deck, even in pieces.
    """
    plan = plan_set(sizes, construction, routing, sheet_trim_mm)
    units = [family(plan) for family in KNOWN_UNITS.values()]
    tie = Assembly(members=() if plan.angle is None else (plan.angle,))
    assembly = joined([*units, tie]).signed(hand.corner_to_room)
    return RoomSet(name=sizes.name, hand=hand, sizes=sizes, assembly=assembly)
