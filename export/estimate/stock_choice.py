"""Other ways to take the stock: each size of a material alone, beside all of them mixed."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from export.estimate.money import NONE

MIXED = "all sizes mixed"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockChoice:
    """The sheets of one material on some of its stock. Areas are totals in m2, to the square
    centimetre, as in `shop/yield.csv`; no nest on this stock costs less than `least_cost`. There
    are no figures where `why_not` says what does not fit. The `own` choice is what the job cuts.
    """

    material: str
    sizes: str
    own: bool
    sheets: int = 0
    sheet_m2: Decimal = Decimal(0)
    parts_m2: Decimal = Decimal(0)
    cost: Decimal = NONE
    least_cost: Decimal = NONE
    why_not: str = ""

    @property
    def name(self) -> str:
        """The material and the sizes."""
        return f"{self.material}, {self.sizes}"

    @property
    def share_used(self) -> Decimal:
        """The share (0 to 1) of the sheets that becomes parts."""
        return self.parts_m2 / self.sheet_m2 if self.sheet_m2 else Decimal(0)
