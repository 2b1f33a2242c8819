"""Random valid sizes of sets and routers, in millimetres."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from parametric.shapes.routing import CornerRelief, Routing
from parametric.stock.construction import Construction
from parametric.units.bedside_table import TableSizes
from parametric.units.bench import BenchSizes
from parametric.units.platform_bed import BedSizes
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes
from tests.example_set import CONSTRUCTION
from tests.row import Row

UNITS = ("bench", "table", "bed", "wall_panel", "angle")
# What a set may do without, as a job's rules allow it: a table needs bench, bed and angle, an angle
# needs bench and bed, a wall panel needs the bed.
LEFT_OUT: tuple[tuple[str, ...], ...] = (
    (),
    ("wall_panel",),
    ("table",),
    ("table", "wall_panel"),
    ("table", "angle"),
    ("table", "wall_panel", "angle"),
    ("bench", "table", "angle"),
    ("bench", "table", "wall_panel", "angle"),
    ("table", "bed", "wall_panel", "angle"),
)


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths on the grid that people use: tenths of a millimetre or 1/32 in."""
    tenths = st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)
    inches = st.integers(round(low / 25.4 * 32) + 1, round(high / 25.4 * 32) - 1).map(
        lambda n: n * 25.4 / 32
    )
    return st.one_of(tenths, inches)


@st.composite
def set_sizes(draw: st.DrawFn) -> Row:
    """A set whose units fit together, whole or without what a set may lack."""
    # Whole ones as often as all others together.
    lacks = draw(st.one_of(st.just(()), st.sampled_from(LEFT_OUT)))
    return without(draw(whole_sets()), lacks)


def without(sizes: Row, lacks: tuple[str, ...]) -> Row:
    """The set without some of its units."""
    return replace(sizes, **dict.fromkeys(lacks))


@st.composite
def whole_sets(draw: st.DrawFn) -> Row:
    """A set of all its units."""
    side_overhang = draw(lengths(40, 260))
    foot_overhang = draw(lengths(260, 500))
    bench_width = draw(lengths(560, 700))
    bench_overhang = draw(lengths(30, 300))
    # The angle is let down inside the bench: rail, cleat and two panels of 19.05 mm, two bearings.
    most_bearing = min(180.0, (bench_width - bench_overhang - 4 * 19.05 - 1) / 2)
    return Row(
        name="random",
        base_height_mm=draw(lengths(200, 700)),
        butt_gap_mm=draw(lengths(1, 5)),  # less, and tolerances close the two gaps
        bench=BenchSizes(
            deck_width_mm=bench_width,
            deck_depth_mm=draw(lengths(900, 1500)),
            overhang_mm=bench_overhang,
            corner_radius_mm=draw(st.one_of(st.just(0.0), lengths(10, 150))),
        ),
        table=TableSizes(
            width_mm=draw(lengths(300, 600)),
            depth_mm=draw(lengths(330, 500)),
            height_mm=draw(lengths(220, 350)),
            shelf_height_mm=draw(st.one_of(st.none(), lengths(60, 130))),
        ),
        bed=BedSizes(
            deck_width_mm=draw(lengths(850, 1800)),
            deck_length_mm=draw(lengths(1800, 2150)),
            wall_clearance_mm=draw(lengths(0, 25)),
            side_overhang_mm=side_overhang,
            foot_overhang_mm=foot_overhang,
            leg_inset_mm=draw(lengths(70, 150)),
            corner_radius_mm=draw(st.one_of(st.just(0.0), lengths(10, 60))),
        ),
        wall_panel=WallPanelSizes(
            height_mm=draw(lengths(400, 900)),
            gap_mm=draw(lengths(5, 20)),
            plates=draw(st.integers(2, 3)),
        ),
        angle=TieSizes(
            from_wall_mm=draw(lengths(110, 220)), bearing_mm=draw(lengths(60, most_bearing))
        ),
    )


def construction_for(sizes: Row) -> Construction:
    """The example's construction with legs as high as the bases."""
    leg = replace(CONSTRUCTION.leg, height_mm=sizes.base_height_mm)
    return replace(CONSTRUCTION, leg=leg)


def routings() -> st.SearchStrategy[Routing]:
    """Bits from 1/4 to 1/2 in, either corner relief, edges milled by less or more than a band."""
    return st.builds(
        Routing,
        bit_diameter_mm=st.sampled_from([6.35, 8.0, 9.525, 10.0, 12.0, 12.7]),
        corner_relief=st.sampled_from(CornerRelief),
        pre_mill_mm=st.sampled_from([0.0, 0.5, 1.5, 2.9]),
    )
