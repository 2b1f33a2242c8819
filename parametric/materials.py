"""Sheet goods, edge bands and linear stock, as a job's library files describe them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from parametric.tolerances import Tolerance


class GoodFaces(StrEnum):
    """Which faces of a sheet are fit to be seen."""

    NONE = "none"
    ONE = "one"
    BOTH = "both"


class Grain(StrEnum):
    """Whether the sheet has a direction that parts must follow."""

    LENGTHWISE = "lengthwise"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A sheet that can be bought: its length is the way the grain runs. Price per sheet."""

    key: str
    length_mm: float
    width_mm: float
    price: float
    on_hand: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetMaterial:
    """A board material of one thickness, with the stock it comes in.

    `thickness_tolerance` is None where the library does not say; checks then say so.
    """

    key: str
    description: str
    thickness_mm: float
    thickness_tolerance: Tolerance | None = None
    density_kg_m3: float
    good_faces: GoodFaces
    grain: Grain
    stock: tuple[StockSheet, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeBand:
    """An edge band; its thickness counts in the finished size of the part."""

    key: str
    description: str
    thickness_mm: float
    thickness_tolerance: Tolerance | None = None
    density_kg_m3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BarMaterial:
    """Rectangular linear stock for cleats: `thickness_mm` is the lesser side of the section."""

    key: str
    description: str
    thickness_mm: float
    width_mm: float
    density_kg_m3: float
    stock_length_mm: float
