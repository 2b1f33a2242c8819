"""A board placed in the room, before any machining."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from parametric.geometry.space import Axis, Box, Direction, Placing
from parametric.stock.materials import EdgeBand, SheetMaterial


class Show(StrEnum):
    """Which faces of the board are seen once it is installed."""

    FRONT = "front"
    BOTH = "both"
    NONE = "none"


class Surface(StrEnum):
    """What the front face of a level board is for, which decides the loads on it."""

    SEAT = "seat"
    LYING = "lying surface"
    LEANING = "work surface"


@dataclass(frozen=True, slots=True)
class Band:
    """An edge band on the edge that faces `edge`."""

    edge: Direction
    band: EdgeBand


@dataclass(frozen=True, slots=True)
class RoundedCorner:
    """A rounded outline corner between the edges facing `first` and `second`."""

    first: Direction
    second: Direction
    radius_mm: float

    def placed(self, placing: Placing) -> RoundedCorner:
        """Return the corner where `placing` puts it."""
        return replace(self, first=self.first.placed(placing), second=self.second.placed(placing))


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A rectangular board in finished size, edge bands included.

    `grain` is the axis the part's length runs along. `facing` is the way its front face looks: the
    good face where the material has only one. `surface` is what that is for, None if nothing.
    """

    name: str
    unit: str
    description: str
    material: SheetMaterial
    box: Box
    grain: Axis
    facing: Direction
    show: Show
    bands: tuple[Band, ...] = ()
    rounded: tuple[RoundedCorner, ...] = ()
    surface: Surface | None = None

    @property
    def width_axis(self) -> Axis:
        """The axis across the grain, in the plane of the board."""
        return next(axis for axis in Axis if axis not in (self.grain, self.facing.axis))

    @property
    def thickness_mm(self) -> float:
        """Extent across the faces."""
        return self.box.size(self.facing.axis)

    def core_box(self) -> Box:
        """Return the box without its edge bands."""
        box = self.box
        for band in self.bands:
            box = box.grown(band.edge, -band.band.thickness_mm)
        return box

    def cut_box(self, pre_mill_mm: float) -> Box:
        """Return the box as it is cut: the core, larger by the pre-milling of each banded edge."""
        box = self.core_box()
        for band in self.bands:
            box = box.grown(band.edge, pre_mill_mm)
        return box

    def placed(self, placing: Placing) -> Board:
        """Return the board where `placing` puts it."""
        return replace(
            self,
            box=self.box.placed(placing),
            grain=placing.axis(self.grain),
            facing=self.facing.placed(placing),
            bands=tuple(Band(band.edge.placed(placing), band.band) for band in self.bands),
            rounded=tuple(corner.placed(placing) for corner in self.rounded),
        )
