"""Schema of the sets in a job file, made from what the families say of their sizes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, reduce
from operator import or_
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, GetCoreSchemaHandler, create_model
from pydantic_core import core_schema

from casewright.intake.construction_schema import ConstructionChanges
from casewright.intake.entry import UNIT_NAME_PATTERN, Entry, LengthIn
from parametric.geometry.walls import Wall
from parametric.sets.composition import (
    BASE_HEIGHT,
    FREE,
    FROM_HEAD,
    FROM_SIDE,
    GAP,
    ROOM_DEPTH,
    ROOM_WIDTH,
    SetSizes,
    wall_key,
)
from parametric.units.family import AnyFamily, Stands
from parametric.units.known_units import KNOWN_UNITS
from parametric.units.size import Choice, Count, Length, Size, sizes_of
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes

UnitName = Annotated[
    str,
    Field(pattern=UNIT_NAME_PATTERN, description="What the person calls it, once in a set."),
]

HOLDS_UNITS = (*(wall_key(wall) for wall in Wall), FREE)
"""The keys of a set under which units stand, each tagged by its family."""


def _type_of(size: Size) -> Any:
    """Return the type of a size, with what may be asked of it."""
    match size.asked:
        case Length(least_mm, most_mm, meaning):
            return Annotated[float, LengthIn(least_mm, most_mm, meaning)]
        case Count(least, most, meaning):
            return Annotated[int, Field(ge=least, le=most, description=meaning)]
        case Choice(meaning):
            return Annotated[size.words, Field(strict=False, description=meaning)]


def _asked(owner: type, key: str) -> Any:
    """Return the annotation of a size of a dataclass, by its key."""
    size = next(size for size in sizes_of(owner) if size.key == key)
    return _type_of(size).__metadata__[0]


def _length(asked: Length) -> LengthIn:
    return LengthIn(asked.least_mm, asked.most_mm, asked.meaning)


_CHANGES = Field(
    default=None,
    description="What it is built from where it differs from what it belongs to.",
)


class AnyUnitEntry(Entry):
    """What a job says of any unit."""

    base_height: Annotated[float, _length(BASE_HEIGHT)] | None = None
    construction: ConstructionChanges | None = _CHANGES


class AlongWallEntry(AnyUnitEntry):
    """What a job says of any unit along a wall."""

    gap: Annotated[float, _length(GAP)] | None = None


class StandingFreeEntry(AnyUnitEntry):
    """What a job says of any unit that stands free."""

    from_head_wall: Annotated[float, _length(FROM_HEAD)]
    from_side_wall: Annotated[float, _length(FROM_SIDE)]


@dataclass(frozen=True, slots=True)
class _ByFamily:
    """Annotation of a unit: the entry of its family, as its own key tells."""

    place: type[AnyUnitEntry]
    families: tuple[AnyFamily, ...]

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Return the schema of any of the families' entries."""
        entries = [_unit_entry(family, self.place) for family in self.families]
        return handler.generate_schema(Annotated[reduce(or_, entries), Discriminator("family")])


@cache
def _unit_entry(family: AnyFamily, place: type[AnyUnitEntry]) -> type[AnyUnitEntry]:
    """Return the schema of a unit of a family: its sizes, and what is said of any unit there."""
    fields: dict[str, Any] = {
        "family": (Literal[family.name], Field(description="What kind of unit it is."))
    }
    owner: type = family.sizes
    for size in sizes_of(owner):
        kind = _type_of(size)
        fields[size.key] = (kind | None, None) if size.optional else (kind, ...)
    name = family.sizes.__name__.removesuffix("Sizes") + place.__name__
    return create_model(name, __base__=place, __doc__=family.meaning, **fields)


_FAMILIES = tuple(KNOWN_UNITS.values())
_FREE = tuple(each for each in _FAMILIES if each.stands is Stands.ANYWHERE)
UnitAlongWall = Annotated[Any, _ByFamily(AlongWallEntry, _FAMILIES)]
UnitStandingFree = Annotated[Any, _ByFamily(StandingFreeEntry, _FREE)]


def families_in(holder: str) -> tuple[str, ...]:
    """Return the names of the families whose units may stand under a key of a set."""
    return tuple(each.name for each in (_FREE if holder == FREE else _FAMILIES))


class TieEntry(Entry):
    """Steel angle that ties units along a wall and carries what stands between them."""

    through: Annotated[
        tuple[UnitName, ...],
        Field(strict=False, description="The units that it runs into, from the corner."),
    ]
    from_wall: Annotated[float, _asked(TieSizes, "from_wall")]
    bearing: Annotated[float, _asked(TieSizes, "bearing")]


class HungEntry(Entry):
    """Panel hung on the wall, as wide as the units under it are together."""

    over: Annotated[
        tuple[UnitName, ...],
        Field(strict=False, description="The units that it hangs over, from the corner."),
    ]
    height: Annotated[float, _asked(WallPanelSizes, "height")]
    gap: Annotated[float, _asked(WallPanelSizes, "gap")]
    plates: Annotated[int, _asked(WallPanelSizes, "plates")]


def _run(meaning: str) -> Any:
    return Field(default_factory=dict, description=f"{meaning}, from its corner outwards, by name.")


class SetEntry(Entry):
    """One set: units along walls or free in the room, and what ties and hangs over them."""

    base_height: Annotated[float, _asked(SetSizes, "base_height")]
    butt_gap: Annotated[float, _asked(SetSizes, "butt_gap")]
    head_wall: dict[UnitName, UnitAlongWall] = _run("Units along the head wall")
    side_wall: dict[UnitName, UnitAlongWall] = _run(
        "Units along the side wall, beyond what stands in its corner with the head wall"
    )
    foot_wall: dict[UnitName, UnitAlongWall] = _run(
        "Units along the wall opposite the head wall, its corner that with the side wall"
    )
    far_wall: dict[UnitName, UnitAlongWall] = _run(
        "Units along the wall opposite the side wall, its corner that with the head wall"
    )
    room_depth: Annotated[float, _length(ROOM_DEPTH)] | None = None
    room_width: Annotated[float, _length(ROOM_WIDTH)] | None = None
    free: Annotated[
        dict[UnitName, UnitStandingFree],
        Field(default_factory=dict, description="Units that stand free in the room, by name."),
    ]
    ties: Annotated[
        dict[UnitName, TieEntry],
        Field(default_factory=dict, description="Steel angles that tie units, by name."),
    ]
    hung: Annotated[
        dict[UnitName, HungEntry],
        Field(default_factory=dict, description="Panels hung on walls, by name."),
    ]
    construction: ConstructionChanges | None = _CHANGES
