"""The kits of the sets of a job, and of all its rooms together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from parametric.geometry.hand import Hand
from parametric.joints.assembly import Assembly
from parametric.kit.count import times, together
from parametric.kit.kit import Kit

NOTHING = Kit(lines=())


@dataclass(frozen=True, slots=True, kw_only=True)
class SetKit:
    """The kit of one set in one hand, the rooms that have it, and the assembly it counts; `shop` is
    the hardware of what is joined in the shop.
    """

    set_name: str
    hand: Hand
    rooms: int
    assembly: Assembly
    kit: Kit
    shop: Kit = NOTHING


def whole_shop_hardware(kits: Iterable[SetKit]) -> Kit:
    """Return the hardware that the shop needs for all rooms."""
    return together(times(each.shop, each.rooms) for each in kits)


def whole_kit(kits: Iterable[SetKit]) -> Kit:
    """Return the kit of all rooms: each room's box is packed by itself, with its own spares."""
    return together(times(each.kit, each.rooms) for each in kits)
