"""A set as the tests vary it: one row of known units along the head wall, any of them left out."""

from __future__ import annotations

from dataclasses import dataclass, field

from parametric.geometry.walls import Wall
from parametric.sets.composition import HungPanel, Run, SetSizes, Tie, Unit
from parametric.units.bedside_table import TableSizes
from parametric.units.bench import BenchSizes
from parametric.units.platform_bed import BedSizes
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes


@dataclass(frozen=True, kw_only=True)
class Row(SetSizes):
    """A set that is composed of its row: bench in the corner, table, bed, the panel over the bed
    and the angle from bench to bed, each None if the set lacks it.
    """

    bench: BenchSizes | None
    table: TableSizes | None
    bed: BedSizes | None
    wall_panel: WallPanelSizes | None
    angle: TieSizes | None
    runs: tuple[Run, ...] = field(init=False)
    ties: tuple[Tie, ...] = field(init=False)
    hung: tuple[HungPanel, ...] = field(init=False)

    def __post_init__(self) -> None:
        units = (
            ("bench", "bench", self.bench),
            ("bedside table", "bedside-table", self.table),
            ("bed", "platform-bed", self.bed),
        )
        row = tuple(
            Unit(name=name, family=family, sizes=sizes) for name, family, sizes in units if sizes
        )
        ties, hung = (), ()
        if self.angle is not None:
            ties = (Tie(name="tie", through=("bench", "bed"), sizes=self.angle),)
        if self.wall_panel is not None:
            hung = (HungPanel(name="wall panel", over=("bed",), sizes=self.wall_panel),)
        object.__setattr__(self, "runs", (Run(wall=Wall.HEAD, units=row),) if row else ())
        object.__setattr__(self, "ties", ties)
        object.__setattr__(self, "hung", hung)

    @property
    def composed(self) -> SetSizes:
        """The same set without the row."""
        return SetSizes(
            name=self.name,
            base_height_mm=self.base_height_mm,
            butt_gap_mm=self.butt_gap_mm,
            runs=self.runs,
            ties=self.ties,
            hung=self.hung,
        )


def row_of(sizes: SetSizes) -> Row:
    """Return the row that a set of a demo is composed of."""
    by_family = {unit.family: unit.sizes for unit in sizes.units()}
    return Row(
        name=sizes.name,
        base_height_mm=sizes.base_height_mm,
        butt_gap_mm=sizes.butt_gap_mm,
        built_from=sizes.built_from,
        bench=by_family.get("bench"),
        table=by_family.get("bedside-table"),
        bed=by_family.get("platform-bed"),
        wall_panel=sizes.hung[0].sizes if sizes.hung else None,
        angle=sizes.ties[0].sizes if sizes.ties else None,
    )
