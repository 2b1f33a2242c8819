"""What a job says of a set: which units stand along which wall, and what ties and hangs over them.

All lengths are millimetres. A *run* is the units along one wall, from its corner outwards, each
butted to the one before or so far from it as it says.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any

from parametric.geometry.walls import Wall
from parametric.stock.construction import Construction
from parametric.units.family import AnyFamily
from parametric.units.known_units import KNOWN_UNITS
from parametric.units.size import Length, Size, sizes_of
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes

BuiltFrom = tuple[tuple[str, Any], ...]
"""Roles of the construction that are not as in the rest of the job, each with what it is there."""

FREE, TIES, HUNG = "free", "ties", "hung"
"""What a job calls the units that stand free, the angles that tie, and what hangs on the wall."""

# What a job may say of any unit beside the sizes of its family.
GAP = Length(0, 5000, "From the unit before, or from the corner; butted if left out.")
BASE_HEIGHT = Length(200, 700, "Top of its base box above the floor; that of the set if left out.")
FROM_HEAD = Length(0, 20_000, "Its back from the head wall.")
FROM_SIDE = Length(0, 20_000, "Its near side from the side wall.")
ROOM_DEPTH = Length(500, 30_000, "From head wall to foot wall, where units stand along that.")
ROOM_WIDTH = Length(500, 30_000, "From side wall to far wall, where units stand along that.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit of a set, by a name of the person's own.

    `sizes` are those of its family. `gap_mm` is the distance from the unit before, None for
    butted; `base_height_mm` None for that of the set. One that stands free has its place instead of
    a gap.
    """

    name: str
    family: str
    sizes: Any
    gap_mm: float | None = None
    base_height_mm: float | None = None
    from_head_wall_mm: float = 0.0
    from_side_wall_mm: float = 0.0
    built_from: BuiltFrom = ()

    @property
    def kind(self) -> AnyFamily:
        """Its family."""
        return KNOWN_UNITS[self.family]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The units along a wall; `away_mm` is how far the wall stands from the one opposite, 0 for the
    two that meet in the corner.
    """

    wall: Wall
    units: tuple[Unit, ...]
    away_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A steel angle through the bases of units of one run, named in their order."""

    name: str
    through: tuple[str, ...]
    sizes: TieSizes


@dataclass(frozen=True, slots=True, kw_only=True)
class HungPanel:
    """A panel on the wall over units of one run."""

    name: str
    over: tuple[str, ...]
    sizes: WallPanelSizes


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSizes:
    """One set. `butt_gap_mm` is left between neighbours that are butted; `base_height_mm` is the
    height of all base tops that say no other. Width and depth of the room are None where nobody
    told them.
    """

    name: str
    base_height_mm: Annotated[float, Length(200, 700, "Tops of base boxes above the floor.")]
    butt_gap_mm: Annotated[float, Length(0, 25, "Left where a unit is butted to the one before.")]
    runs: tuple[Run, ...]
    free: tuple[Unit, ...] = ()
    ties: tuple[Tie, ...] = ()
    hung: tuple[HungPanel, ...] = ()
    built_from: BuiltFrom = ()
    room_depth_mm: float | None = None
    room_width_mm: float | None = None

    def units(self) -> Iterator[Unit]:
        """Yield all units, those along walls first."""
        for run in self.runs:
            yield from run.units
        yield from self.free

    def run_at(self, wall: Wall) -> tuple[Unit, ...]:
        """Return the units along a wall."""
        return tuple(unit for run in self.runs if run.wall is wall for unit in run.units)

    @property
    def filler(self) -> SetSize | None:
        """The size along the head wall that may follow the opening: that of the first unit which
        has one, None if none has.
        """
        fills = {(unit.name, unit.kind.fills) for unit in self.run_at(Wall.HEAD) if unit.kind.fills}
        return next((at for at in sizes_in(self) if (at.owner, at.size.name) in fills), None)


def built_from(default: Construction, *changes: BuiltFrom) -> Construction:
    """Return the construction with its roles changed, by each in turn."""
    roles = {role: thing for change in changes for role, thing in change}
    return replace(default, **roles) if roles else default


def wall_key(wall: Wall) -> str:
    """Return what a job calls the units along a wall."""
    return wall.value.replace(" ", "_")


@dataclass(frozen=True, slots=True)
class SetSize:
    """A size of a set: its keys in the job below the set, what it belongs to, what may be asked."""

    keys: tuple[str, ...]
    owner: str
    size: Size
    value: Any


def sizes_in(sizes: SetSizes) -> Iterator[SetSize]:
    """Yield all sizes that a set has, those that were left out too, in the order of a job."""
    yield from _sizes((), "", sizes)
    for keys, owner in _owners(sizes):
        yield from _sizes(keys, owner.name, owner.sizes)


def with_size(sizes: SetSizes, keys: Sequence[str], value: Any) -> SetSizes:
    """Return the set with another value of a size, by its keys.

    Raises:
        KeyError: the set has no such size.
    """
    for found in sizes_in(sizes):
        if found.keys == tuple(keys):
            changed = {found.size.name: value}
            if not found.owner:
                return replace(sizes, **changed)
            return _with_owner(sizes, found.owner, changed)
    raise KeyError(tuple(keys))


def _with_owner(sizes: SetSizes, name: str, changed: dict[str, Any]) -> SetSizes:
    def of(owner: Any) -> Any:
        same = owner.name == name
        return replace(owner, sizes=replace(owner.sizes, **changed)) if same else owner

    return replace(
        sizes,
        runs=tuple(replace(run, units=tuple(map(of, run.units))) for run in sizes.runs),
        free=tuple(map(of, sizes.free)),
        ties=tuple(map(of, sizes.ties)),
        hung=tuple(map(of, sizes.hung)),
    )


def _owners(sizes: SetSizes) -> Iterator[tuple[tuple[str, ...], Any]]:
    for run in sizes.runs:
        yield from (((wall_key(run.wall), unit.name), unit) for unit in run.units)
    yield from (((FREE, unit.name), unit) for unit in sizes.free)
    yield from (((TIES, tie.name), tie) for tie in sizes.ties)
    yield from (((HUNG, panel.name), panel) for panel in sizes.hung)


def _sizes(keys: tuple[str, ...], owner: str, values: Any) -> Iterator[SetSize]:
    owned: type = type(values)
    for size in sizes_of(owned):
        yield SetSize((*keys, size.key), owner, size, getattr(values, size.name))


def keys_of(sizes: SetSizes, name: str) -> tuple[str, ...]:
    """Return the keys in the job below the set of what bears a name.

    Raises:
        KeyError: nothing of the set does.
    """
    for keys, owner in _owners(sizes):
        if owner.name == name:
            return keys
    raise KeyError(name)
