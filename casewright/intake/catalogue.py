"""What a job may build from: its library files and its own entries, by kind and name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

from casewright.errors import Fault
from casewright.intake.catalogue_schema import (
    AngleEntry,
    BandEntry,
    BarEntry,
    CapEntry,
    LegEntry,
    LibraryFile,
    MaterialEntry,
    ScrewEntry,
    WallPlateEntry,
)
from casewright.intake.document import Absent, Document, KeyPath, shown
from casewright.intake.entry import Entry
from casewright.intake.entry_checks import excesses
from casewright.intake.label_schema import LabelStockEntry
from casewright.intake.nearest import one_of
from casewright.intake.read_document import read_document
from casewright.intake.schema_faults import entry_at, schema_faults
from casewright.intake.to_domain import sheet_material
from parametric.stock.lengths import Units
from parametric.stock.materials import SheetMaterial
from parametric.stock.origin import Origin

SHELVES: Mapping[type[Entry], str] = {
    MaterialEntry: "materials",
    BandEntry: "bands",
    BarEntry: "bars",
    ScrewEntry: "screws",
    AngleEntry: "angles",
    LegEntry: "legs",
    WallPlateEntry: "wall_plates",
    CapEntry: "caps",
    LabelStockEntry: "label_stocks",
}

EntryT = TypeVar("EntryT", bound=Entry)


@dataclass(frozen=True, slots=True)
class Shelved:
    """An entry and where it stands; `entry` is None if it departs from the schema."""

    entry: Entry | None
    document: Document
    key_path: KeyPath


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All entries of a job by kind and name; libraries that could not be read may have had more."""

    shelves: Mapping[type[Entry], Mapping[str, Shelved]]
    unread_libraries: int

    def get(self, kind: type[EntryT], name: str) -> EntryT:
        """Return an entry.

        Raises:
            KeyError: there is none of that name, or it is faulty.
        """
        entry = self.shelves[kind][name].entry
        if not isinstance(entry, kind):
            raise KeyError(name)
        return entry

    def origin(self, kind: type[Entry], name: str, *keys: str) -> Origin:
        """Return where the files say something of an entry, by its keys below it.

        Raises:
            KeyError: there is no entry of that name.
        """
        item = self.shelves[kind][name]
        return item.document.origin((*item.key_path, *keys))

    def unknown(self, kind: type[Entry], name: str) -> str | None:
        """Return the names allowed, in words, if there is certainly no entry of that name."""
        names = self.shelves[kind]
        if name in names or self.unread_libraries:
            return None
        return one_of(names, name, what=SHELVES[kind])


def read_catalogue(job: Document, units: Units | None, faults: list[Fault]) -> Catalogue:
    """Return everything that the libraries and the job list, after adding their faults.

    The job's own entries take the place of library entries of the same name; two libraries may not
    have one name. Departures of the job file itself from the schema are left to others.
    """
    shelves: dict[type[Entry], dict[str, Shelved]] = {kind: {} for kind in SHELVES}
    unread = 0
    for library in _libraries(job, faults):
        if library is None:
            unread += 1
        else:
            _shelve(library, shelves, faults)
    for kind, name, item in _entries(job, units, faults):
        shelves[kind][name] = item
    catalogue = Catalogue(shelves, unread)
    faults += _unknown_screws(catalogue)
    return catalogue


def read_libraries(paths: Iterable[Path], faults: list[Fault]) -> Catalogue:
    """Return everything that library files list, without a job, after adding their faults."""
    shelves: dict[type[Entry], dict[str, Shelved]] = {kind: {} for kind in SHELVES}
    unread = 0
    for path in paths:
        library = read_document(path, faults)
        if library is None:
            unread += 1
        else:
            _shelve(library, shelves, faults)
    catalogue = Catalogue(shelves, unread)
    faults += _unknown_screws(catalogue)
    return catalogue


def board_materials(catalogue: Catalogue) -> tuple[SheetMaterial, ...]:
    """Return the board materials that have no fault, in the order of the files."""
    return tuple(
        sheet_material(name, item.entry, partial(catalogue.origin, MaterialEntry, name))
        for name, item in catalogue.shelves[MaterialEntry].items()
        if isinstance(item.entry, MaterialEntry)
    )


def _shelve(
    library: Document, shelves: Mapping[type[Entry], dict[str, Shelved]], faults: list[Fault]
) -> None:
    """Put the entries of a library file on the shelves, after adding its faults."""
    units = units_of(library)
    faults += schema_faults(library, LibraryFile, units)
    for kind, name, item in _entries(library, units, faults):
        first = shelves[kind].setdefault(name, item)
        if first is not item:
            faults.append(_second(item, first))


def units_of(document: Document) -> Units | None:
    """Return the units that a file's bare numbers count in, None if it does not say so."""
    value = document.at(("units",))
    return Units(value) if isinstance(value, str) and value in list(Units) else None


def _libraries(job: Document, faults: list[Fault]) -> Iterator[Document | None]:
    """Yield the library files, None for each that cannot be read."""
    listed = job.at(("libraries",))
    if listed is not Absent and not isinstance(listed, list):
        yield None
    for index, name in enumerate(listed if isinstance(listed, list) else ()):
        if isinstance(name, str) and name:
            blame = job.blame(("libraries", index))
            yield read_document(job.path.parent / name, faults, blame)
        else:
            yield None


def _entries(
    document: Document, units: Units | None, faults: list[Fault]
) -> Iterator[tuple[type[Entry], str, Shelved]]:
    for kind, shelf in SHELVES.items():
        for name in document.map_at((shelf,)):
            key_path = (shelf, name)
            entry = entry_at(document, key_path, kind, units)
            if entry is not None:
                faults += _excesses(entry, document, key_path)
            yield kind, name, Shelved(entry, document, key_path)


def _excesses(entry: Entry, document: Document, key_path: KeyPath) -> Iterator[Fault]:
    for key, bound, other in excesses(entry):
        found = shown(document.at((*key_path, key)))
        allowed = f"{bound} {other} ({shown(document.at((*key_path, other)))})"
        yield document.fault((*key_path, key), found=found, allowed=allowed)


def _second(item: Shelved, first: Shelved) -> Fault:
    where = first.document.fault(first.key_path, found="", allowed="")
    return item.document.fault(
        item.key_path,
        found=f"the name {shown(item.key_path[-1])} a second time (first in {where.file}:"
        f"{where.line})",
        allowed="each name once in all libraries of a job",
    )


def _unknown_screws(catalogue: Catalogue) -> Iterator[Fault]:
    for kind in (LegEntry, WallPlateEntry):
        for item in catalogue.shelves[kind].values():
            key_path = (*item.key_path, "screw")
            name = item.document.at(key_path)
            allowed = catalogue.unknown(ScrewEntry, name) if isinstance(name, str) else None
            if allowed is not None:
                yield item.document.fault(
                    key_path, found=f"no screw named {shown(name)}", allowed=allowed
                )
