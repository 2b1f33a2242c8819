"""What is written, read by the DXF library and by hand: codes, arcs, layers, bytes."""

import io
import logging
import math
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from ezdxf import units
from ezdxf.math import bulge_radius

from export.drawing.panel_drawing import panel_drawing
from export.drawing.primitives import Circle, ClosedPath, Drawing, Label
from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.colours import MOST_DEPTH_LAYERS, layer_colours
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.errors import DxfFailure, UnfitDrawing
from export.layer_table import Layer, LayerRole, LayerTable
from parametric.geometry.outline import Outline, Vertex
from parametric.lists.operations import Operation
from parametric.shapes.panel import Face
from tests.export.sample_parts import STOCK, sample_layers, sample_layout, sample_parts

ALL = list(DxfVersion)


def sheet() -> Drawing:
    return sheet_drawing(sample_layout(), sample_parts(), STOCK, sample_layers())


def written(version: DxfVersion, drawing: Drawing | None = None) -> bytes:
    return dxf_bytes(drawing or sheet(), sample_layers(), version)


def opened(data: bytes) -> ezdxf.document.Drawing:
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


def group_codes(data: bytes) -> list[tuple[int, str]]:
    lines = data.decode("utf-8").splitlines()
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]


# $ACADVER: AC1009 R12, AC1015 R2000, AC1024 R2010; source: DXF reference, header section, and
# ezdxf's table of releases.
@pytest.mark.parametrize(
    ("version", "code"),
    [(DxfVersion.R12, "AC1009"), (DxfVersion.R2000, "AC1015"), (DxfVersion.R2010, "AC1024")],
)
def test_the_header_states_the_release(version: DxfVersion, code: str) -> None:
    pairs = group_codes(written(version))
    assert pairs[pairs.index((9, "$ACADVER")) + 1] == (1, code)
    assert opened(written(version)).dxfversion == code


# $INSUNITS: 1 inches, 4 millimetres, not in R12; source: DXF reference, header section, and ezdxf.
@pytest.mark.parametrize("version", [DxfVersion.R2000, DxfVersion.R2010])
def test_the_header_states_millimetres(version: DxfVersion) -> None:
    pairs = group_codes(written(version))
    code, value = pairs[pairs.index((9, "$INSUNITS")) + 1]
    assert (code, int(value)) == (70, 4)
    assert units.MM == 4


def test_r12_has_no_entry_for_units(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING):
        data = written(DxfVersion.R12)
    assert (9, "$INSUNITS") not in group_codes(data)
    assert not caplog.records


def test_a_file_in_inches_is_not_taken_for_millimetres() -> None:
    stream = io.StringIO()
    ezdxf.new("R2010", units=units.IN).write(stream)
    assert units.IN == 1
    with pytest.raises(DxfFailure, match="unit code 1 "):
        read_dxf(stream.getvalue().encode())


# Bulge = tan(angle / 4), group code 42; source: DXF reference, LWPOLYLINE. Values: 45 degrees
# .198912, 90 degrees .414214, 180 degrees 1.
@pytest.mark.parametrize(("angle", "bulge"), [(45, 0.198912), (90, 0.414214), (180, 1.0)])
@pytest.mark.parametrize("version", ALL)
def test_an_arc_is_written_as_its_bulge(version: DxfVersion, angle: float, bulge: float) -> None:
    exact = math.tan(math.radians(angle) / 4)
    chord = ((0.0, 0.0), (100.0, 0.0))
    path = ClosedPath(
        layer="OUTLINE",
        vertices=(Vertex(*chord[0], exact), Vertex(*chord[1]), Vertex(50.0, 90.0)),
    )
    pairs = group_codes(written(version, Drawing(paths=(path,))))
    entities = pairs[pairs.index((2, "ENTITIES")) :]
    entities = entities[: entities.index((0, "ENDSEC"))]
    values = [float(value) for code, value in entities if code == 42 and float(value)]
    assert values == [pytest.approx(bulge, abs=5e-7)]
    # radius of an arc from its chord: c / (2 sin(angle / 2)); ezdxf's own reading of a bulge agrees
    radius = 100 / (2 * math.sin(math.radians(angle) / 2))
    assert bulge_radius(chord[0], chord[1], values[0]) == pytest.approx(radius)


@pytest.mark.parametrize("version", ALL)
def test_areas_come_from_bulges(version: DxfVersion) -> None:
    # A circle of diameter 35 as two half circles (bulge 1) has the area pi d2 / 4; a rectangle
    # 500 x 300 less a notch 60 x 50 and a corner of radius 60 has 150000 - 3000 - (1 - pi/4) 60^2.
    paths = read_dxf(written(version)).drawing.paths
    (round_groove, _) = [path for path in paths if path.layer == "GROOVE-DEEP-3"]
    assert round_groove.outline.signed_area_mm2 == pytest.approx(math.pi * 35**2 / 4, rel=1e-9)
    outline = next(path for path in paths if path.layer == "OUTLINE")
    expected = 150000 - 3000 - (1 - math.pi / 4) * 60**2
    assert outline.outline.signed_area_mm2 == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("version", ALL)
