"""The roles of a job's construction, looked up in its catalogue."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

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
from casewright.intake.construction_schema import ConstructionChanges, ConstructionEntry
from casewright.intake.document import Document, KeyPath, shown
from casewright.intake.entry import Entry
from casewright.intake.schema_faults import entry_at
from casewright.intake.to_domain import in_domain, sheet_material
from parametric.sets.composition import BuiltFrom, built_from
from parametric.stock.construction import Construction
from parametric.stock.hardware import (
    AngleSection,
    CapHardware,
    LegHardware,
    Screw,
    WallPlateHardware,
)
from parametric.stock.lengths import Units
from parametric.stock.made_in import MadeIn
from parametric.stock.materials import BarMaterial, EdgeBand

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
    "screw_off_wall": ScrewEntry,
    "screw_panel": ScrewEntry,
}

_AT = ("construction",)


def read_construction(
    job: Document, units: Units | None, catalogue: Catalogue, faults: list[Fault]
) -> Construction | None:
    """Return the construction, or None where anything it needs is missing or faulty.

    Names that the catalogue lacks, and things that do not go together, are added to `faults`.
    """
    faults += _unknown_names(job, _AT, catalogue)
    entry = entry_at(job, _AT, ConstructionEntry, units)
    if entry is None or units is None:
        return None
    try:
        construction = Construction(**dict(_roles(entry, catalogue)))
    except KeyError:  # an entry it names is missing or faulty, and that fault has been told
        return None
    faults += [misfit.located(job, _AT) for misfit in construction_misfits(construction, units)]
    return construction


def read_changes(
    job: Document,
    at: KeyPath,
    units: Units | None,
    catalogue: Catalogue,
    default: Construction | None,
    faults: list[Fault],
) -> BuiltFrom:
    """Return the roles that differ in a set or a unit, none where something is missing or faulty.

    Names that the catalogue lacks, and things that do not go together with what `default` has in
    the other roles, are added to `faults`.
    """
    if not job.map_at(at):
        return ()
    faults += _unknown_names(job, at, catalogue)
    entry = entry_at(job, at, ConstructionChanges, units)
    if entry is None or units is None:
        return ()
    try:
        changes = tuple(_roles(entry, catalogue))
    except KeyError:
        return ()
    if default is not None:
        changed = built_from(default, changes)
        faults += [misfit.located(job, at) for misfit in construction_misfits(changed, units)]
    return changes


def _unknown_names(job: Document, at: KeyPath, catalogue: Catalogue) -> Iterator[Fault]:
    given = job.map_at(at)
    for role, kind in ROLES.items():
        name = given.get(role)
        allowed = catalogue.unknown(kind, name) if isinstance(name, str) else None
        if allowed is not None:
            found = f"no such name, {shown(name)}"
            yield job.fault((*at, role), found=found, allowed=allowed)


def _roles(entry: Entry, catalogue: Catalogue) -> Iterator[tuple[str, Any]]:
    """Yield each role that is given, and what it is.

    Raises:
        KeyError: the catalogue lacks what one of them names.
    """
    for role, given in entry:
        if given is None:
            continue
        if role in ROLES:
            yield role, _thing(ROLES[role], given, catalogue)
        elif isinstance(given, MadeIn):
            yield role, given
        else:
            yield f"{role}_mm", given


def _thing(kind: type[Entry], name: str, catalogue: Catalogue) -> Any:  # noqa: PLR0911
    """Return what a name of a kind stands for.

    Raises:
        KeyError: there is none, or it is faulty.
    """
    match catalogue.get(kind, name):
        case MaterialEntry() as entry:
            return sheet_material(name, entry, partial(catalogue.origin, MaterialEntry, name))
        case BandEntry() as entry:
            return in_domain(EdgeBand, entry, key=name)
        case BarEntry() as entry:
            origin = catalogue.origin(BarEntry, name, "stock_length")
            return in_domain(BarMaterial, entry, key=name, stock_origin=origin)
        case AngleEntry() as entry:
            origin = catalogue.origin(AngleEntry, name, "stock_length")
            return in_domain(AngleSection, entry, key=name, stock_origin=origin)
        case LegEntry() as entry:
            its_screw = _thing(ScrewEntry, entry.screw, catalogue)
            return in_domain(LegHardware, entry, key=name, screw=its_screw)
        case WallPlateEntry() as entry:
            its_screw = _thing(ScrewEntry, entry.screw, catalogue)
            return in_domain(WallPlateHardware, entry, key=name, screw=its_screw)
        case CapEntry() as entry:
            return in_domain(CapHardware, entry, key=name)
        case ScrewEntry() as entry:
            return in_domain(Screw, entry, key=name)
        case entry:
            raise TypeError(f"{type(entry).__name__} is built into nothing")
