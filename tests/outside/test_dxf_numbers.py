"""The cut files' numbers against the published meaning of DXF's group codes.

- Bulge = tan(a quarter of the arc's angle), positive counter-clockwise, 1 for a half circle: DXF
  Reference, LWPOLYLINE, group code 42; from memory, no edition at hand.
- $INSUNITS 4 is millimetres, $ACADVER AC1009 is R12, AC1015 R2000, AC1024 R2010: DXF Reference,
  HEADER section; second-hand, from the constants of the package ezdxf.
- Areas are taken from bulges, never from chords, and compared with the CAD kernel's volumes.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import ezdxf
import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.enums import InsertUnits
from ezdxf.lldxf import const
from ezdxf.math import bulge_radius

from export.drawing.panel_drawing import panel_drawing
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.layer_table import layer_table
from parametric.geometry.outline import Outline, Vertex
from parametric.lists.cut_list import Part
from parametric.lists.operations import operations
from tests.casewright.step_names import solids_by_name
from tests.outside.built_demo import BuiltDemo
from tests.row import row_of

Point = tuple[float, float, float]  # x, y, bulge
MOST_MM3 = 0.1  # of difference, for each feature of a part

ACADVER = {
    DxfVersion.R12: const.DXF12,
    DxfVersion.R2000: const.DXF2000,
    DxfVersion.R2010: const.DXF2010,
}
# tan(angle / 4), by hand.
BULGES = {45: 0.198912, 60: 0.267949, 90: 0.414214, 180: 1.0, 270: 2.414214}


def segments(points: list[Point]) -> Iterator[tuple[Point, Point]]:
    yield from zip(points, points[1:] + points[:1], strict=True)


def area_mm2(points: list[Point]) -> float:
    """Area within a closed polyline: the polygon, and r^2/2 (a - sin a) for each arc on it."""
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in segments(points):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = bulge_radius((x0, y0), (x1, y1), bulge)
            total += radius**2 / 2 * (angle - math.sin(angle))
    return abs(total)


def polylines(path: Path) -> list[tuple[str, list[Point]]]:
    space = ezdxf.readfile(path).modelspace()  # type: ignore[attr-defined]
    return [
        (str(entity.dxf.layer), [(x, y, b) for x, y, b in entity.get_points("xyb")])
        for entity in space.query("LWPOLYLINE")
        if isinstance(entity, LWPolyline)
    ]


def part_paths(demo: BuiltDemo) -> Iterator[tuple[str, Path]]:
    for file in demo.files("part"):
        yield file["part"], demo.folder / file["path"]


@pytest.mark.parametrize(("degrees", "bulge"), list(BULGES.items()))
def test_an_arc_of_known_angle_has_the_published_bulge(degrees: int, bulge: float) -> None:
    """The product's area of a circle's segment of so many degrees, radius 100 mm, by hand."""
    angle, radius = math.radians(degrees), 100.0
    ends = [(radius * math.cos(a), radius * math.sin(a)) for a in (0.0, angle)]
    outline = Outline((Vertex(*ends[0], bulge), Vertex(*ends[1], 0.0)))
    by_hand = radius**2 / 2 * (angle - math.sin(angle))
    # The published bulges have six decimals.
    assert outline.signed_area_mm2 == pytest.approx(by_hand, rel=1e-5)


def test_arcs_in_the_files_have_the_radii_of_the_job(inn: BuiltDemo) -> None:
    """Quarter circles at deck corners, half circles at overcut corners, with radii by hand."""
    job = inn.job
    sizes = row_of(job.sets[0])
    assert sizes.bench is not None
    assert sizes.bed is not None
    # The band, less what the edge bander mills off, stands outside the corner of the cut board.
    inset = job.construction.band.thickness_mm - job.routing.pre_mill_mm
    quarter = {sizes.bench.corner_radius_mm - inset, sizes.bed.corner_radius_mm - inset}
    bit = {job.routing.bit_diameter_mm / 2}
    seen: set[tuple[float, float]] = set()
    for _, path in part_paths(inn):
        for layer, points in polylines(path):
            for (x0, y0, bulge), (x1, y1, _) in segments(points):
                if bulge and layer in inn.layer_names("outline"):
                    radius = bulge_radius((x0, y0), (x1, y1), bulge)
                    seen.add((round(bulge, 6), round(float(radius), 3)))
    assert seen == {(BULGES[90], r) for r in quarter} | {(-BULGES[180], r) for r in bit}


def test_a_deck_has_the_area_worked_out_by_hand(keeper: BuiltDemo) -> None:
    """Length x width - (1 - pi/4) r^2: one rounded corner; chords would miss it."""
    sizes = row_of(keeper.job.sets[0])
    assert sizes.bench is not None
    (row,) = [row for row in keeper.table("cutlist") if row["description"] == "bench deck"]
    inset = keeper.job.construction.band.thickness_mm - keeper.job.routing.pre_mill_mm
    radius = sizes.bench.corner_radius_mm - inset
    blank = float(row["cut_length_mm"]) * float(row["cut_width_mm"])
    ((_, points),) = [
        (layer, points)
        for layer, points in polylines(keeper.folder / row["file"])
        if layer in keeper.layer_names("outline")
    ]
    assert area_mm2(points) == pytest.approx(blank - (1 - math.pi / 4) * radius**2, abs=1e-3)
    chords = area_mm2([(x, y, 0.0) for x, y, _ in points])
    assert chords < area_mm2(points) - 100


@dataclass(frozen=True)
class Cut:
    """One closed shape of a part's files, as a shop's programmer takes it: area, depth, place."""

    sign: float
    area_mm2: float
    depth_mm: float
    centre: tuple[float, float] | None = None

    @property
    def volume_mm3(self) -> float:
        return self.sign * self.area_mm2 * self.depth_mm


def test_areas_times_depths_are_the_kernel_s_volumes(inn: BuiltDemo) -> None:
    """Outline less openings through the thickness, less grooves and holes by their depths."""
    volumes: dict[str, float] = {}
    for model in inn.files("solids"):
        for name, solids in solids_by_name(inn.folder / model["path"]).items():
            volumes.setdefault(name, solids[0].Volume())
    for row in inn.table("cutlist"):
        cuts = [
            cut
            for part, path in part_paths(inn)
            if part == row["part"]
            for cut in cuts_of(inn, path, float(row["thickness_mm"]))
        ]
        solid = sum(cut.volume_mm3 for cut in cuts) + in_recesses_mm3(cuts)
        assert abs(solid - volumes[row["part"]]) < MOST_MM3 * len(cuts), row["part"]


def cuts_of(demo: BuiltDemo, path: Path, thickness_mm: float) -> Iterator[Cut]:
    layers = {layer["name"]: layer for layer in demo.manifest["layers"]}
    signs = {"outline": 1.0, "sheet": 0.0}

    def cut(layer: str, area: float, centre: tuple[float, float] | None = None) -> Cut:
        depth = layers[layer]["depth_mm"]
        sign = signs.get(layers[layer]["role"], -1.0)
        return Cut(sign, area, thickness_mm if depth is None else depth, centre)

    for layer, points in polylines(path):
        yield cut(layer, area_mm2(points))
    for circle in ezdxf.readfile(path).modelspace().query("CIRCLE"):  # type: ignore[attr-defined]
        centre = (circle.dxf.center.x, circle.dxf.center.y)
        yield cut(str(circle.dxf.layer), math.pi * circle.dxf.radius**2, centre)


def in_recesses_mm3(cuts: list[Cut]) -> float:
    """What holes through the middle of a recess share with it, and so was taken off twice."""
    holes = [cut for cut in cuts if cut.centre is not None]
    return sum(
        hole.area_mm2 * recess.depth_mm
        for hole in holes
        for recess in holes
        if recess.area_mm2 > hole.area_mm2
        and recess.depth_mm < hole.depth_mm
        and math.dist(recess.centre or (), hole.centre or ()) < 1e-6
    )


def header(content: bytes) -> dict[str, list[str]]:
    """The header's variables by name, read from the group codes without any DXF library."""
    lines = [line.strip() for line in content.decode("utf-8").splitlines()]
    pairs = list(zip(lines[::2], lines[1::2], strict=True))
    start = pairs.index(("2", "HEADER"))
    found: dict[str, list[str]] = {}
    name = ""
    for code, value in pairs[start + 1 : pairs.index(("0", "ENDSEC"))]:
        if code == "9":
            name = value
        else:
            found.setdefault(name, []).append(value)
    return found


