"""A board placed in the room, before any machining."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from parametric.geometry.space import Axis, Box, Direction, Signs
from parametric.stock.materials import EdgeBand, SheetMaterial


class Show(StrEnum):
    """Which faces of the board are seen once it is installed."""

    FRONT = "front"
    BOTH = "both"
    NONE = "none"


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

    def signed(self, signs: Signs) -> RoundedCorner:
        """Return the corner after the sign change `signs`."""
        return replace(self, first=self.first.signed(signs), second=self.second.signed(signs))


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A rectangular board in finished size, edge bands included.

    `grain` is the axis the part's length runs along. `facing` is the way its front face looks: the
    good face where the material has only one.
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

    def signed(self, signs: Signs) -> Board:
        """Return the board after the sign change `signs`."""
        return replace(
            self,
            box=self.box.signed(signs),
            facing=self.facing.signed(signs),
            bands=tuple(Band(band.edge.signed(signs), band.band) for band in self.bands),
            rounded=tuple(corner.signed(signs) for corner in self.rounded),
        )
