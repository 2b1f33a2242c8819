"""Where the units of a set stand along the head wall, before any of them is built.

All in the corner frame: x runs along the head wall away from the room corner, y out from the wall,
z up from the finished floor.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric.geometry.space import Box
from parametric.primitives.steel_angle import steel_angle
from parametric.shapes.members import SteelAngle
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction
from parametric.units.sizes import BedSizes, BenchSizes, SetSizes

# The wall panel's plate and the bed's units are named by these; the name opens every part's name.
BENCH = "bench"
TABLE = "bedside table"
BED = "bed"
WALL_PANEL = "wall panel"
ANGLE = "tie/steel angle"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlan:
    """Boxes that the units share, None for units that the set lacks.

    `base` boxes stand on the floor, `deck` boxes lie on them; the table stands on the angle.
    """

    sizes: SetSizes
    construction: Construction
    routing: Routing
    sheet_trim_mm: float
    bench_base: Box | None
    bench_deck: Box | None
    table: Box | None
    bed_base: Box | None
    bed_deck: Box | None
    angle: SteelAngle | None


def plan_set(
    sizes: SetSizes, construction: Construction, routing: Routing, sheet_trim_mm: float
) -> SetPlan:
    """Return the plan: bench in the corner, then table, then bed, as far as the set has them."""
    x = 0.0
    bench_base = bench_deck = table = bed_base = bed_deck = None
    if sizes.bench is not None:
        bench_base, bench_deck = bench_boxes(sizes.bench, sizes.base_height_mm, construction)
        x = bench_deck.high.x + sizes.butt_gap_mm
    if sizes.table is not None:
        table = Box.spanning(
            (x, x + sizes.table.width_mm),
            (0.0, sizes.table.depth_mm),
            (sizes.base_height_mm, sizes.base_height_mm + sizes.table.height_mm),
        )
        x = table.high.x + sizes.butt_gap_mm
    if sizes.bed is not None:
        bed_base, bed_deck = bed_boxes(sizes.bed, sizes.base_height_mm, x, construction)
    angle = None
    if sizes.angle is not None and bench_base is not None and bed_base is not None:
        panel = construction.base_panel.thickness_mm
        bearing = panel + sizes.angle.bearing_mm
        angle = steel_angle(
            ANGLE,
            (bench_base.high.x - bearing, bed_base.low.x + bearing),
            sizes.angle.from_wall_mm,
            sizes.base_height_mm,
            construction,
        )
    return SetPlan(
        sizes=sizes,
        construction=construction,
        routing=routing,
        sheet_trim_mm=sheet_trim_mm,
        bench_base=bench_base,
        bench_deck=bench_deck,
        table=table,
        bed_base=bed_base,
        bed_deck=bed_deck,
        angle=angle,
    )


def bench_boxes(
    bench: BenchSizes, base_height_mm: float, construction: Construction
) -> tuple[Box, Box]:
    """Return the base box and the deck of the bench, both from the corner."""
    deck = Box.spanning(
        (0.0, bench.deck_width_mm),
        (0.0, bench.deck_depth_mm),
        (base_height_mm, base_height_mm + construction.deck.thickness_mm),
    )
    base = Box.spanning(
        (0.0, bench.deck_width_mm - bench.overhang_mm),
        (0.0, bench.deck_depth_mm - bench.overhang_mm),
        (0.0, base_height_mm),
    )
    return base, deck


def bed_boxes(
    bed: BedSizes, base_height_mm: float, start_x: float, construction: Construction
) -> tuple[Box, Box]:
    """Return the base box and the deck of the bed; the deck reaches the wall, the base does not."""
    deck = Box.spanning(
        (start_x, start_x + bed.deck_width_mm),
        (0.0, bed.deck_length_mm),
        (base_height_mm, base_height_mm + construction.deck.thickness_mm),
    )
    base = Box.spanning(
        (start_x + bed.side_overhang_mm, deck.high.x - bed.side_overhang_mm),
        (bed.wall_clearance_mm, bed.deck_length_mm - bed.foot_overhang_mm),
        (0.0, base_height_mm),
    )
    return base, deck
