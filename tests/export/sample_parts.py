"""Small hand-made parts for the tests of this folder."""

from __future__ import annotations

from dataclasses import replace

from export.layer_names import LayerNames
from export.layer_table import LayerTable, layer_table
from nesting.answer.solution import Layout, Placement
from nesting.question.ticks import gap_ticks
from parametric.geometry.outline import Outline, Vertex
from parametric.lists.bar_catalogue import FLAT_LEG
from parametric.lists.cut_list import BarHole, BarPart, CutList, EdgeBanding, Part, PartHand
from parametric.shapes.panel import Bore, Edge, EdgeBore, Face, FlatPanel, Pocket
from parametric.stock.materials import EdgeBand, GoodFaces, Grain, SheetMaterial, StockSheet

STOCK = StockSheet(key="board 2440", length_mm=2440.0, width_mm=1220.0, price=61.5, on_hand=None)

LAMINATED = SheetMaterial(
    key="laminated-18",
    description="laminated board, 18 mm",
    thickness_mm=18.0,
    density_kg_m3=680.0,
    good_faces=GoodFaces.ONE,
    grain=Grain.LENGTHWISE,
    stock=(STOCK,),
)

RAW = replace(LAMINATED, key="raw-18", description="raw board, 18 mm", grain=Grain.NONE)

WHITE_BAND = EdgeBand(
    key="white-1", description="white band, 1 mm", thickness_mm=1.0, density_kg_m3=1400.0
)

LARGEST_DRILL_MM = 12.7


def flat_panel(length_mm: float, width_mm: float, **features: object) -> FlatPanel:
    """Return a rectangular panel of 18 mm with the given features; an `outline` may replace it."""
    panel = FlatPanel(
        length_mm=length_mm,
        width_mm=width_mm,
        thickness_mm=18.0,
        outline=Outline.rectangle(length_mm, width_mm),
        openings=(),
        pockets=(),
        bores=(),
        edge_bores=(),
    )
    return replace(panel, **features)  # type: ignore[arg-type]


def part(number: str, panel: FlatPanel, material: SheetMaterial = LAMINATED) -> Part:
    """Return a cut-list line for the panel, four times, banded along y-low."""
    return Part(
        number=number,
        description="sample panel",
        units=("bench",),
        hand=PartHand.EITHER,
        material=material,
        panel=panel,
        finished_length_mm=panel.length_mm,
        finished_width_mm=panel.width_mm + 1.0,
        banding=(EdgeBanding(edge=Edge.Y_LOW, band=WHITE_BAND),),
        front=Face.DOWN,
        show_faces=(Face.DOWN,),
        quantity=4,
        mass_kg=3.25,
    )


def bore(x: float, y: float, diameter: float, depth: float | None, face: Face = Face.UP) -> Bore:
    """Return a hole; a depth of None goes through."""
    return Bore(x=x, y=y, diameter_mm=diameter, depth_mm=depth, face=face)


def notched_panel() -> FlatPanel:
    """Return a panel of no symmetry: a rounded corner, a notch, a slot, a groove and holes."""
    outline = Outline(
        (
            Vertex(0.0, 0.0),
            Vertex(500.0, 0.0),
            Vertex(500.0, 240.0, 0.41421356237309503),  # quarter of a circle, radius 60
            Vertex(440.0, 300.0),
            Vertex(180.0, 300.0),
            Vertex(180.0, 250.0),
            Vertex(120.0, 250.0),
            Vertex(120.0, 300.0),
            Vertex(0.0, 300.0),
        )
    )
    slot = Outline(
        (
            Vertex(300.0, 60.0),
            Vertex(380.0, 60.0, 1.0),
            Vertex(380.0, 80.0),
            Vertex(300.0, 80.0, 1.0),
        )
    )
    groove = Pocket(
        outline=Outline(
            tuple(Vertex(*at) for at in ((20, 100), (200, 100), (200, 200), (20, 200)))
        ),
        islands=(
            Outline(tuple(Vertex(*at) for at in ((60, 130), (100, 130), (100, 160), (60, 160)))),
        ),
        depth_mm=9.525,
        face=Face.UP,
    )
    return flat_panel(
        500.0,
        300.0,
        outline=outline,
        openings=(slot,),
        pockets=(groove,),
        bores=(
            bore(30.0, 30.0, 5.0, None),
            bore(470.0, 30.0, 5.0, 12.0),
            bore(420.0, 200.0, 35.0, 3.0),  # larger than any drill: routed
            bore(250.0, 40.0, 25.4, None),
        ),
    )


def two_sided_panel() -> FlatPanel:
    """Return the notched panel with a groove and a hole on face DOWN as well."""
    panel = notched_panel()
    back = Pocket(
        outline=Outline(
            tuple(Vertex(*at) for at in ((210, 20), (225, 20), (225, 290), (210, 290)))
        ),
        islands=(),
        depth_mm=6.0,
        face=Face.DOWN,
    )
    return replace(
        panel,
        pockets=(*panel.pockets, back),
        bores=(*panel.bores, bore(480.0, 100.0, 8.0, 10.0, Face.DOWN)),
        edge_bores=(
            EdgeBore(
                x=0.0,
                y=50.0,
                z_mm=9.0,
                direction_x=1.0,
                direction_y=0.0,
                diameter_mm=3.0,
                depth_mm=30.0,
            ),
        ),
    )


def sample_parts() -> dict[str, Part]:
    """Return a two-sided grained part, a raw part that may turn, and a narrow one, by number."""
    parts = (
        part("A-01", two_sided_panel()),
        part("B-02", notched_panel(), RAW),
        part("C-03", flat_panel(600.0, 24.0)),
    )
    return {item.number: item for item in parts}


def sample_layers() -> LayerTable:
    """Return the layers of the sample parts."""
    return layer_table(sample_parts().values(), LayerNames(), LARGEST_DRILL_MM)


def sample_layout() -> Layout:
    """Return the three sample parts on one sheet, `B-02` turned, in ticks."""
    return Layout(
        stock=STOCK.key,
        placements=(
            Placement(piece="A-01", x=gap_ticks(10), y=gap_ticks(10), turned=False),
            Placement(piece="B-02", x=gap_ticks(520), y=gap_ticks(10), turned=True),
            Placement(piece="C-03", x=gap_ticks(10), y=gap_ticks(600), turned=False),
        ),
        runs=3,
    )


def sample_cut_list() -> CutList:
    """Return the sample parts and one steel angle."""
    angle = BarPart(
        number="D-04",
        description="steel angle",
        units=("bench", "bed"),
        hand=PartHand.RIGHT,
        material="steel",
        material_name="steel",
        profile="50 x 50 x 6",
        length_mm=812.8,
        stock_length_mm=6096.0,
        holes=(
            BarHole(face=FLAT_LEG, from_end_mm=35.0, across_mm=25.4, diameter_mm=5.0),
            BarHole(face=FLAT_LEG, from_end_mm=410.0, across_mm=25.4, diameter_mm=5.0),
            BarHole(face=FLAT_LEG, from_end_mm=60.0, across_mm=30.0, diameter_mm=6.5),
        ),
        quantity=2,
        mass_kg=3.6,
    )
    return CutList(parts=tuple(sample_parts().values()), bars=(angle,), uses=())
