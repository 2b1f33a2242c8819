"""Materials that a job is built without, as their stock does not suffice."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class StockForm(StrEnum):
    """What a material is bought as."""

    SHEETS = "sheets"
    BARS = "bars"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A material whose parts are on no sheet or bar, and what its stock lacks."""

    material: str
    form: StockForm
    why: str
