"""What files ask of the router, worked out by hand on small drawings."""

import csv
import io
import math
from dataclasses import replace

import pytest
from shapely import Polygon

from export.drawing.panel_drawing import panel_drawing
from export.drawing.primitives import Circle, ClosedPath, Drawing
from export.layer_table import Layer, LayerRole, LayerTable
from export.rack_label import rack_label
from export.routing.cuts import layer_cuts, pocket_area_mm2
from export.routing.machine_rates import Bit, BitRole, Times, assumed_bits
from export.routing.routed_file import RoutedFile
from export.routing.router_work import RouterWork, bit_for, router_work
from export.tables.router_time_table import router_times_csv
from parametric.geometry.outline import Outline, Vertex
from parametric.lists.face_up import FaceUp
from parametric.lists.operations import Operation
from parametric.shapes.panel import Face
from tests.export.sample_parts import sample_layers, sample_parts

ROUTED = (BitRole.OUTLINE, BitRole.OPENING, BitRole.GROOVE)
ROUTER = Bit(
    name="ten", diameter_mm=10.0, roles=ROUTED, feed_mm=6000.0, plunge_mm=1000.0, pass_depth_mm=8.0
)
DRILL = Bit(name="five", diameter_mm=5.0, roles=(BitRole.BORE,), feed_mm=500.0, plunge_mm=500.0)
TIMES = Times(tool_change_s=15.0, lift_s=2.0, rapid_mm=20_000.0)


def layer(name: str, role: LayerRole, depth: float | None, diameter: float | None = None) -> Layer:
    return Layer(name=name, role=role, depth_mm=depth, diameter_mm=diameter, face=Face.UP)


LAYERS = LayerTable(
    layers=(
        layer("edge", LayerRole.SHEET, None),
        layer("out", LayerRole.OUTLINE, None),
        layer("pocket", LayerRole.GROOVE, 6.0),
        layer("holes", LayerRole.BORE, None, 5.0),
        layer("deep", LayerRole.BORE, 12.0, 5.0),
        layer("wide", LayerRole.BORE, 12.0, 8.0),
    ),
    largest_drill_mm=12.7,
)


def rectangle(name: str, length: float, width: float, x: float = 0, y: float = 0) -> ClosedPath:
    outline = Outline.rectangle(length, width)
    return ClosedPath(
        layer=name, vertices=tuple(Vertex(v.x + x, v.y + y) for v in outline.vertices)
    )


def work(drawing: Drawing, *bits: Bit) -> RouterWork:
    return router_work(drawing, LAYERS, 18.0, bits, TIMES, 100.0)


def test_an_outline_goes_round_in_as_many_passes_as_the_board_needs() -> None:
    """18 mm in passes of 8 mm: three times round 2 x (600 + 400) mm at 6 m a minute, 18 mm down at
    1 m a minute, one lift.
    """
    drawing = Drawing(paths=(rectangle("edge", 900, 900), rectangle("out", 600, 400)))
    (run,) = work(drawing, ROUTER).runs
    assert (run.path_mm, run.plunges, run.plunged_mm, run.rapid_mm) == (6000.0, 3, 18.0, 0.0)
    assert run.seconds == pytest.approx(60.0 + 18 / 1000 * 60 + 2.0)


def test_one_bit_is_never_changed_and_several_go_back_to_the_first() -> None:
    outline, hole = rectangle("out", 600, 400), Circle(layer="holes", x=50, y=50, diameter_mm=5)
    assert work(Drawing(paths=(outline,)), ROUTER, DRILL).tool_changes == 0
    both = work(Drawing(paths=(outline,), circles=(hole,)), ROUTER, DRILL)
    assert [run.bit for run in both.runs] == [DRILL, ROUTER]
    assert (both.tool_changes, both.change_s, both.handling_s) == (2, 30.0, 100.0)
    parts = [run.seconds for run in both.runs]
    assert both.seconds == pytest.approx(math.fsum((*parts, 30.0, 100.0)))


def test_a_drill_comes_once_for_all_its_layers() -> None:
    """Three holes, 300 mm and 400 mm apart; two through 18 mm, one 12 mm deep."""
    holes = (
        Circle(layer="holes", x=0, y=0, diameter_mm=5),
        Circle(layer="holes", x=300, y=0, diameter_mm=5),
        Circle(layer="deep", x=300, y=400, diameter_mm=5),
    )
    (run,) = work(Drawing(circles=holes), ROUTER, DRILL).runs
    assert run.layers == ("holes", "deep")
    assert (run.path_mm, run.plunges, run.plunged_mm, run.rapid_mm) == (0.0, 3, 48.0, 700.0)
    assert run.seconds == pytest.approx((48 / 500 + 700 / 20_000) * 60 + 3 * 2)


