"""What the walls of a job may not say: screws that nobody has, two fixings for one screw."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.errors import Fault
from casewright.intake.catalogue import Catalogue
from casewright.intake.catalogue_schema import ScrewEntry
from casewright.intake.document import Document, KeyPath, shown
from casewright.intake.schema_faults import entry_at
from casewright.intake.walls_schema import FixingEntry
from parametric.stock.lengths import Units, show_length

_AT = ("walls",)


def wall_faults(document: Document, units: Units | None, catalogue: Catalogue) -> Iterator[Fault]:
    """Yield the faults of the walls' fixings beyond what the schema says."""
    for wall in document.map_at(_AT):
        yield from _of_other_screws(document, units, (*_AT, wall, "screws"), catalogue)
        at = (*_AT, wall, "fixings")
        taken: dict[str, str] = {}
        for name in document.map_at(at):
            yield from _of_screws(document, (*at, name), catalogue, taken)
            entry = entry_at(document, (*at, name), FixingEntry, units)
            if entry is not None and units is not None:
                yield from _too_shallow(document, (*at, name), entry, units)


def _of_other_screws(
    document: Document, units: Units | None, at: KeyPath, catalogue: Catalogue
) -> Iterator[Fault]:
    """Yield the faults of screws that take the place of others: names that nobody has, heads too
    wide for the caps and cones of the others, and shanks too thick for holes that are bought.
    """
    for name, other in document.map_at(at).items():
        key_path = (*at, name)
        unknown = [
            document.fault(key_path, found=f"no screw named {shown(each)}", allowed=allowed)
            for each in (name, other)
            if isinstance(each, str)
            and (allowed := catalogue.unknown(ScrewEntry, each)) is not None
        ]
        yield from unknown
        if unknown or not isinstance(other, str) or units is None:
            continue
        try:
            first, second = (catalogue.get(ScrewEntry, str(each)) for each in (name, other))
        except KeyError:  # told as the fault of a library
            continue
        for what, size, most in (
            ("head", second.head_diameter, first.head_diameter),
            ("shank", second.major_diameter, first.clearance_diameter),
        ):
            if size > most:
                yield document.fault(
                    key_path,
                    found=f"{shown(other)}, its {what} {show_length(size, units)}",
                    allowed=f"a {what} of at most {show_length(most, units)}, to go where"
                    f" {shown(name)} goes",
                )


def _of_screws(
    document: Document, at: KeyPath, catalogue: Catalogue, taken: dict[str, str]
) -> Iterator[Fault]:
    listed = document.at((*at, "screws"))
    for index, screw in enumerate(listed if isinstance(listed, list) else ()):
        if not isinstance(screw, str):
            continue
        key_path = (*at, "screws", index)
        allowed = catalogue.unknown(ScrewEntry, screw)
        if allowed is not None:
            yield document.fault(key_path, found=f"no screw named {shown(screw)}", allowed=allowed)
        elif screw in taken:
            yield document.fault(
                key_path,
                found=f"{shown(screw)} a second time (first in {taken[screw]})",
                allowed="each screw in one fixing of a wall",
            )
        taken.setdefault(screw, str(at[-1]))


def _too_shallow(
    document: Document, at: KeyPath, entry: FixingEntry, units: Units
) -> Iterator[Fault]:
    """Yield a fault where the hole ends before the least depth of its screw."""
    if entry.hole_depth is not None and entry.hole_depth < entry.embedment:
        yield document.fault(
            (*at, "hole_depth"),
            found=shown(document.at((*at, "hole_depth"))),
            allowed=f"at least the embedment ({show_length(entry.embedment, units)})",
        )
