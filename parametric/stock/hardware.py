"""Fasteners, steel angle, legs and wall plates: the bought things that joints are made with."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum

from parametric.stock.origin import Origin
from parametric.stock.tolerances import Tolerance

STEEL_DENSITY_KG_M3 = 7850.0  # AISC prints weights at 490 lb/ft3 = 7849 kg/m3


class MadeFor(StrEnum):
    """What a screw's thread is made for: rules for wood screws do not hold for the others."""

    WOOD = "wood"
    BOARDS = "boards"
    METAL = "metal"


class Head(StrEnum):
    """How a screw's head bears: a flat one lies flush in its cone, a washer head on the face."""

    FLAT = "flat"
    WASHER = "washer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """A screw and the holes it wants.

    `clearance_diameter_mm` is drilled through the first part, `pilot_diameter_mm` into the second.
    `countersink_angle_deg` is the included angle of the head's cone: 82 for ASME B18.6.1 flat heads
    (from memory: 80 to 82), 90 for metric countersunk heads (from memory). `drive` is shape and
    size of the recess in the head: hexalobular (ISO 10664, "T20") or cross (ISO 4757, "PZ 2"); None
    where nobody has said.
    """

    key: str
    description: str
    length_mm: float
    major_diameter_mm: float
    root_diameter_mm: float
    head_diameter_mm: float
    clearance_diameter_mm: float
    pilot_diameter_mm: float
    countersink_angle_deg: float
    made_for: MadeFor = MadeFor.WOOD
    head: Head = Head.FLAT
    drive: str | None = None

    @property
    def bit(self) -> str:
        """The bit that drives it, in words."""
        if self.drive is None:
            return f"the bit that fits {self.description}"
        return f"bit {self.drive}"

    @property
    def countersink_depth_mm(self) -> float:
        """Depth of the cone that lets a flat head lie flush; a washer head has none."""
        if self.head is Head.WASHER:
            return 0.0
        half_angle = math.radians(self.countersink_angle_deg / 2)
        return (self.head_diameter_mm - self.major_diameter_mm) / 2 / math.tan(half_angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleSection:
    """An equal-leg steel angle, modelled with square corners (toe and heel radii left out).

    `kerf_mm` is what the blade for it takes, where that is not what the saw usually takes;
    `stock_origin` is where a job's files say in what length it is bought.
    """

    key: str
    description: str
    leg_mm: float
    leg_tolerance: Tolerance | None = None
    thickness_mm: float
    stock_length_mm: float
    kerf_mm: float | None = None
    yield_n_mm2: float = 235.0  # EN 10025-2 S235, the mildest structural steel; from memory
    stock_origin: Origin | None = field(default=None, compare=False)

    @property
    def area_mm2(self) -> float:
        """Area of the section."""
        return self.thickness_mm * (2 * self.leg_mm - self.thickness_mm)

    @property
    def mass_kg_m(self) -> float:
        """Mass per metre of length."""
        return self.area_mm2 * 1e-6 * STEEL_DENSITY_KG_M3


@dataclass(frozen=True, slots=True, kw_only=True)
class LegHardware:
    """A metal leg: a square top plate on a round tube; four screws on a square pattern.

    `tube_wall_mm` is None where nobody knows it. `countersunk` says whether the holes of its plate
    take flat heads.
    """

    key: str
    description: str
    height_mm: float
    plate_mm: float
    plate_thickness_mm: float
    tube_diameter_mm: float
    hole_spacing_mm: float
    screw: Screw
    tube_wall_mm: float | None = None
    countersunk: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPlateHardware:
    """A folded steel plate that carries a hung panel.

    The plate stands on the wall, `height_mm` tall and `thickness_mm` thick; its lip projects
    `lip_mm` from the plate's face into the groove of the panel, at the plate's top. `countersunk`
    says whether its holes take flat heads: the panel lies on its face.
    """

    key: str
    description: str
    length_mm: float
    height_mm: float
    thickness_mm: float
    thickness_tolerance: Tolerance | None = None
    lip_mm: float
    hole_spacing_mm: float
    screw: Screw
    countersunk: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CapHardware:
    """A cap that hides a screw head, in a round recess of the show face."""

    key: str
    description: str
    diameter_mm: float
    recess_depth_mm: float
