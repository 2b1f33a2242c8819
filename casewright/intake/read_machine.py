"""The router of a job: from a file of its own, or from the job file."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.errors import Fault
from casewright.intake.catalogue import units_of
from casewright.intake.document import Document, KeyPath, shown
from casewright.intake.machine_schema import MachineEntry, MachineFile
from casewright.intake.read_document import read_document
from casewright.intake.schema_faults import entry_at, schema_faults
from casewright.job import Machine
from export.layer_names import LayerNames, layer_name_faults
from parametric.lengths import Units, show_length
from parametric.routing import Routing


@dataclass(frozen=True, slots=True)
class Router:
    """The two sides of a router: what shapes parts, and what shapes sheets and files."""

    routing: Routing
    machine: Machine


def read_machine(job: Document, units: Units | None, faults: list[Fault]) -> Router | None:
    """Return the router, or None after adding the faults that prevent it.

    Departures of the job file itself from the schema are left to others.
    """
    named = job.at(("machine",))
    if not isinstance(named, str):
        entry = entry_at(job, ("machine",), MachineEntry, units)
        return _router(entry, job, ("machine",), units, faults)
    if not named:
        return None
    document = read_document(job.path.parent / named, faults, job.blame(("machine",)))
    if document is None:
        return None
    its_units = units_of(document)
    faults += schema_faults(document, MachineFile, its_units)
    return _router(entry_at(document, (), MachineFile, its_units), document, (), its_units, faults)


def _router(
    entry: MachineEntry | None,
    document: Document,
    at: KeyPath,
    units: Units | None,
    faults: list[Fault],
) -> Router | None:
    if entry is None or units is None:
        return None
    if entry.gap < entry.bit_diameter:
        found = show_length(entry.gap, units)
        allowed = f"at least bit_diameter ({show_length(entry.bit_diameter, units)})"
        faults.append(document.fault((*at, "gap"), found=found, allowed=allowed))
    names = entry.layer_names.model_dump()
    name_faults = layer_name_faults(names)
    if name_faults:
        faults += [
            document.fault((*at, "layer_names", name), found=shown(names[name]), allowed=allowed)
            for name, allowed in name_faults
        ]
        return None
    return Router(
        Routing(
            bit_diameter_mm=entry.bit_diameter,
            corner_relief=entry.corner_relief,
            pre_mill_mm=entry.pre_mill,
        ),
        Machine(
            name=entry.name,
            sheet_trim_mm=entry.sheet_trim,
            gap_mm=entry.gap,
            dxf_version=entry.dxf_version,
            largest_drill_mm=entry.largest_drill,
            layer_names=LayerNames(**names),
        ),
    )
