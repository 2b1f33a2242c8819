"""The sets of a job file, from what they say to the domain's own types."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from casewright.errors import Fault
from casewright.intake.catalogue import Catalogue
from casewright.intake.document import Document, KeyPath
from casewright.intake.read_construction import read_changes
from casewright.intake.schema_faults import entry_at
from casewright.intake.set_checks import set_misfits
from casewright.intake.set_schema import SetEntry
from parametric.geometry.walls import Wall
from parametric.sets.composition import (
    FREE,
    BuiltFrom,
    HungPanel,
    Run,
    SetSizes,
    Tie,
    Unit,
    built_from,
    wall_key,
)
from parametric.stock.construction import Construction
from parametric.stock.lengths import Units
from parametric.units.known_units import KNOWN_UNITS
from parametric.units.size import sizes_of
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes

_SETS = "sets"
_OF_THE_SET = ("angle", "wall_plate", "wall_panel")
"""Roles of what belongs to no unit."""


def read_sets(
    document: Document,
    units: Units | None,
    catalogue: Catalogue,
    construction: Construction | None,
    faults: list[Fault],
) -> tuple[SetSizes, ...]:
    """Return the sets that keep to the schema; what of them does not go together, and names that
    the catalogue lacks, are added to `faults`.
    """
    sets = []
    for name in document.map_at((_SETS,)):
        at = (_SETS, name)
        entry = entry_at(document, at, SetEntry, units)
        if entry is None or units is None:
            continue

        built = _Built(document, at, units, catalogue, faults)
        own = built.changes((), construction)
        default = None if construction is None else built_from(construction, own)
        sizes = _set_sizes(name, entry, own, partial(built.changes, default=default))
        if construction is not None:
            misfits = set_misfits(sizes, construction, units)
            faults += [misfit.located(document, at) for misfit in misfits]
        sets.append(sizes)
    return tuple(sets)


@dataclass(frozen=True, slots=True)
class _Built:
    """Reads what a set and its units are built from."""

    document: Document
    at: KeyPath
    units: Units
    catalogue: Catalogue
    faults: list[Fault]

    def changes(self, keys: KeyPath, default: Construction | None) -> BuiltFrom:
        """Return the roles that differ from `default`, by the keys of a unit below the set."""
        at = (*self.at, *keys, "construction")
        for role in _OF_THE_SET if keys else ():
            if role in self.document.map_at(at):
                allowed = f"{role} for the whole set: its ties and panels are built from that"
                self.faults.append(
                    self.document.fault((*at, role), found="it for one unit", allowed=allowed)
                )
        return read_changes(self.document, at, self.units, self.catalogue, default, self.faults)


def _set_sizes(
    name: str, entry: SetEntry, own: BuiltFrom, changes: Callable[[KeyPath], BuiltFrom]
) -> SetSizes:
    """Return the sizes of a set."""

    def units(key: str) -> tuple[Unit, ...]:
        listed = getattr(entry, key).items()
        return tuple(_unit(name, unit, changes((key, name))) for name, unit in listed)

    away_mm = {Wall.FOOT: entry.room_depth or 0.0, Wall.FAR: entry.room_width or 0.0}
    return SetSizes(
        name=name,
        **_own_sizes(SetSizes, entry),
        runs=tuple(
            Run(wall=wall, units=along, away_mm=away_mm.get(wall, 0.0))
            for wall in Wall
            if (along := units(wall_key(wall)))
        ),
        free=units(FREE),
        ties=tuple(
            Tie(name=tie, through=each.through, sizes=TieSizes(**_own_sizes(TieSizes, each)))
            for tie, each in entry.ties.items()
        ),
        hung=tuple(
            HungPanel(
                name=panel,
                over=each.over,
                sizes=WallPanelSizes(**_own_sizes(WallPanelSizes, each)),
            )
            for panel, each in entry.hung.items()
        ),
        built_from=own,
        room_depth_mm=entry.room_depth,
        room_width_mm=entry.room_width,
    )


def _unit(name: str, entry: Any, built_from: BuiltFrom) -> Unit:
    family = KNOWN_UNITS[entry.family]
    return Unit(
        name=name,
        family=family.name,
        sizes=family.sizes(**_own_sizes(family.sizes, entry)),
        gap_mm=getattr(entry, "gap", None),
        base_height_mm=entry.base_height,
        from_head_wall_mm=getattr(entry, "from_head_wall", 0.0),
        from_side_wall_mm=getattr(entry, "from_side_wall", 0.0),
        built_from=built_from,
    )


def _own_sizes(owner: type, entry: Any) -> dict[str, Any]:
    """Return the sizes of a dataclass as an entry gives them."""
    return {size.name: getattr(entry, size.key) for size in sizes_of(owner)}