def test_only_closed_polylines_circles_and_texts_are_written(version: DxfVersion) -> None:
    space = opened(written(version)).modelspace()
    polyline = "POLYLINE" if version is DxfVersion.R12 else "LWPOLYLINE"
    assert {entity.dxftype() for entity in space} == {polyline, "CIRCLE", "TEXT"}
    assert all(entity.is_closed for entity in space.query(polyline))


@pytest.mark.parametrize("version", ALL)
def test_the_auditor_of_the_library_finds_nothing(version: DxfVersion) -> None:
    auditor = opened(written(version)).audit()
    assert not auditor.errors
    assert not auditor.fixes


@pytest.mark.parametrize("version", ALL)
def test_all_layers_used_are_declared_in_their_own_colour_and_no_others(
    version: DxfVersion,
) -> None:
    document = opened(written(version))
    used = {entity.dxf.layer for entity in document.modelspace()}
    # Layer 0 is obligatory in the format; the library adds Defpoints when it reads a file.
    assert b"Defpoints" not in written(version)
    declared = {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"}
    assert used == declared == set(read_dxf(written(version)).declared)
    colours = [document.layers.get(name).color for name in sorted(declared)]
    assert len(set(colours)) == len(colours)
    assert not used & {"0", "GROOVE-DEEP-6-BACK"}


def test_a_layer_has_one_colour_in_all_files_of_a_job() -> None:
    part_file = opened(
        written(
            DxfVersion.R2010,
            panel_drawing(sample_parts()["B-02"], Operation.FIRST, sample_layers()),
        )
    )
    sheet_file = opened(written(DxfVersion.R2010))
    for layer in part_file.layers:
        if layer.dxf.name in ("0", "Defpoints"):
            continue
        assert sheet_file.layers.get(layer.dxf.name).color == layer.color


def test_there_are_colours_for_many_layers_and_an_error_beyond() -> None:
    def table(count: int) -> LayerTable:
        grooves = tuple(
            Layer(name=f"G-{i}", role=LayerRole.GROOVE, depth_mm=i, diameter_mm=None, face=Face.UP)
            for i in range(count)
        )
        return LayerTable(layers=grooves, largest_drill_mm=10)

    assert len(set(layer_colours(table(MOST_DEPTH_LAYERS)).values())) == MOST_DEPTH_LAYERS > 200
    with pytest.raises(ValueError, match="more than"):
        layer_colours(table(MOST_DEPTH_LAYERS + 1))


@pytest.mark.parametrize("version", ALL)
def test_the_header_states_the_extent_of_the_drawing(version: DxfVersion) -> None:
    header = opened(written(version)).header
    assert tuple(header["$EXTMIN"])[:2] == (0.0, 0.0)
    assert tuple(header["$EXTMAX"])[:2] == (2440.0, 1220.0)


@pytest.mark.parametrize("version", ALL)
def test_same_drawing_same_bytes(version: DxfVersion) -> None:
    assert written(version) == written(version)


def test_bytes_do_not_depend_on_the_hash_seed(tmp_path: Path) -> None:
    script = (
        "import hashlib, tests.export.test_dxf_files as t\n"
        "print(*(hashlib.sha256(t.written(v)).hexdigest() for v in t.ALL))"
    )
    answers = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={
                **os.environ,
                "PYTHONHASHSEED": seed,
                "PYTHONPATH": str(Path(__file__).parents[2]),
            },
            cwd=tmp_path,
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for seed in ("0", "4242")
    }
    assert len(answers) == 1
    assert len(answers.pop().split()) == len(ALL)


NUMBER = Label(layer="PART_TEXT", text="A-01", x=1, y=2, height_mm=5, angle_deg=0)
RING = Outline.rectangle(100, 50).vertices


def with_step(step_mm: float) -> ClosedPath:
    """Return the ring with a segment of that length at its last corner."""
    return ClosedPath(layer="OUTLINE", vertices=(*RING, Vertex(0, 50 - step_mm)))


