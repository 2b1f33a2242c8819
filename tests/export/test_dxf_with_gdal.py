"""The written DXF read by GDAL's `ogrinfo`, a reader that is not ours and not the DXF library's."""

import re
import shutil
import subprocess
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pytest

from export.drawing.panel_drawing import panel_drawing
from export.drawing.primitives import Drawing
from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from parametric.lists.operations import Operation
from tests.export.sample_parts import STOCK, sample_layers, sample_layout, sample_parts

pytestmark = pytest.mark.skipif(
    shutil.which("ogrinfo") is None, reason="GDAL's ogrinfo is not installed on this machine"
)

FLATTENED_MM = 0.02
"""GDAL gives arcs as chords of 4 degrees: on a radius of 17.5 mm they fall short by 0.011 mm."""


@dataclass(frozen=True)
class Feature:
    layer: str
    text: str
    points: list[tuple[float, float]]

    @property
    def closed(self) -> bool:
        return len(self.points) > 2 and self.points[0] == pytest.approx(self.points[-1])

    @property
    def box(self) -> tuple[float, float, float, float]:
        xs, ys = [p[0] for p in self.points], [p[1] for p in self.points]
        return min(xs), min(ys), max(xs), max(ys)


def read_by_gdal(path: Path) -> list[Feature]:
    answer = subprocess.run(
        ["ogrinfo", "-ro", "-q", "-al", str(path)], check=True, capture_output=True, text=True
    )
    features = []
    for block in answer.stdout.split("OGRFeature(")[1:]:
        layer = re.search(r"Layer \(String\) = (.*)", block)
        text = re.search(r"Text \(String\) = (.*)", block)
        shape = re.search(r"^  (?:LINESTRING|POINT)(?: Z)? \((.*)\)$", block, re.MULTILINE)
        assert layer and shape, block
        points = [tuple(map(float, at.split()[:2])) for at in shape[1].split(",")]
        features.append(Feature(layer[1], text[1] if text else "", points))
    return features


def written(tmp_path: Path, version: DxfVersion, drawing: Drawing) -> list[Feature]:
    path = tmp_path / "file.dxf"
    path.write_bytes(dxf_bytes(drawing, sample_layers(), version))
    return read_by_gdal(path)


@pytest.mark.parametrize("version", list(DxfVersion))
def test_closed_shapes_by_layer_are_those_of_the_parts(tmp_path: Path, version: DxfVersion) -> None:
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, sample_layers())
    features = written(tmp_path, version, drawing)
    lines = [feature for feature in features if len(feature.points) > 1]
    assert all(feature.closed for feature in lines)
    # by hand, from the sample parts: two notched panels and a plain strip
    assert Counter(feature.layer for feature in lines) == {
        "SHEET": 1,
        "OUTLINE": 3,
        "OPENING": 2 * 2,  # a slot and a hole of 25.4 mm each
        "GROOVE-DEEP-3": 2,
        "GROOVE-DEEP-9_525": 2 * 2,  # an area and its island each
        "BORE-5-DEEP-12": 2,
        "BORE-5-THROUGH": 2,
    }
    texts = [feature.text for feature in features if len(feature.points) == 1]
    assert sorted(texts) == ["A-01", "B-02", "C-03"]


@pytest.mark.parametrize("version", list(DxfVersion))
def test_outlines_lie_where_the_layout_says(tmp_path: Path, version: DxfVersion) -> None:
    drawing = sheet_drawing(sample_layout(), sample_parts(), STOCK, sample_layers())
    features = written(tmp_path, version, drawing)
    boxes = {layer: [f.box for f in features if f.layer == layer] for layer in ("SHEET", "OUTLINE")}
    assert boxes["SHEET"] == [(0, 0, 2440, 1220)]
    expected = [(10, 10, 510, 310), (520, 10, 820, 510), (10, 600, 610, 624)]
    for box, wanted in zip(boxes["OUTLINE"], expected, strict=True):
        assert box == pytest.approx(wanted, abs=FLATTENED_MM)


@pytest.mark.parametrize("version", list(DxfVersion))
def test_a_routed_hole_is_round_for_gdal_too(tmp_path: Path, version: DxfVersion) -> None:
    drawing = panel_drawing(sample_parts()["B-02"], Operation.FIRST, sample_layers())
    features = written(tmp_path, version, drawing)
    (hole,) = [f for f in features if f.layer == "GROOVE-DEEP-3"]
    assert hole.box == pytest.approx((402.5, 182.5, 437.5, 217.5), abs=FLATTENED_MM)
    for x, y in hole.points:
        assert ((x - 420) ** 2 + (y - 200) ** 2) ** 0.5 == pytest.approx(17.5, abs=1e-6)
