"""What every set of a job is built from, by role."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.stock.hardware import (
    AngleSection,
    CapHardware,
    LegHardware,
    Screw,
    WallPlateHardware,
)
from parametric.stock.made_in import MadeIn
from parametric.stock.materials import BarMaterial, EdgeBand, SheetMaterial


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """What every set of a job is built from, by role."""

    deck: SheetMaterial
    base_panel: SheetMaterial
    rail: SheetMaterial
    bearer: SheetMaterial
    carcass: SheetMaterial
    wall_panel: SheetMaterial
    band: EdgeBand
    cleat: BarMaterial
    angle: AngleSection
    leg: LegHardware
    wall_plate: WallPlateHardware
    cap: CapHardware
    screw_cleat_thin: Screw  # through the lesser side of a cleat
    screw_cleat_wide: Screw  # through the greater side of a cleat
    screw_angle: Screw
    screw_wall: Screw  # through a rail into the wall
    screw_panel: Screw  # through wall panel and table into the wall, under a cap
    angle_clearance_mm: float
    angle_packing_mm: float
    housing_depth_mm: float
    housing_clearance_mm: float
    rail_screws_apart_mm: float = 240.0  # at most, along a rail; common practice, no source
    # At most, along a cleat on a wall: across a lining a screw bears little; common practice.
    wall_cleat_screws_apart_mm: float = 90.0
    cleats_made_in: MadeIn = MadeIn.SHOP  # where cleats are put on the panel that they lie flat on
    screw_off_wall: Screw | None = None  # through a box that stands off the wall; None: as a rail
    legs_made_in: MadeIn = MadeIn.SITE  # where legs are screwed under decks
    boxes_made_in: MadeIn = MadeIn.SITE  # where the panels and bearers of a base box are joined
