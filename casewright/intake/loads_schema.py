"""Schema of what sets must carry, and what they are fixed to."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from casewright.intake.entry import Entry, LengthIn
from parametric.strength.board_rules import Climate
from parametric.strength.loads import LEANING_N, SEAT_N, SPREAD_N_M2, Loads, Use
from parametric.strength.wood_screws import GRAVITIES

_PLAIN = Loads()
_LEAST_GRAVITY, _MOST_GRAVITY = GRAVITIES


class LoadsEntry(Entry):
    """Loads by the published figures, or more. All keys may be left out."""

    use: Annotated[
        Use,
        Field(
            strict=False,
            description="How hard seats are used: home, contract or severe; sets their test load.",
        ),
    ] = _PLAIN.use
    seat_n: Annotated[
        float,
        Field(ge=SEAT_N, le=20_000, description="Anywhere on a deck, newtons (ADA 903.6: 1112)."),
    ] = _PLAIN.seat_n
    leaning_n: Annotated[
        float,
        Field(
            ge=LEANING_N,
            le=20_000,
            description="Anywhere on a work surface, newtons (EN 527-2, from memory: 1000).",
        ),
    ] = _PLAIN.leaning_n
    spread_n_m2: Annotated[
        float,
        Field(
            ge=SPREAD_N_M2,
            le=20_000,
            description="Spread over decks and tables, N/m2.",
        ),
    ] = _PLAIN.spread_n_m2
    lasting: Annotated[
        float,
        Field(ge=_PLAIN.lasting, le=1, description="Share of the spread load that lies for years."),
    ] = _PLAIN.lasting
    panel_n: Annotated[
        float,
        Field(
            ge=_PLAIN.panel_n,
            le=20_000,
            description="Added to the mass of a hung panel, newtons.",
        ),
    ] = _PLAIN.panel_n
    climate: Annotated[
        Climate,
        Field(
            strict=False,
            description="Air of the rooms: heated, or humid (ships, wash rooms, some clinics).",
        ),
    ] = _PLAIN.climate
    blocking: Annotated[float, LengthIn(10, 300, "Thickness of blocking behind the lining.")] = (
        _PLAIN.blocking_mm
    )
    blocking_gravity: Annotated[
        float,
        Field(
            ge=_LEAST_GRAVITY,
            le=_MOST_GRAVITY,
            description="Specific gravity of blocking and studs, oven dry (NDS table 12.3.3A).",
        ),
    ] = _PLAIN.blocking_gravity
    lining: Annotated[float, LengthIn(0, 60, "Wall lining in front of blocking and studs.")] = (
        _PLAIN.lining_mm
    )

    def loads(self) -> Loads:
        """Return the figures in the domain's own type."""
        return Loads(
            use=self.use,
            seat_n=self.seat_n,
            leaning_n=self.leaning_n,
            spread_n_m2=self.spread_n_m2,
            lasting=self.lasting,
            panel_n=self.panel_n,
            climate=self.climate,
            blocking_mm=self.blocking,
            blocking_gravity=self.blocking_gravity,
            lining_mm=self.lining,
        )
