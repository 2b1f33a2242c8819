"""Random panels, written and read back in every release: nothing moves, nothing is lost."""

import math

import pytest
from hypothesis import given, settings

from export.drawing.panel_drawing import panel_drawing
from export.drawing.primitives import ClosedPath
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.layer_names import LayerNames
from export.layer_table import LayerRole, LayerTable, layer_table
from export.sheet_check import part_problems
from parametric.geometry.outline import Outline
from parametric.lists.operations import Operation, operations
from parametric.shapes.panel import FlatPanel
from tests.export.random_panels import panels
from tests.export.sample_parts import LARGEST_DRILL_MM, part


@pytest.mark.parametrize("version", list(DxfVersion))
@settings(max_examples=40, deadline=None)
@given(panel=panels())
def test_outlines_openings_and_holes_come_back(version: DxfVersion, panel: FlatPanel) -> None:
    item = part("P-1", panel)
    layers = layer_table([item], LayerNames(), LARGEST_DRILL_MM)
    for operation in operations(item):
        drawing = panel_drawing(item, operation, layers)
        content = read_dxf(dxf_bytes(drawing, layers, version))
        assert content.drawing == drawing
        assert part_problems(content, item, operation, layers) == ()
        if operation is Operation.FIRST:
            assert_holds_panel(content.drawing.paths, panel, layers)


def assert_holds_panel(paths: tuple[ClosedPath, ...], panel: FlatPanel, layers: LayerTable) -> None:
    outlines = on_layer(paths, layers.plain(LayerRole.OUTLINE))
    assert_same(outlines, [panel.outline])
    if panel.openings:
        routed = [
            Outline.circle(bore.x, bore.y, bore.diameter_mm)
            for bore in panel.bores
            if bore.depth_mm is None and bore.diameter_mm > LARGEST_DRILL_MM
        ]
        assert_same(on_layer(paths, layers.plain(LayerRole.OPENING)), [*panel.openings, *routed])


def on_layer(paths: tuple[ClosedPath, ...], name: str) -> list[Outline]:
    return [path.outline for path in paths if path.layer == name]


def assert_same(read: list[Outline], expected: list[Outline]) -> None:
    assert len(read) == len(expected)
    for found, wanted in zip(read, expected, strict=True):
        assert found.signed_area_mm2 == pytest.approx(wanted.signed_area_mm2, abs=1e-4)
        assert found.bounds == pytest.approx(wanted.bounds, abs=1e-7)
        assert len(found.vertices) == len(wanted.vertices)
        for vertex in wanted.vertices:
            assert min(math.dist(vertex[:2], other[:2]) for other in found.vertices) < 1e-8