@pytest.mark.parametrize(
    ("drawing", "message"),
    [
        (Drawing(paths=(ClosedPath(layer="OUTLINE", vertices=(*RING, RING[0])),)), "shorter than"),
        (Drawing(paths=(with_step(0.009),)), r"shorter than 0.01 mm at \(0.000, 50.000\)"),
        (Drawing(paths=(ClosedPath(layer="OUTLINE", vertices=RING[:2]),)), "no area"),
        (Drawing(paths=(ClosedPath(layer="OUTLINE", vertices=RING),) * 2), "same thing 2 times"),
        (
            Drawing(
                paths=(
                    ClosedPath(layer="OUTLINE", vertices=RING),
                    ClosedPath(layer="OUTLINE", vertices=RING[2:] + RING[:2]),
                )
            ),
            "same thing 2 times",
        ),
        (
            Drawing(circles=(Circle(layer="BORE-5-THROUGH", x=1, y=1, diameter_mm=5),) * 2),
            "same thing 2 times",
        ),
        (
            Drawing(circles=(Circle(layer="BORE-5-THROUGH", x=1, y=1, diameter_mm=0),)),
            "no diameter",
        ),
        (
            Drawing(circles=(Circle(layer="BORE-5-THROUGH", x=math.nan, y=1, diameter_mm=1),)),
            "no number",
        ),
        (Drawing(labels=(replace(NUMBER, text="A\n0\nEOF"),)), "no text of one line"),
        (Drawing(labels=(replace(NUMBER, text=" "),)), "no text of one line"),
        (Drawing(labels=(replace(NUMBER, height_mm=0),)), "no height"),
        (Drawing(circles=(Circle(layer="BORE-7", x=1, y=1, diameter_mm=7),)), "layer BORE-7"),
    ],
)
def test_what_no_machine_should_cut_is_refused(drawing: Drawing, message: str) -> None:
    with pytest.raises(UnfitDrawing, match=message):
        written(DxfVersion.R2010, drawing)


def test_a_segment_may_be_as_short_as_a_controller_takes() -> None:
    # The least length, 0.01 mm, is common practice; no source.
    paths = (with_step(0.01),)
    assert read_dxf(written(DxfVersion.R2010, Drawing(paths=paths))).drawing.paths == paths


@pytest.mark.parametrize(
    ("x", "y"), [(10.2, 10.0), (10.0, 10.2), (10.000_01, 10.0), (10.0, 9.999_99)]
)
def test_two_holes_that_are_apart_at_all_are_two(x: float, y: float) -> None:
    """Places count as one when they agree to the millionth of a millimetre, in x and in y."""
    holes = tuple(
        Circle(layer="BORE-5-THROUGH", x=at[0], y=at[1], diameter_mm=5) for at in ((10, 10), (x, y))
    )
    assert len(read_dxf(written(DxfVersion.R2010, Drawing(circles=holes))).drawing.circles) == 2
    near = replace(holes[1], x=10 + 1e-9, y=10 - 1e-9)
    with pytest.raises(UnfitDrawing, match="same thing 2 times"):
        written(DxfVersion.R2010, Drawing(circles=(holes[0], near)))


def test_the_same_hole_may_start_on_two_layers() -> None:
    # a cap recess round a clearance hole: one centre, two operations
    holes = (
        Circle(layer="BORE-5-DEEP-12", x=10, y=10, diameter_mm=5),
        Circle(layer="BORE-5-THROUGH", x=10, y=10, diameter_mm=5),
    )
    assert read_dxf(written(DxfVersion.R12, Drawing(circles=holes))).drawing.circles == holes


@pytest.mark.parametrize(
    "data", [b"", b"no drawing", b"0\nSECTION\n2\nENTITIES\n", bytes(range(9))]
)
def test_what_is_no_dxf_gives_an_error_of_this_package(data: bytes) -> None:
    with pytest.raises(DxfFailure, match="reading a DXF"):
        read_dxf(data)


def test_a_truncated_file_gives_an_error_of_this_package() -> None:
    data = written(DxfVersion.R2010)
    with pytest.raises(DxfFailure):
        read_dxf(data[: len(data) // 3])


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(DxfFailure, match=r"none\.dxf"):
        read_dxf(tmp_path / "none.dxf")


def test_what_is_not_of_ours_is_named_as_unread() -> None:
    document = ezdxf.new("R2010", units=units.MM)
    document.modelspace().add_line((0, 0), (1, 1))
    document.modelspace().add_lwpolyline([(0, 0), (1, 1), (1, 0)])
    document.modelspace().add_spline([(0, 0), (1, 1), (2, 0)])
    stream = io.StringIO()
    document.write(stream)
    assert read_dxf(stream.getvalue().encode()).unread == (
        "LINE on layer 0",
        "LWPOLYLINE on layer 0",
        "SPLINE on layer 0",
    )


@pytest.mark.parametrize("version", ALL)
def test_a_label_outside_plain_letters_survives(version: DxfVersion) -> None:
    label = Label(layer="PART_TEXT", text="Tür-01", x=1, y=2, height_mm=5, angle_deg=90)
    assert read_dxf(written(version, Drawing(labels=(label,)))).drawing.labels == (label,)


@pytest.mark.parametrize("version", ALL)
def test_what_the_library_refuses_gives_an_error_of_this_package(version: DxfVersion) -> None:
    # `*` is not allowed in names of layers (DXF reference); the layer table never makes such names.
    layer = Layer(name="A*B", role=LayerRole.OUTLINE, depth_mm=None, diameter_mm=None, face=Face.UP)
    layers = LayerTable(layers=(layer,), largest_drill_mm=10)
    drawing = Drawing(paths=(ClosedPath(layer="A*B", vertices=RING),))
    with pytest.raises(DxfFailure, match="writing a DXF of release"):
        dxf_bytes(drawing, layers, version)
