"""The roles of a job's construction, looked up in its catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from casewright.errors import Fault
from casewright.intake.catalogue import Catalogue
from casewright.intake.catalogue_schema import (
    AngleEntry,
    BandEntry,
    BarEntry,
    CapEntry,
    LegEntry,
    MaterialEntry,
    ScrewEntry,
    WallPlateEntry,
)
from casewright.intake.construction_checks import construction_misfits
from casewright.intake.document import Document, shown
from casewright.intake.entry import Entry
from casewright.intake.job_schema import ConstructionEntry
from casewright.intake.schema_faults import entry_at
from casewright.intake.to_domain import (
    angle_section,
    bar_material,
    cap_hardware,
    edge_band,
    leg_hardware,
    screw,
    sheet_material,
    wall_plate_hardware,
)
from parametric.stock.construction import Construction
from parametric.stock.hardware import LegHardware, Screw, WallPlateHardware
from parametric.stock.lengths import Units
from parametric.stock.materials import SheetMaterial

ROLES: Mapping[str, type[Entry]] = {
    "deck": MaterialEntry,
    "base_panel": MaterialEntry,
    "rail": MaterialEntry,
    "bearer": MaterialEntry,
    "carcass": MaterialEntry,
    "wall_panel": MaterialEntry,
    "band": BandEntry,
    "cleat": BarEntry,
    "angle": AngleEntry,
    "leg": LegEntry,
    "wall_plate": WallPlateEntry,
    "cap": CapEntry,
    "screw_cleat_thin": ScrewEntry,
    "screw_cleat_wide": ScrewEntry,
    "screw_angle": ScrewEntry,
    "screw_wall": ScrewEntry,
    "screw_panel": ScrewEntry,
}

_AT = ("construction",)


def read_construction(
    job: Document, units: Units | None, catalogue: Catalogue, faults: list[Fault]
) -> Construction | None:
    """Return the construction, or None where anything it needs is missing or faulty.

    Names that the catalogue lacks, and things that do not go together, are added to `faults`.
    """
    given = job.map_at(_AT)
    for role, kind in ROLES.items():
        name = given.get(role)
        allowed = catalogue.unknown(kind, name) if isinstance(name, str) else None
        if allowed is not None:
            found = f"no such name, {shown(name)}"
            faults.append(job.fault((*_AT, role), found=found, allowed=allowed))
    entry = entry_at(job, _AT, ConstructionEntry, units)
    if entry is None or units is None:
        return None
    try:
        construction = _built(entry, catalogue)
    except KeyError:  # an entry it names is missing or faulty, and that fault has been told
        return None
    misfits = construction_misfits(construction, units)
    faults += [misfit.located(job, _AT) for misfit in misfits]
    return construction


def _built(entry: ConstructionEntry, catalogue: Catalogue) -> Construction:
    def board(name: str) -> SheetMaterial:
        origin = partial(catalogue.origin, MaterialEntry, name)
        return sheet_material(name, catalogue.get(MaterialEntry, name), origin)

    def fastener(name: str) -> Screw:
        return screw(name, catalogue.get(ScrewEntry, name))

    return Construction(
        deck=board(entry.deck),
        base_panel=board(entry.base_panel),
        rail=board(entry.rail),
        bearer=board(entry.bearer),
        carcass=board(entry.carcass),
        wall_panel=board(entry.wall_panel),
        band=edge_band(entry.band, catalogue.get(BandEntry, entry.band)),
        cleat=bar_material(
            entry.cleat,
            catalogue.get(BarEntry, entry.cleat),
            catalogue.origin(BarEntry, entry.cleat, "stock_length"),
        ),
        angle=angle_section(
            entry.angle,
            catalogue.get(AngleEntry, entry.angle),
            catalogue.origin(AngleEntry, entry.angle, "stock_length"),
        ),
        leg=_leg(entry.leg, catalogue),
        wall_plate=_wall_plate(entry.wall_plate, catalogue),
        cap=cap_hardware(entry.cap, catalogue.get(CapEntry, entry.cap)),
        screw_cleat_thin=fastener(entry.screw_cleat_thin),
        screw_cleat_wide=fastener(entry.screw_cleat_wide),
        screw_angle=fastener(entry.screw_angle),
        screw_wall=fastener(entry.screw_wall),
        screw_panel=fastener(entry.screw_panel),
        angle_clearance_mm=entry.angle_clearance,
        housing_depth_mm=entry.housing_depth,
        housing_clearance_mm=entry.housing_clearance,
    )


def _leg(name: str, catalogue: Catalogue) -> LegHardware:
    entry = catalogue.get(LegEntry, name)
    return leg_hardware(name, entry, screw(entry.screw, catalogue.get(ScrewEntry, entry.screw)))


def _wall_plate(name: str, catalogue: Catalogue) -> WallPlateHardware:
    entry = catalogue.get(WallPlateEntry, name)
    its_screw = screw(entry.screw, catalogue.get(ScrewEntry, entry.screw))
    return wall_plate_hardware(name, entry, its_screw)
