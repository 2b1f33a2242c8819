"""Schema of how long work on site and at the bench takes."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry
from casewright.intake.to_domain import in_domain
from parametric.steps.bench_rates import BenchRates
from parametric.steps.site_rates import SiteRates

_PLAIN, _BENCH = SiteRates(), BenchRates()
Minutes = Annotated[float, Field(ge=0, le=600)]


class HoursEntry(Entry):
    """Minutes from which papers reckon the hours of a room, and the estimate those of the bench.
    All keys may be left out.
    """

    step: Annotated[Minutes, Field(description="To read a step, mark and check, for each.")] = (
        _PLAIN.step_minutes
    )
    piece: Annotated[Minutes, Field(description="To bring in and place a piece, for each.")] = (
        _PLAIN.piece_minutes
    )
    screw: Annotated[Minutes, Field(description="To drive a screw.")] = _PLAIN.screw_minutes
    wall_screw: Annotated[
        Minutes, Field(description="To find wood, drill, shim and drive a screw into the wall.")
    ] = _PLAIN.wall_screw_minutes
    bead: Annotated[
        Minutes, Field(description="To lay a bead of adhesive on a board, and press.")
    ] = _PLAIN.bead_minutes

    shop_screw: Annotated[
        Minutes, Field(description="At the bench: to drive a screw, glue included.")
    ] = _BENCH.shop_screw_minutes
    shop_piece: Annotated[
        Minutes, Field(description="At the bench: to lay out, clamp and clean a joined piece.")
    ] = _BENCH.shop_piece_minutes
    shop_edge: Annotated[Minutes, Field(description="To band and trim an edge.")] = (
        _BENCH.shop_edge_minutes
    )

    def bench_rates(self) -> BenchRates:
        """Return the figures of the bench in the domain's own type."""
        return in_domain(BenchRates, self)

    def rates(self) -> SiteRates:
        """Return the figures in the domain's own type."""
        return in_domain(SiteRates, self)
