"""Schema of what one trip to the site may carry."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry
from casewright.intake.to_domain import in_domain
from export.store.content import Truck


class DeliveryEntry(Entry):
    """What the truck may carry; rooms are shared out over trips accordingly. What is left out does
    not count.
    """

    payload_kg: Annotated[
        float | None, Field(ge=50, le=40_000, description="Mass of furniture on one trip.")
    ] = None
    volume_m3: Annotated[
        float | None,
        Field(
            ge=0.5, le=120, description="Room for pieces on one trip, gaps between them left out."
        ),
    ] = None

    def truck(self) -> Truck:
        """Return the figures in the domain's own type."""
        return in_domain(Truck, self)