def test_a_wide_pocket_is_cleared_in_lanes_round_its_island() -> None:
    """200 x 100 mm with an island of 40 x 30 mm: edges of 740 mm take 7400 of 18,800 mm2; lanes of
    5 mm clear the other 11,400 in 2280 mm.
    """
    paths = (rectangle("pocket", 200, 100), rectangle("pocket", 40, 30, 60, 40))
    (run,) = work(Drawing(paths=paths), ROUTER).runs
    assert run.path_mm == pytest.approx(740 + 2280)
    assert run.plunges == 2


def test_a_slot_as_wide_as_the_bit_is_its_edge() -> None:
    (run,) = work(Drawing(paths=(rectangle("pocket", 300, 10),)), ROUTER).runs
    assert run.path_mm == pytest.approx(620)


def test_what_no_bit_can_cut_is_named_and_has_no_time() -> None:
    """A hole of 8 mm without its drill, a slot of 9 mm for a bit of 10 mm."""
    drawing = Drawing(
        paths=(rectangle("pocket", 300, 9), rectangle("out", 600, 400)),
        circles=(
            Circle(layer="wide", x=5, y=5, diameter_mm=8.0),
            Circle(layer="deep", x=5, y=9, diameter_mm=5.0),
        ),
    )
    found = work(drawing, ROUTER)
    assert [(run.bit, run.layers, run.missing_mm) for run in found.missing] == [
        (None, ("deep",), 5.0),
        (None, ("wide",), 8.0),
        (None, ("pocket",), 9.0),
    ]
    assert all(run.seconds == 0 for run in found.missing)
    file = RoutedFile(
        file="a.dxf",
        material="oak",
        face_up=FaceUp.EITHER,
        operation=Operation.FIRST,
        runs=3,
        work=found,
    )
    rows = list(csv.DictReader(io.StringIO(router_times_csv([file]))))
    told = [(row["bit"], row["layers"], row["cuts"], row["minutes"]) for row in rows[:3]]
    assert told == [
        ("no drill of 5.000 mm", "deep", "1", ""),
        ("no drill of 8.000 mm", "wide", "1", ""),
        ("no bit for a width of 9.000 mm", "pocket", "1", ""),
    ]
    assert all(row["work"] == "not counted" for row in rows[:3])
    assert float(rows[3]["minutes_of_all_runs"]) == pytest.approx(
        3 * found.runs[3].seconds / 60, abs=0.0005
    )


def test_the_largest_bit_that_goes_in_is_taken() -> None:
    small = replace(ROUTER, name="six", diameter_mm=6.0)
    (wide,) = layer_cuts(Drawing(paths=(rectangle("pocket", 300, 12),)), LAYERS, 18.0)
    (narrow,) = layer_cuts(Drawing(paths=(rectangle("pocket", 300, 9),)), LAYERS, 18.0)
    assert bit_for(wide, (small, ROUTER)) == ROUTER
    assert bit_for(narrow, (small, ROUTER)) == small


def test_a_machine_without_bits_has_one_for_each_hole() -> None:
    """Of the sample parts, every layer that is cut has a bit, and no time is left out."""
    layers = sample_layers()
    drills = tuple(each.diameter_mm for each in layers.layers if each.diameter_mm)
    bits = assumed_bits(10.0, drills)
    for part in sample_parts().values():
        drawing = panel_drawing(part, Operation.FIRST, layers)
        made = router_work(drawing, layers, 18.0, bits, TIMES, 0.0)
        assert not made.missing
        assert {name for run in made.runs for name in run.layers} == {
            name
            for name in drawing.used_layers()
            if layers.by_name()[name].role not in (LayerRole.SHEET, LayerRole.TEXT)
        }


def test_pockets_in_pockets_count_by_turns() -> None:
    """A ring in a ring, beside a round one; against shapely's even-odd."""
    squares = [rectangle("p", size, size, -size / 2, -size / 2) for size in (100, 80, 40, 20)]
    circle = ClosedPath.of(Outline.circle(200.0, 0.0, 60.0), "p")
    odd = Polygon()
    for square in squares:
        odd = odd.symmetric_difference(Polygon([(v.x, v.y) for v in square.vertices]))
    expected = odd.area + math.pi * 30**2
    assert pocket_area_mm2([*squares, circle]) == pytest.approx(expected)


def test_lengths_of_arcs_are_exact() -> None:
    assert Outline.circle(3.0, 4.0, 50.0).length_mm == pytest.approx(math.pi * 50)
    quarter = Outline((Vertex(0, 0), Vertex(10, 0, math.tan(math.pi / 8)), Vertex(0, 10)))
    assert quarter.length_mm == pytest.approx(10 + 10 + math.pi * 5)


@pytest.mark.parametrize(
    ("number", "label"), [(1, "oak-2-A"), (26, "oak-2-Z"), (27, "oak-2-AA"), (53, "oak-2-BA")]
)
def test_offcuts_get_letters_like_the_columns_of_a_spreadsheet(number: int, label: str) -> None:
    assert rack_label("oak", FaceUp.BACK, 2, number) == label
    assert rack_label("oak", FaceUp.FRONT, 2, number) == label.replace("-2", "-up-2")
