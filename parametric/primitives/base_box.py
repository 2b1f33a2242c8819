"""Base box: four panels round a rectangle, joined from inside so that no screw shows.

The front panel runs the full width and covers the ends of the two sides; the sides run from the
back edge to it, and the back panel stands between them. Upright cleats stand in the corners, level
cleats run round the top for the deck; both are interrupted where a bearer or an angle passes.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.geometry.spacing import Interval, remaining
from parametric.joints.assembly import Assembly, joined
from parametric.primitives.cleat import LEAST_CLEAT_MM, level_cleat, upright_cleat
from parametric.shapes.board import Band, Board, Show
from parametric.stock.construction import Construction
from parametric.stock.materials import SheetMaterial


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxPanel:
    """One side of a base box: what it is called, made of, and where its bare ends are seen."""

    name: str
    material: SheetMaterial
    show: Show
    banded_ends: tuple[Direction, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BaseBox:
    """The panels of a base box by the way they look, and the box's outer faces."""

    box: Box
    back: Board
    front: Board
    low: Board
    high: Board

    @property
    def boards(self) -> tuple[Board, ...]:
        """The four panels."""
        return (self.back, self.low, self.high, self.front)

    def crossed(self, *, low: bool, high: bool) -> tuple[Board, ...]:
        """Return the side panels that something runs through, in x, nearer the corner first."""
        return (*((self.low,) if low else ()), *((self.high,) if high else ()))

    @property
    def inside(self) -> Box:
        """The clear space between the panels."""
        return Box(
            Point(self.low.box.high.x, self.back.box.high.y, self.box.low.z),
            Point(self.high.box.low.x, self.front.box.low.y, self.box.high.z),
        )


def base_box(
    unit: str,
    box: Box,
    back: BoxPanel,
    front: BoxPanel,
    low: BoxPanel,
    high: BoxPanel,
    construction: Construction,
) -> BaseBox:
    """Return the four panels that fill the sides of `box`; `low` and `high` are the sides in x."""

    def panel(spec: BoxPanel, space: Box, facing: Direction) -> Board:
        return Board(
            name=f"{unit}/{spec.name}",
            unit=unit,
            description=f"{unit} {spec.name}",
            material=spec.material,
            box=space,
            grain=Axis.X if facing.axis is Axis.Y else Axis.Y,
            facing=facing,
            show=spec.show,
            bands=tuple(Band(end, construction.band) for end in spec.banded_ends),
        )

    def slab(side: Direction, thickness_mm: float, within: Box) -> Box:
        return within.grown(side.opposite, thickness_mm - within.size(side.axis))

    front_box = slab(Direction.Y_PLUS, front.material.thickness_mm, box)
    behind = box.grown(Direction.Y_PLUS, -front.material.thickness_mm)
    low_box = slab(Direction.X_MINUS, low.material.thickness_mm, behind)
    high_box = slab(Direction.X_PLUS, high.material.thickness_mm, behind)
    between = behind.grown(Direction.X_MINUS, -low.material.thickness_mm)
    between = between.grown(Direction.X_PLUS, -high.material.thickness_mm)
    back_box = slab(Direction.Y_MINUS, back.material.thickness_mm, between)
    return BaseBox(
        box=box,
        back=panel(back, back_box, Direction.Y_MINUS),
        front=panel(front, front_box, Direction.Y_PLUS),
        low=panel(low, low_box, Direction.X_MINUS),
        high=panel(high, high_box, Direction.X_PLUS),
    )


def box_cleats(
    unit: str,
    base: BaseBox,
    decks: tuple[Board, ...],
    low_gaps: tuple[Interval, ...],
    high_gaps: tuple[Interval, ...],
    construction: Construction,
) -> Assembly:
    """Return the upright and level cleats of a base box with their screws.

    `low_gaps` and `high_gaps` are the intervals in y where the level cleats of the sides are
    interrupted.
    """
    return joined(
        (
            *corner_cleats(unit, base, construction),
            *deck_cleats(unit, base, decks, low_gaps, high_gaps, construction),
        )
    )


def corner_cleats(unit: str, base: BaseBox, construction: Construction) -> tuple[Assembly, ...]:
    """Return the four upright cleats, their tops under the level cleats."""
    inside = base.inside
    height_mm = inside.size(Axis.Z) - construction.cleat.width_mm
    cleats: list[Assembly] = []
    for side, x, to_side in (
        (base.low, inside.low.x, Direction.X_MINUS),
        (base.high, inside.high.x, Direction.X_PLUS),
    ):
        sideways = (side.name, to_side)
        back, front = (base.back.name, Direction.Y_MINUS), (base.front.name, Direction.Y_PLUS)
        # Flat against the panel that ends in the corner, so that no screw comes near its end.
        for y, far, flat in ((inside.low.y, sideways, back), (inside.high.y, front, sideways)):
            cleats.append(
                upright_cleat(
                    f"{unit}/upright cleat {len(cleats) + 1}",
                    Point(x, y, inside.low.z),
                    height_mm,
                    far,
                    flat,
                    construction,
                )
            )
    return tuple(cleats)


def deck_cleats(
    unit: str,
    base: BaseBox,
    decks: tuple[Board, ...],
    low_gaps: tuple[Interval, ...],
    high_gaps: tuple[Interval, ...],
    construction: Construction,
) -> tuple[Assembly, ...]:
    """Return the level cleats: full runs at back and front, pieces between them at the sides."""
    inside = base.inside
    bar = construction.cleat
    top = inside.grown(Direction.Z_MINUS, bar.width_mm - inside.size(Axis.Z))
    runs: list[tuple[Box, tuple[str, Direction]]] = []
    for panel, direction in ((base.back, Direction.Y_MINUS), (base.front, Direction.Y_PLUS)):
        box = top.grown(direction.opposite, bar.thickness_mm - top.size(Axis.Y))
        runs.append((box, (panel.name, direction)))
    low_y = inside.low.y + bar.thickness_mm
    high_y = inside.high.y - bar.thickness_mm
    for panel, direction, gaps in (
        (base.low, Direction.X_MINUS, low_gaps),
        (base.high, Direction.X_PLUS, high_gaps),
    ):
        strip = top.grown(direction.opposite, bar.thickness_mm - top.size(Axis.X))
        for start, end in remaining(low_y, high_y, gaps, LEAST_CLEAT_MM):
            piece = Box(strip.low.at(Axis.Y, start), strip.high.at(Axis.Y, end))
            runs.append((piece, (panel.name, direction)))
    return tuple(
        level_cleat(f"{unit}/deck cleat {index}", box, panel, decks, construction)
        for index, (box, panel) in enumerate(runs, start=1)
    )
