"""Schema of the narrowest places on the way into the rooms."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn
from parametric.findings.access import Access


class DoorEntry(Entry):
    """The narrowest door."""

    width: Annotated[float, LengthIn(300, 3000, "Clear, the leaf open.")]
    height: Annotated[float, LengthIn(1000, 4000, "Clear.")]


class LiftEntry(Entry):
    """The car of the lift."""

    width: Annotated[float, LengthIn(500, 5000, "Clear, handrails and doors deducted.")]
    depth: Annotated[float, LengthIn(500, 6000, "Clear, the door shut.")]
    height: Annotated[float, LengthIn(1500, 5000, "Clear, below lights.")]


class CornerEntry(Entry):
    """The tightest corner, where two corridors meet at a right angle."""

    from_width: Annotated[float, LengthIn(500, 10_000, "The corridor that one comes from.")]
    into_width: Annotated[float, LengthIn(500, 10_000, "The corridor that one turns into.")]


class AccessEntry(Entry):
    """The way into the rooms. What is left out is not checked."""

    door: Annotated[DoorEntry | None, Field(description="The narrowest door.")] = None
    lift: Annotated[LiftEntry | None, Field(description="The lift, if there is one.")] = None
    corner: Annotated[CornerEntry | None, Field(description="The tightest corner.")] = None

    def access(self) -> Access:
        """Return the figures in the domain's own type."""
        door, lift, corner = self.door, self.lift, self.corner
        return Access(
            door_mm=None if door is None else (door.width, door.height),
            lift_mm=None if lift is None else (lift.width, lift.depth, lift.height),
            corner_mm=None if corner is None else (corner.from_width, corner.into_width),
        )
