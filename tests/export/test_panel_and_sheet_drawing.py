import math

import pytest

from export.drawing.panel_drawing import panel_drawing
from export.drawing.primitives import Circle, ClosedPath, Drawing
from export.drawing.sheet_drawing import sheet_drawing
from export.layer_names import LayerNames
from export.layer_table import LayerTable, layer_table
from parametric.geometry.outline import Bounds, Outline
from parametric.lists.operations import Operation, operations
from tests.export.sample_parts import (
    STOCK,
    flat_panel,
    notched_panel,
    part,
    sample_layers,
    sample_layout,
    sample_parts,
)


@pytest.fixture(scope="module")
def layers() -> LayerTable:
    return sample_layers()


def names(drawing: Drawing) -> list[str]:
    return sorted(item.layer for item in (*drawing.paths, *drawing.circles, *drawing.labels))


def test_the_first_operation_holds_all_but_what_is_cut_from_below(layers: LayerTable) -> None:
    drawing = panel_drawing(sample_parts()["A-01"], Operation.FIRST, layers)
    assert names(drawing) == [
        "BORE-5-DEEP-12",
        "BORE-5-THROUGH",
        "GROOVE-DEEP-3",
        "GROOVE-DEEP-9_525",
        "GROOVE-DEEP-9_525",  # the island is a path of its own
        "OPENING",
        "OPENING",  # the slot, and the hole that no drill makes
        "OUTLINE",
        "PART_TEXT",
    ]


def test_the_second_operation_holds_only_what_is_cut_from_below(layers: LayerTable) -> None:
    drawing = panel_drawing(sample_parts()["A-01"], Operation.SECOND, layers)
    assert names(drawing) == ["BORE-8-DEEP-10-BACK", "GROOVE-DEEP-6-BACK", "PART_TEXT", "SHEET"]


def test_the_second_operation_is_turned_over_about_the_length(layers: LayerTable) -> None:
    # (x, y) -> (x, width - y): the hole at (480, 100) of a part 300 wide, the groove x 210 to 225
    # and y 20 to 290
    drawing = panel_drawing(sample_parts()["A-01"], Operation.SECOND, layers)
    (hole,) = drawing.circles
    assert hole == Circle(layer="BORE-8-DEEP-10-BACK", x=480.0, y=200.0, diameter_mm=8.0)
    (groove,) = [path for path in drawing.paths if path.layer == "GROOVE-DEEP-6-BACK"]
    assert groove.outline.bounds == Bounds(210.0, 10.0, 225.0, 280.0)
    (edge,) = [path for path in drawing.paths if path.layer == "SHEET"]
    assert edge.outline.signed_area_mm2 == pytest.approx(notched_panel().outline.signed_area_mm2)
    assert (180.0, 50.0) in [vertex[:2] for vertex in edge.vertices]  # the notch, now below


def test_only_a_part_worked_from_below_has_a_second_operation() -> None:
    parts = sample_parts()
    assert operations(parts["A-01"]) == (Operation.FIRST, Operation.SECOND)
    assert operations(parts["B-02"]) == (Operation.FIRST,)


def test_the_sheet_lies_at_the_origin_and_parts_where_the_layout_says(layers: LayerTable) -> None:
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, layers)
    (sheet,) = [path for path in drawing.paths if path.layer == "SHEET"]
    assert sheet.vertices[0] == (0.0, 0.0, 0.0)
    assert sheet.outline.bounds == Bounds(0.0, 0.0, 2440.0, 1220.0)
    outlines = [path.outline.bounds for path in drawing.paths if path.layer == "OUTLINE"]
    assert outlines == [
        Bounds(10.0, 10.0, 510.0, 310.0),
        Bounds(520.0, 10.0, 820.0, 510.0),
        Bounds(10.0, 600.0, 610.0, 624.0),
    ]


def test_turned_is_a_quarter_turn_counter_clockwise(layers: LayerTable) -> None:
    # the hole at (30, 30) of a part 500 x 300: counter-clockwise it goes to (300 - 30, 30)
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, layers)
    turned = [c for c in drawing.circles if c.layer == "BORE-5-THROUGH" and c.x > 520]
    assert [(hole.x, hole.y) for hole in turned] == [(520.0 + 270.0, 10.0 + 30.0)]


def test_what_was_turned_keeps_its_area_and_its_sense(layers: LayerTable) -> None:
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, layers)
    areas = [path.outline.signed_area_mm2 for path in drawing.paths if path.layer == "OUTLINE"]
    assert areas[0] == pytest.approx(areas[1])
    assert min(areas) > 0


def test_coordinates_carry_no_float_noise() -> None:
    noisy = Outline.rectangle(600.0, 300.0)
    path = ClosedPath.of(noisy, "OUTLINE")
    shifted = Drawing(paths=(path,)).shifted(0.1 + 0.2, -0.0)
    assert shifted.paths[0].vertices[0] == (0.3, 0.0, 0.0)
    assert math.copysign(1, shifted.paths[0].vertices[0].y) == 1


def test_a_table_made_without_the_part_is_an_error() -> None:
    plain = layer_table([part("X-1", flat_panel(100, 100))], LayerNames(), 12.7)
    with pytest.raises(KeyError):
        panel_drawing(sample_parts()["A-01"], Operation.FIRST, plain)
