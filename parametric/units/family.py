"""What a family of units is, and what it is given to build one of its units.

A family is one file: sizes, what it stands against, the room that it takes, parts and joints, and
what must hold between its sizes. `known_units` lists the families; nothing else names one.

All in the frame of the wall that the unit stands along: x runs along it from its corner, y out from
it, z up from the finished floor.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Generic, NamedTuple, TypeVar

from parametric.geometry.space import Box
from parametric.geometry.walls import Wall
from parametric.joints.assembly import Assembly
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction

# Under a deck beside its base box, for the screws up through the angle; common practice, no source.
ANGLE_ROOM_MM = 30.0
# A box's corner stays under a deck's rounded corner up to this multiple of the overhang.
RADIUS_PER_OVERHANG = 1 / (1 - math.sqrt(0.5))

SizesT = TypeVar("SizesT")


class Stands(StrEnum):
    """What a unit needs beside it."""

    WALL = "along a wall"
    ANYWHERE = "along a wall or free in the room"
    BETWEEN = "on a steel angle, between two units that it runs into"


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """The room that a unit takes. `whole` is what neighbours butt against and panels hang over;
    `base` is the box on the floor that a steel angle can run into, None if there is none. `others`
    is what else it takes, of which no neighbour must know.
    """

    whole: Box
    base: Box | None = None
    others: tuple[Box, ...] = ()

    @property
    def boxes(self) -> tuple[Box, ...]:
        """All that it takes."""
        return (self.whole, *(() if self.base is None else (self.base,)), *self.others)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tied:
    """A steel angle that runs into a unit's base: through which of its sides, `low` nearer to the
    corner.
    """

    angle: SteelAngle
    low: bool
    high: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPlan(Generic[SizesT]):
    """A unit before it is built. `wall` is the one behind it, None if it stands free; `start_mm` is
    where it begins along the wall, `out_mm` how far its back stands from it if it stands free.

    `in_corner` says that it stands against the wall beside it as well. `tied` are the angles that
    run into its base, `carried_by` is one that it rests on.
    """

    name: str
    sizes: SizesT
    wall: Wall | None
    start_mm: float
    out_mm: float
    in_corner: bool
    base_height_mm: float
    construction: Construction
    routing: Routing
    sheet_trim_mm: float
    tied: tuple[Tied, ...] = ()
    carried_by: SteelAngle | None = None

    @property
    def beside_box_mm(self) -> tuple[float, str]:
        """How far a deck must stand out beside its box at least, and why."""
        if self.tied:
            return ANGLE_ROOM_MM, f"{BOX_REMAINS}, and room for the angle's screws beside it"
        return 0.0, BOX_REMAINS


class Limit(NamedTuple):
    """What a size may be at least and at most, beside the others, and why; its keys in the job
    below the unit.
    """

    keys: tuple[str, ...]
    value_mm: float
    least_mm: float
    most_mm: float
    reason: str


class Unfit(NamedTuple):
    """What a job says of a unit and what it could say instead; its keys below the unit."""

    keys: tuple[str, ...]
    found: str
    allowed: str


BOX_REMAINS = "so that a base box remains under the deck"
CORNER_COVERS = "so that the rounded corner covers that of the base box, and what stands under it"


def least_box_mm(construction: Construction) -> float:
    """Return the least outside width of a base box: its panels and a cleat on each of them."""
    return 2 * (thickest_side_mm(construction) + construction.cleat.width_mm)


def thickest_side_mm(construction: Construction) -> float:
    """Return the thickness of the thickest board that a base box has for a side."""
    return max(construction.rail.thickness_mm, construction.base_panel.thickness_mm)


def no_grooves(construction: Construction) -> Iterator[tuple[float, str]]:
    """Yield no grooves."""
    del construction
    yield from ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Family(Generic[SizesT]):
    """A family of units, as data.

    `name` is what a job calls it, `sizes` a dataclass of annotated sizes (see `size`). `space`
    tells the room that a unit takes, `parts` makes its boards, members and joints, `limits` yields
    what must hold between its sizes. `takes_ties` tells that steel angles can run into its base.
    `fills` names the size that may be changed to fill an opening, empty if there is none. `grooves`
    yields the widths of grooves that a bit must pass, and what stands in them.

    `parts` raises DeckTooLarge where no stock sheet holds a deck, even in pieces.
    """

    name: str
    meaning: str
    sizes: type[SizesT]
    stands: Stands
    space: Callable[[UnitPlan[SizesT]], Space]
    parts: Callable[[UnitPlan[SizesT], Space], Assembly]
    limits: Callable[[UnitPlan[SizesT]], Iterator[Limit | Unfit]]
    fills: str = ""
    takes_ties: bool = False
    grooves: Callable[[Construction], Iterator[tuple[float, str]]] = no_grooves


AnyFamily = Family[Any]
AnyPlan = UnitPlan[Any]
