"""What the router imposes on a part: the bit's own radius, and the edges milled before banding."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from parametric.stock.tolerances import CutTolerances


class CornerRelief(StrEnum):
    """How a square member gets into an inside corner that a round bit has cut."""

    OVERCUT = "overcut"  # the bit runs on into the sides, level with the bottom
    WIDEN = "widen"  # the corner keeps the bit's radius, which is added to the clearance


@dataclass(frozen=True, slots=True, kw_only=True)
class Routing:
    """Data of the machine that shape parts.

    `bit_diameter_mm` is the finishing bit; `pre_mill_mm` is what the edge bander mills off each
    banded edge, so the part is cut larger by as much. `tolerances` are what parts come out to.
    """

    bit_diameter_mm: float
    corner_relief: CornerRelief
    pre_mill_mm: float
    tolerances: CutTolerances = field(default_factory=CutTolerances)

    @property
    def bit_radius_mm(self) -> float:
        """Radius that the bit leaves in an inside corner."""
        return self.bit_diameter_mm / 2
