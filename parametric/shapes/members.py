"""What a set holds besides boards: cleats, steel angles, legs and wall plates."""

from __future__ import annotations

from dataclasses import dataclass, replace

from parametric.geometry.space import Axis, Box, Direction, Placing, Point
from parametric.stock.hardware import AngleSection, LegHardware, WallPlateHardware
from parametric.stock.materials import BarMaterial


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleat:
    """A piece of rectangular bar; `along` is the axis of its length."""

    name: str
    unit: str
    description: str
    bar: BarMaterial
    box: Box
    along: Axis

    def placed(self, placing: Placing) -> Cleat:
        """Return the cleat where `placing` puts it."""
        return replace(self, box=self.box.placed(placing), along=placing.axis(self.along))


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelAngle:
    """A steel angle: `box` bounds it, `along` is its length.

    The flat leg lies at the top of the box, the upright leg on the side facing `upright`.
    """

    name: str
    unit: str
    description: str
    section: AngleSection
    box: Box
    along: Axis
    upright: Direction

    @property
    def flat_leg(self) -> Box:
        """The leg that lies level at the top."""
        drop = self.section.leg_mm - self.section.thickness_mm
        return self.box.grown(Direction.Z_MINUS, -drop)

    @property
    def upright_leg(self) -> Box:
        """The leg that stands, its full height, the corner included."""
        spare = self.section.leg_mm - self.section.thickness_mm
        return self.box.grown(self.upright.opposite, -spare)

    def placed(self, placing: Placing) -> SteelAngle:
        """Return the angle where `placing` puts it."""
        return replace(
            self,
            box=self.box.placed(placing),
            along=placing.axis(self.along),
            upright=self.upright.placed(placing),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A leg standing on the floor at `foot`, its top plate square to the room."""

    name: str
    unit: str
    description: str
    hardware: LegHardware
    foot: Point

    @property
    def box(self) -> Box:
        """The box that bounds the leg."""
        half = self.hardware.plate_mm / 2
        x, y, z = self.foot
        return Box.spanning(
            (x - half, x + half), (y - half, y + half), (z, z + self.hardware.height_mm)
        )

    def placed(self, placing: Placing) -> Leg:
        """Return the leg where `placing` puts it."""
        return replace(self, foot=self.foot.placed(placing))


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPlate:
    """A wall plate: `box` bounds it, lip included; `out` is the way from the wall to the room."""

    name: str
    unit: str
    description: str
    hardware: WallPlateHardware
    box: Box
    out: Direction

    @property
    def lip(self) -> Box:
        """The part that enters the groove of the hung panel."""
        lip = self.box.grown(self.out.opposite, -self.hardware.thickness_mm)
        return lip.grown(Direction.Z_MINUS, self.hardware.thickness_mm - self.hardware.height_mm)

    @property
    def plate(self) -> Box:
        """The part that lies on the wall."""
        return self.box.grown(self.out, -self.hardware.lip_mm)

    def placed(self, placing: Placing) -> WallPlate:
        """Return the plate where `placing` puts it."""
        return replace(self, box=self.box.placed(placing), out=self.out.placed(placing))


Member = Cleat | SteelAngle | Leg | WallPlate
