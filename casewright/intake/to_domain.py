"""From checked entries to the domain's own types; lengths are millimetres on both sides."""

from __future__ import annotations

from collections.abc import Callable

from casewright.intake.catalogue_schema import (
    AngleEntry,
    BandEntry,
    BarEntry,
    CapEntry,
    LegEntry,
    MaterialEntry,
    ScrewEntry,
    StrengthEntry,
    WallPlateEntry,
)
from casewright.intake.tolerance_schema import tolerance
from parametric.stock.hardware import (
    AngleSection,
    CapHardware,
    LegHardware,
    Screw,
    WallPlateHardware,
)
from parametric.stock.materials import (
    BarMaterial,
    BoardStrength,
    EdgeBand,
    PulledHead,
    PulledScrew,
    SheetMaterial,
    StockSheet,
)
from parametric.stock.origin import Origin


def sheet_material(key: str, entry: MaterialEntry, origin: Callable[..., Origin]) -> SheetMaterial:
    """Return a board material with its stock; `origin` tells by keys where the entry says what."""
    return SheetMaterial(
        key=key,
        description=entry.description,
        thickness_mm=entry.thickness,
        thickness_tolerance=tolerance(entry.thickness_tolerance),
        density_kg_m3=entry.density_kg_m3,
        good_faces=entry.good_faces,
        grain=entry.grain,
        stock=tuple(
            StockSheet(
                key=name,
                length_mm=sheet.length,
                width_mm=sheet.width,
                price=sheet.price,
                on_hand=sheet.on_hand,
                origin=origin("stock", name, *(() if sheet.on_hand is None else ("on_hand",))),
            )
            for name, sheet in entry.stock.items()
        ),
        kind=entry.kind,
        strength=None if entry.strength is None else _board_strength(entry.strength),
        stock_origin=origin("stock"),
    )


def _board_strength(entry: StrengthEntry) -> BoardStrength:
    screw, head = entry.screw_face, entry.head_pull
    return BoardStrength(
        bending_n_mm2=entry.bending_n_mm2,
        elasticity_n_mm2=entry.elasticity_n_mm2,
        creep_factor=entry.creep_factor,
        source=entry.source,
        figures=entry.figures,
        internal_bond_n_mm2=entry.internal_bond_n_mm2,
        in_plane_n_mm2=entry.in_plane_n_mm2,
        screw=None
        if screw is None
        else PulledScrew(pull_n=screw.pull_n, diameter_mm=screw.diameter, bite_mm=screw.bite),
        head=None
        if head is None
        else PulledHead(pull_n=head.pull_n, diameter_mm=head.head, board_mm=head.board),
    )


def edge_band(key: str, entry: BandEntry) -> EdgeBand:
    """Return an edge band."""
    return EdgeBand(
        key=key,
        description=entry.description,
        thickness_mm=entry.thickness,
        thickness_tolerance=tolerance(entry.thickness_tolerance),
        density_kg_m3=entry.density_kg_m3,
    )


def bar_material(key: str, entry: BarEntry, stock_origin: Origin) -> BarMaterial:
    """Return a bar for cleats."""
    return BarMaterial(
        key=key,
        description=entry.description,
        thickness_mm=entry.thickness,
        width_mm=entry.width,
        density_kg_m3=entry.density_kg_m3,
        stock_length_mm=entry.stock_length,
        kerf_mm=entry.kerf,
        stock_origin=stock_origin,
    )


def screw(key: str, entry: ScrewEntry) -> Screw:
    """Return a screw."""
    return Screw(
        key=key,
        description=entry.description,
        length_mm=entry.length,
        major_diameter_mm=entry.major_diameter,
        root_diameter_mm=entry.root_diameter,
        head_diameter_mm=entry.head_diameter,
        clearance_diameter_mm=entry.clearance_diameter,
        pilot_diameter_mm=entry.pilot_diameter,
        countersink_angle_deg=entry.countersink_angle,
        made_for=entry.made_for,
    )


def angle_section(key: str, entry: AngleEntry, stock_origin: Origin) -> AngleSection:
    """Return a steel angle's section."""
    return AngleSection(
        key=key,
        description=entry.description,
        leg_mm=entry.leg,
        leg_tolerance=tolerance(entry.leg_tolerance),
        thickness_mm=entry.thickness,
        stock_length_mm=entry.stock_length,
        kerf_mm=entry.kerf,
        yield_n_mm2=entry.yield_n_mm2,
        stock_origin=stock_origin,
    )


def leg_hardware(key: str, entry: LegEntry, its_screw: Screw) -> LegHardware:
    """Return a leg with its screw."""
    return LegHardware(
        key=key,
        description=entry.description,
        height_mm=entry.height,
        plate_mm=entry.plate,
        plate_thickness_mm=entry.plate_thickness,
        tube_diameter_mm=entry.tube_diameter,
        hole_spacing_mm=entry.hole_spacing,
        screw=its_screw,
        tube_wall_mm=entry.tube_wall,
    )


def wall_plate_hardware(key: str, entry: WallPlateEntry, its_screw: Screw) -> WallPlateHardware:
    """Return a wall plate with its screw."""
    return WallPlateHardware(
        key=key,
        description=entry.description,
        length_mm=entry.length,
        height_mm=entry.height,
        thickness_mm=entry.thickness,
        thickness_tolerance=tolerance(entry.thickness_tolerance),
        lip_mm=entry.lip,
        hole_spacing_mm=entry.hole_spacing,
        screw=its_screw,
    )


def cap_hardware(key: str, entry: CapEntry) -> CapHardware:
    """Return a screw cap."""
    return CapHardware(
        key=key,
        description=entry.description,
        diameter_mm=entry.diameter,
        recess_depth_mm=entry.recess_depth,
    )