@pytest.mark.parametrize("version", list(DxfVersion))
def test_the_header_says_release_and_unit(inn: BuiltDemo, version: DxfVersion) -> None:
    parts: tuple[Part, ...] = inn.sets.cut_list.parts
    layers = layer_table(parts, inn.job.machine.layer_names, inn.job.machine.largest_drill_mm)
    for part in parts:
        for operation in operations(part):
            content = dxf_bytes(panel_drawing(part, operation, layers), layers, version)
            said = header(content)
            assert said["$ACADVER"] == [ACADVER[version]]
            if version is DxfVersion.R12:
                assert "$INSUNITS" not in said  # the variable came with R2000
            else:
                assert said["$INSUNITS"] == [str(InsertUnits.Millimeters.value)] == ["4"]


def test_the_demo_s_files_say_release_and_unit(inn: BuiltDemo) -> None:
    """R2010 is what the machine file asks for; every file is sound to an auditor of DXF."""
    assert inn.job.machine.dxf_version is DxfVersion.R2010
    paths = [inn.folder / file["path"] for role in ("part", "sheet") for file in inn.files(role)]
    assert len(paths) > 20
    for path in paths:
        said = header(path.read_bytes())
        assert (said["$ACADVER"], said["$INSUNITS"]) == (["AC1024"], ["4"])
        auditor = ezdxf.readfile(path).audit()  # type: ignore[attr-defined]
        assert not auditor.has_errors
        assert not auditor.has_fixes
