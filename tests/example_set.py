"""A plain construction and set for tests, in inches, independent of the demo jobs."""

from dataclasses import replace

from parametric.primitives.decked_box import DeckHold
from parametric.shapes.routing import CornerRelief, Routing
from parametric.stock.construction import Construction
from parametric.stock.hardware import (
    AngleSection,
    CapHardware,
    Head,
    LegHardware,
    Screw,
    WallPlateHardware,
)
from parametric.stock.materials import (
    BarMaterial,
    EdgeBand,
    GoodFaces,
    Grain,
    SheetMaterial,
    StockSheet,
)
from parametric.stock.tolerances import Tolerance
from parametric.units.bedside_table import TableSizes
from parametric.units.bench import BenchSizes
from parametric.units.platform_bed import BedSizes
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes
from tests.row import Row

INCH = 25.4
TRIM_MM = 12.7


def material(key: str, good: GoodFaces, grain: Grain) -> SheetMaterial:
    stock = tuple(
        StockSheet(
            key=f"{key} {length}x49",
            length_mm=length * INCH,
            width_mm=49 * INCH,
            price=0.8 * length,
            on_hand=None,
        )
        for length in (97, 121)
    )
    return SheetMaterial(
        key=key,
        description=key,
        thickness_mm=0.75 * INCH,
        density_kg_m3=720.0,
        good_faces=good,
        grain=grain,
        stock=stock,
        thickness_tolerance=Tolerance(plus_minus_mm=0.05, source="for tests"),
    )


def screw(description: str, length: float, major: float, root: float, head: float) -> Screw:
    """Sizes in inches: NDS 2018 Appendix L, Table L3 (after ASME B18.6.1)."""
    return Screw(
        key=description,
        description=description,
        length_mm=length * INCH,
        major_diameter_mm=major * INCH,
        root_diameter_mm=root * INCH,
        head_diameter_mm=head * INCH,
        clearance_diameter_mm=(major + 0.01) * INCH,
        pilot_diameter_mm=0.875 * root * INCH,
        countersink_angle_deg=82.0,
    )


ONE_GOOD = material("laminated one face", GoodFaces.ONE, Grain.LENGTHWISE)
BOTH_GOOD = material("laminated both faces", GoodFaces.BOTH, Grain.LENGTHWISE)
RAW = material("raw board", GoodFaces.NONE, Grain.NONE)
PLYWOOD = material("plywood", GoodFaces.NONE, Grain.LENGTHWISE)
BAND = EdgeBand(
    key="band",
    description="1 mm band",
    thickness_mm=1.0,
    density_kg_m3=1400.0,
    thickness_tolerance=Tolerance(plus_minus_mm=0.1, source="for tests"),
)
NO_8_THIN = screw("No. 8 x 1 1/4 in", 1.25, 0.164, 0.131, 0.332)
NO_6_WIDE = screw("No. 6 x 2 in", 2.0, 0.138, 0.113, 0.279)
NO_10_WALL = screw("No. 10 x 3 in", 3.0, 0.190, 0.152, 0.385)
NO_10_ANGLE = replace(screw("No. 10 x 3/4 in", 0.75, 0.190, 0.152, 0.385), head=Head.WASHER)
NO_10_LEG = replace(screw("No. 10 x 5/8 in", 0.625, 0.190, 0.152, 0.385), head=Head.WASHER)
ROUTING = Routing(bit_diameter_mm=0.375 * INCH, corner_relief=CornerRelief.OVERCUT, pre_mill_mm=0.0)
CONSTRUCTION = Construction(
    deck=ONE_GOOD,
    base_panel=ONE_GOOD,
    rail=RAW,
    bearer=PLYWOOD,
    carcass=BOTH_GOOD,
    wall_panel=ONE_GOOD,
    band=BAND,
    cleat=BarMaterial(
        key="cleat",
        description="cleat",
        thickness_mm=0.75 * INCH,
        width_mm=1.5 * INCH,
        density_kg_m3=450.0,
        stock_length_mm=96 * INCH,
    ),
    angle=AngleSection(
        key="L2x2x1/4",
        description="steel angle",
        leg_mm=2 * INCH,
        thickness_mm=0.25 * INCH,
        stock_length_mm=240 * INCH,
        leg_tolerance=Tolerance(plus_minus_mm=1.0, source="for tests"),
    ),
    leg=LegHardware(
        key="leg",
        description="leg",
        height_mm=13.25 * INCH,
        plate_mm=3.5 * INCH,
        plate_thickness_mm=0.1875 * INCH,
        tube_diameter_mm=2 * INCH,
        hole_spacing_mm=2.5 * INCH,
        screw=NO_10_LEG,
    ),
    wall_plate=WallPlateHardware(
        key="wall plate",
        description="wall plate",
        length_mm=6 * INCH,
        height_mm=2 * INCH,
        thickness_mm=0.1875 * INCH,
        lip_mm=0.375 * INCH,
        hole_spacing_mm=4 * INCH,
        screw=NO_10_WALL,
        thickness_tolerance=Tolerance(plus_minus_mm=0.3, source="for tests"),
        countersunk=True,
    ),
    cap=CapHardware(
        key="cap", description="cap", diameter_mm=0.5 * INCH, recess_depth_mm=0.125 * INCH
    ),
    screw_cleat_thin=NO_8_THIN,
    screw_cleat_wide=NO_6_WIDE,
    screw_angle=NO_10_ANGLE,
    screw_wall=NO_10_WALL,
    screw_panel=NO_10_WALL,
    angle_clearance_mm=INCH / 16,
    angle_packing_mm=INCH / 16,
    housing_depth_mm=0.375 * INCH,
    housing_clearance_mm=0.2,
)


def set_sizes(
    *,
    bed_width: float = 60.0,
    bed_length: float = 80.0,
    bench_depth: float = 44.0,
    table_width: float = 16.0,
    shelf: float | None = 5.0,
    deck_held: DeckHold | None = None,
) -> Row:
    """Return a whole set; sizes in inches. The bed's deck is bonded on unless it says otherwise."""
    return Row(
        name="example",
        base_height_mm=13.25 * INCH,
        butt_gap_mm=INCH / 16,
        bench=BenchSizes(
            deck_width_mm=24 * INCH,
            deck_depth_mm=bench_depth * INCH,
            overhang_mm=8 * INCH,
            corner_radius_mm=4 * INCH,
        ),
        table=TableSizes(
            width_mm=table_width * INCH,
            depth_mm=16 * INCH,
            height_mm=10.75 * INCH,
            shelf_height_mm=None if shelf is None else shelf * INCH,
        ),
        bed=BedSizes(
            deck_width_mm=bed_width * INCH,
            deck_length_mm=bed_length * INCH,
            wall_clearance_mm=0.625 * INCH,
            side_overhang_mm=8 * INCH,
            foot_overhang_mm=16 * INCH,
            leg_inset_mm=8 * INCH,
            corner_radius_mm=2 * INCH,
            deck_held=deck_held,
        ),
        wall_panel=WallPanelSizes(height_mm=30 * INCH, gap_mm=0.5 * INCH, plates=3),
        angle=TieSizes(from_wall_mm=8 * INCH, bearing_mm=6 * INCH),
    )
