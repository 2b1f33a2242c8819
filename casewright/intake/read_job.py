"""The entry: a job file and everything it names, into a `Job`, or all their faults at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from casewright.errors import Fault, InputErrors
from casewright.intake.catalogue import Catalogue, board_materials, read_catalogue, units_of
from casewright.intake.document import Document
from casewright.intake.job_schema import JobFile
from casewright.intake.kit_checks import kit_faults
from casewright.intake.likes import with_likes
from casewright.intake.read_buying import buying_of
from casewright.intake.read_construction import read_construction
from casewright.intake.read_document import document_of, read_document
from casewright.intake.read_labels import label_faults, label_stocks
from casewright.intake.read_machine import Router, bit_faults, read_machine
from casewright.intake.read_panels import read_panels
from casewright.intake.read_rates import read_rates
from casewright.intake.read_schedule import read_schedule
from casewright.intake.read_sets import read_sets
from casewright.intake.read_walls import room_walls
from casewright.intake.schema_faults import entry_at, schema_faults
from casewright.intake.wall_checks import wall_faults
from casewright.job import DrawnPanel, Job, Room
from parametric.sets.composition import SetSizes
from parametric.stock.construction import Construction
from parametric.stock.lengths import Units
from parametric.stock.materials import SheetMaterial


def read_job(path: Path) -> Job:
    """Return the job that the file describes; other files are named relative to it.

    Raises:
        InputErrors: anything in any of the files that cannot be used, all faults at once.
    """
    faults: list[Fault] = []
    return _job_in(path, read_document(path, faults), faults)


def job_of(path: Path, text: str) -> Job:
    """Return the job that a text describes, as if it stood in the file of that path.

    Raises:
        InputErrors: as `read_job` does.
    """
    faults: list[Fault] = []
    return _job_in(path, document_of(path, text, faults), faults)


def _job_in(path: Path, document: Document | None, faults: list[Fault]) -> Job:
    """Return the job of a document, which may have faults of its own.

    Raises:
        InputErrors: there is any fault.
    """
    job = None if document is None else _read(document, faults)
    if faults:
        raise InputErrors(_in_order(faults, path))
    if job is None:
        raise RuntimeError(f"{path} gives no job and no fault")
    return job


def _read(document: Document, faults: list[Fault]) -> Job | None:
    """Return the job if every part of it can be had; each part adds its own faults."""
    document = with_likes(document, faults)
    units = units_of(document)
    faults += schema_faults(document, JobFile, units)
    catalogue = read_catalogue(document, units, faults)
    construction = read_construction(document, units, catalogue, faults)
    router = read_machine(document, units, faults)
    sets = read_sets(document, units, catalogue, construction, faults)
    faults += wall_faults(document, units, catalogue)
    faults += label_faults(document, catalogue)
    if construction is not None:
        faults += kit_faults(document, construction)
    if router is not None and construction is not None:
        faults += bit_faults(router, construction, sets)
    rooms = _rooms(document, units, faults)
    materials = board_materials(catalogue)
    panels = _panels(document, materials, faults)
    rates = read_rates(document, faults)
    if faults or construction is None or router is None:
        return None
    job = _job(document, catalogue, construction, router, sets, rooms)
    files = tuple(dict.fromkeys(panel.file for panel in panels))
    kept = materials if panels else ()
    job = replace(job, rates=rates, panels=panels, panel_materials=kept)
    return replace(job, files=(*job.files, *files))


def _job(
    document: Document,
    catalogue: Catalogue,
    construction: Construction,
    router: Router,
    sets: tuple[SetSizes, ...],
    rooms: tuple[Room, ...],
) -> Job:
    top = entry_at(document, (), JobFile, units_of(document))
    if top is None:
        raise RuntimeError(f"{document.path} departs from the schema, and no fault says so")
    return Job(
        name=top.job,
        units=top.units,
        currency=top.currency,
        sets=sets,
        construction=construction,
        routing=router.routing,
        machine=router.machine,
        rooms=rooms,
        supplies=top.kit.supplies(),
        site_rates=top.hours.rates(),
        bench_rates=top.hours.bench_rates(),
        fitting=top.fitting.fitting(),
        loads=top.loads.loads(),
        walls=room_walls(top.walls, catalogue),
        access=top.access.access(),
        truck=top.delivery.truck(),
        labels=label_stocks(top.labels, catalogue),
        sorting=top.sorting,
        cart_holds_kg=top.cart_holds_kg,
        cut_in_order_of=top.cut_in_order_of,
        formaldehyde=top.formaldehyde,
        paper=top.paper,
        buying=buying_of(top.kit, catalogue),
        files=(document.path, *_named_files(document)),
    )


def _named_files(document: Document) -> Iterator[Path]:
    """Yield the files that the job file names: schedule, panels, machine, rates, libraries."""
    libraries = document.at(("libraries",))
    listed = libraries if isinstance(libraries, list) else []
    single = (document.at((key,)) for key in ("schedule", "panels", "machine", "rates"))
    for name in (*single, *listed):
        if isinstance(name, str):
            yield document.path.parent / name


def _panels(
    document: Document, materials: Sequence[SheetMaterial], faults: list[Fault]
) -> tuple[DrawnPanel, ...]:
    """Return the panels that other programs drew, none where the job names no table of them."""
    name = document.at(("panels",))
    if not isinstance(name, str) or not name:
        return ()
    path, keys = document.path.parent / name, (material.key for material in materials)
    return read_panels(path, keys, faults, document.blame(("panels",)))


def _rooms(document: Document, units: Units | None, faults: list[Fault]) -> tuple[Room, ...]:
    name = document.at(("schedule",))
    if not isinstance(name, str) or not name:
        return ()
    set_names = tuple(document.map_at(("sets",)))
    blame = document.blame(("schedule",))
    return read_schedule(document.path.parent / name, units, set_names, faults, blame)


def _in_order(faults: list[Fault], job_file: Path) -> tuple[Fault, ...]:
    """Return the faults without repeats, those of the job file first, then by file and line."""

    def order(fault: Fault) -> tuple[bool, str, int, int]:
        return (fault.file != job_file.as_posix(), fault.file, fault.line, fault.column or 0)

    return tuple(sorted(dict.fromkeys(faults), key=order))
