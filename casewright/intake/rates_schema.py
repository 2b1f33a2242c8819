"""Schema of what hours cost, and what is added."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry
from casewright.intake.to_domain import in_domain
from export.estimate.rates import Rates

Hour = Annotated[float | None, Field(ge=0, le=100_000)]
Percent = Annotated[float | None, Field(ge=0, le=1000)]


class RatesEntry(Entry):
    """Rates in the job's currency. All keys may be left out; what is, the estimate says."""

    machine_hour: Annotated[Hour, Field(description="An hour of the router, its operator in.")] = (
        None
    )
    bench_hour: Annotated[Hour, Field(description="An hour of a person at the bench.")] = None
    install_hour: Annotated[Hour, Field(description="An hour of a person on site.")] = None
    overhead_percent: Annotated[Percent, Field(description="Added to all costs.")] = None
    markup_percent: Annotated[Percent, Field(description="Added to costs and overhead.")] = None
    room_counts: Annotated[
        tuple[Annotated[int, Field(ge=1, le=10_000)], ...] | None,
        Field(
            strict=False,
            max_length=12,
            description="Numbers of rooms that the estimate tells the price of a room for, beside"
            " the job's own; left out: 1, 10, 50 and 100.",
        ),
    ] = None

    def rates(self) -> Rates:
        """Return the rates in the domain's own type."""
        return in_domain(Rates, self)
