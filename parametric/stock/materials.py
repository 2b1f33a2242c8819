"""Sheet goods, edge bands and linear stock, as a job's library files describe them."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from parametric.stock.origin import Origin
from parametric.stock.tolerances import Tolerance


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
    """A sheet that can be bought: its length is the way the grain runs. Price per sheet.

    `origin` is where a job's files list it, or limit how many there are.
    """

    key: str
    length_mm: float
    width_mm: float
    price: float
    on_hand: int | None
    origin: Origin | None = field(default=None, compare=False)


class BoardKind(StrEnum):
    """What a board is made of: decides how long loads and damp weaken it."""

    PARTICLEBOARD = "particleboard"
    MDF = "MDF"
    PLYWOOD = "plywood"


class Figures(StrEnum):
    """What the figures of a board's strength are."""

    CHARACTERISTIC = "characteristic"  # 95 boards of 100 bear more
    MEAN = "mean"  # half of the boards bear less


@dataclass(frozen=True, slots=True, kw_only=True)
class PulledScrew:
    """What pulled a screw out of the face of a board in a test, and how deep it was in."""

    pull_n: float
    diameter_mm: float
    bite_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PulledHead:
    """What pulled the head of a screw through so much board under it in a test."""

    pull_n: float
    diameter_mm: float
    board_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardStrength:
    """What tests or a standard say a board bears; all of it from `source`, all of one sort.

    Strengths are in N/mm2 in the weaker direction: bending across the face, its modulus of
    elasticity, tension across the face (internal bond), compression in the plane. `creep_factor`
    is None where that of its kind holds. What is None is not known, and checks that need it say so.
    """

    bending_n_mm2: float
    elasticity_n_mm2: float
    source: str
    figures: Figures
    creep_factor: float | None = None
    internal_bond_n_mm2: float | None = None
    in_plane_n_mm2: float | None = None
    screw: PulledScrew | None = None
    head: PulledHead | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetMaterial:
    """A board material of one thickness, with the stock it comes in.

    `thickness_tolerance`, `kind` and `formaldehyde` (its class, as its maker states it) are None
    where the library does not say; checks then say so.
    `stock_origin` is where a job's files begin to list the stock.
    """

    key: str
    description: str
    thickness_mm: float
    thickness_tolerance: Tolerance | None = None
    density_kg_m3: float
    good_faces: GoodFaces
    grain: Grain
    stock: tuple[StockSheet, ...]
    kind: BoardKind | None = None
    strength: BoardStrength | None = None
    formaldehyde: str | None = None
    stock_origin: Origin | None = field(default=None, compare=False)


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
    """Rectangular linear stock for cleats: `thickness_mm` is the lesser side of the section.

    `kerf_mm` is what the blade for it takes, where that is not what the saw usually takes;
    `stock_origin` is where a job's files say in what length it is bought.
    """

    key: str
    description: str
    thickness_mm: float
    width_mm: float
    density_kg_m3: float
    stock_length_mm: float
    kerf_mm: float | None = None
    stock_origin: Origin | None = field(default=None, compare=False)
