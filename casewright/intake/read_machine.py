"""The router of a job: from a file of its own, or from the job file."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from casewright.errors import Fault
from casewright.intake.bit_schema import bits_of, misfit_bits
from casewright.intake.catalogue import units_of
from casewright.intake.document import Blame, Document, KeyPath, shown
from casewright.intake.layer_clashes import layer_clashes
from casewright.intake.machine_schema import MachineEntry, MachineFile
from casewright.intake.read_document import read_document
from casewright.intake.schema_faults import entry_at, schema_faults
from casewright.job import EdgeTrim, Machine, OffcutSize, Saw, SmallParts
from export.layer_names import LayerNames, layer_name_faults
from parametric.sets.composition import SetSizes, built_from
from parametric.shapes.routing import CornerRelief, Routing
from parametric.stock.construction import Construction
from parametric.stock.lengths import Units, show_length
from parametric.units.steel_tie import tie_grooves
from parametric.units.wall_panel import panel_grooves

BIT_PLAY_MM = 0.05  # between a bit and the sides of the narrowest groove it can still cut


@dataclass(frozen=True, slots=True)
class Router:
    """The two sides of a router: what shapes parts, and what shapes sheets and files.

    `source` makes faults of its keys, see `Document.fault`.
    """

    routing: Routing
    machine: Machine
    source: RouterSource


@dataclass(frozen=True, slots=True)
class RouterSource:
    """Where a router is described, and what bare numbers count there."""

    document: Document
    at: KeyPath
    units: Units

    def fault(self, *keys: str, found: str, allowed: str) -> Fault:
        """Return a fault of one of the router's keys."""
        return self.document.fault((*self.at, *keys), found=found, allowed=allowed)


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
    return read_machine_file(job.path.parent / named, faults, job.blame(("machine",)))


def read_machine_file(path: Path, faults: list[Fault], blame: Blame | None = None) -> Router | None:
    """Return the router of a machine file, or None after adding the faults that prevent it.

    `blame` makes the fault of a file that cannot be opened, see `read_text`.
    """
    document = read_document(path, faults, blame)
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
    source = RouterSource(document, at, units)
    faults += _size_faults(entry, source)
    names = entry.layer_names.model_dump()
    name_faults = layer_name_faults(names) or tuple(layer_clashes(names))
    if name_faults:
        faults += [
            source.fault("layer_names", name, found=shown(names[name]), allowed=allowed)
            for name, allowed in name_faults
        ]
        return None
    routing = Routing(
        bit_diameter_mm=entry.bit_diameter,
        corner_relief=entry.corner_relief,
        pre_mill_mm=entry.pre_mill,
        tolerances=entry.tolerances.tolerances(),
    )
    return Router(routing, _machine(entry, LayerNames(**names)), source)


def _size_faults(entry: MachineEntry, source: RouterSource) -> Iterator[Fault]:
    """Yield the faults of sizes that do not go together."""
    if entry.gap < entry.bit_diameter:
        found = show_length(entry.gap, source.units)
        allowed = f"at least bit_diameter ({show_length(entry.bit_diameter, source.units)})"
        yield source.fault("gap", found=found, allowed=allowed)
    for key, missing in (("rim", "rim_side"), ("rim_side", "rim")):
        small = entry.small_parts
        if getattr(small, key) is not None and getattr(small, missing) is None:
            found, allowed = f"no {missing} beside it", "both or none"
            yield source.fault("small_parts", key, found=found, allowed=allowed)
    sizes = entry.bit_diameter, entry.largest_drill
    for keys, found, allowed in misfit_bits(entry.bits, *sizes, source.units):
        yield source.fault("bits", *keys, found=found, allowed=allowed)


def _machine(entry: MachineEntry, layer_names: LayerNames) -> Machine:
    """Return what shapes sheets and files."""
    saw, trim, small = entry.saw, entry.edge_trim, entry.small_parts
    return Machine(
        name=entry.name,
        sheet_trim_mm=entry.sheet_trim,
        gap_mm=entry.gap,
        dxf_version=entry.dxf_version,
        largest_drill_mm=entry.largest_drill,
        layer_names=layer_names,
        saw=Saw(kerf_mm=saw.kerf, end_trim_mm=saw.end_trim, reusable_mm=saw.reusable),
        edge_trim=EdgeTrim(
            left_mm=trim.left, right_mm=trim.right, bottom_mm=trim.bottom, top_mm=trim.top
        ),
        offcut=OffcutSize(length_mm=entry.offcut.length, width_mm=entry.offcut.width),
        small_parts=SmallParts(
            area_cm2=small.area_cm2,
            aspect=small.aspect,
            rim_side_mm=small.rim_side,
            rim_mm=small.rim,
        ),
        bed_mm=None if entry.bed is None else (entry.bed.length, entry.bed.width),
        bits=bits_of(entry.bits),
        times=entry.times.times(),
        hold_down=entry.hold_down.hold_down(),
    )


def bit_faults(
    router: Router, construction: Construction, sets: Iterable[SetSizes]
) -> Iterator[Fault]:
    """Yield the fault of a bit that is too wide for a groove it must cut."""
    relief = router.routing.corner_relief
    grooves = [groove for sizes in sets for groove in _grooves(sizes, construction, relief)]
    width_mm, reason = min(grooves, default=(math.inf, ""))
    if router.routing.bit_diameter_mm + BIT_PLAY_MM > width_mm:
        units = router.source.units
        yield router.source.fault(
            "bit_diameter",
            found=show_length(router.routing.bit_diameter_mm, units),
            allowed=f"at least {BIT_PLAY_MM:g} mm less than {show_length(width_mm, units)}, "
            f"the width of grooves for {reason}",
        )


def _grooves(
    sizes: SetSizes, construction: Construction, relief: CornerRelief
) -> Iterator[tuple[float, str]]:
    """Yield the widths of the set's grooves in millimetres, and what stands in them."""
    own = built_from(construction, sizes.built_from)
    if sizes.ties:
        yield from tie_grooves(own, relief)
    for unit in sizes.units():
        yield from unit.kind.grooves(built_from(own, unit.built_from))
    if sizes.hung:
        yield from panel_grooves(own)
