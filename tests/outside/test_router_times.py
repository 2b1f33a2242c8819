"""Path and time of `router-times.csv` against readers of the DXF files that share nothing with
ours: the drawing library's own paths, flattened, and GDAL, both measured with shapely. Rates are
read from the machine file as plain YAML.

By hand from the docstrings of `export/routing`: a path counts once for each pass; a pocket's inside
is cleared in lanes half a bit apart, less the band that the way along its edges takes.
"""

import math
import shutil
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import ezdxf
import pytest
from ezdxf import path as ezdxf_path
from ruamel.yaml import YAML
from shapely import LineString, Polygon
from shapely.ops import unary_union

from tests.outside.built_demo import CONFIGS, BuiltDemo
from tests.outside.gdal_reading import read_by_gdal

WITHIN = 0.01  # a hundredth, as asked
ORDER = ("bore", "groove", "opening", "outline")


class Line(NamedTuple):
    """A closed line of a file; `hole` says that it is a circle."""

    layer: str
    shape: LineString
    hole: bool


def by_ezdxf(file: Path) -> Iterator[Line]:
    for entity in ezdxf.readfile(file).modelspace():
        if entity.dxftype() in ("LWPOLYLINE", "POLYLINE", "CIRCLE"):
            points = [(p.x, p.y) for p in ezdxf_path.make_path(entity).flattening(0.005)]
            yield Line(entity.dxf.layer, LineString(points), entity.dxftype() == "CIRCLE")


def by_gdal(file: Path) -> Iterator[Line]:
    if shutil.which("ogr2ogr") is None:
        pytest.skip("GDAL's ogr2ogr is not installed (Debian package gdal-bin)")
    for entity in read_by_gdal(file):
        if isinstance(entity.shape, LineString):
            yield Line(entity.layer, entity.shape, entity.layer.startswith("BORE"))


@pytest.fixture(scope="module", params=["keeper", "inn"])
def job(request: pytest.FixtureRequest) -> BuiltDemo:
    built: BuiltDemo = request.getfixturevalue(request.param)
    return built


@pytest.fixture(scope="module")
def rates(job: BuiltDemo) -> dict[str, Any]:
    name = "router-inch.yaml" if job.job.units == "inch" else "router-metric.yaml"
    rates: dict[str, Any] = YAML(typ="safe", pure=True).load((CONFIGS / name).read_text())
    return rates


def mm(value: object) -> float:
    """A length of the machine files: millimetres, or inches whole or in a fraction."""
    if isinstance(value, int | float):
        return float(value)
    *whole, last = str(value).removesuffix(" in").split()
    above, _, below = last.partition("/")
    return 25.4 * (sum(map(float, whole)) + float(above) / float(below or 1))


def reckoned(
    lines: list[Line], layers: list[dict[str, Any]], thickness: float, rates: dict[str, Any]
) -> dict[str, tuple[float, float, int, float]]:
    """By bit: path, travel, plunges, minutes."""
    bits = {name: bit | {"mm": mm(bit["diameter"])} for name, bit in rates["bits"].items()}
    groups: list[tuple[str, list[dict[str, Any]]]] = []
    for role in ORDER:
        for layer in (each for each in layers if each["role"] == role):
            if not any(line.layer == layer["name"] for line in lines):
                continue
            able = {name: bit for name, bit in bits.items() if role in bit["roles"]}
            if role == "bore":
                wanted = layer["diameter_mm"]
                (name,) = [name for name, bit in able.items() if abs(bit["mm"] - wanted) < 0.05]
            else:
                (name,) = able
            if name not in dict(groups):
                groups.append((name, []))
            dict(groups)[name].append(layer)
    found = {}
    for name, members in groups:
        bit, path, plunges, down = bits[name], 0.0, 0, 0.0
        starts: list[tuple[float, float]] = []
        for layer in members:
            mine = [line for line in lines if line.layer == layer["name"]]
            depth = layer["depth_mm"] or thickness
            passes = math.ceil((depth - 1e-6) / mm(bit["pass_depth"])) if "pass_depth" in bit else 1
            plunges, down = plunges + passes * len(mine), down + depth * len(mine)
            if layer["role"] == "bore":
                starts += [(line.shape.centroid.x, line.shape.centroid.y) for line in mine]
                continue
            starts += [line.shape.coords[0][:2] for line in mine]
            edge = math.fsum(line.shape.length for line in mine)
            area = pocket(mine) if layer["role"] == "groove" else 0.0
            path += passes * (edge + max(0.0, area - edge * bit["mm"]) / (bit["mm"] / 2))
        travel = math.fsum(math.dist(a, b) for a, b in pairwise(starts))
        minutes = path / mm_per_minute(bit["feed"]) + down / mm_per_minute(bit["plunge"])
        minutes += travel / mm(rates["times"]["rapid"])
        minutes += len(starts) * rates["times"]["lift_s"] / 60
        found[name] = (path, travel, plunges, minutes)
    return found


mm_per_minute = mm


def pocket(lines: list[Line]) -> float:
    """The area inside an odd number of lines."""
    shapes = [Polygon(line.shape.coords) for line in lines]
    odd = Polygon()
    for shape in shapes:
        odd = odd.symmetric_difference(shape)
    assert odd.area <= unary_union(shapes).area + 1e-6
    return float(odd.area)


@pytest.mark.parametrize("reader", [by_ezdxf, by_gdal])
def test_path_and_time_of_each_file(
    job: BuiltDemo, rates: dict[str, Any], reader: Callable[[Path], Iterator[Line]]
) -> None:
    rows = job.table("router-times")
    manifest = job.manifest
    thickness = {nest["material"]: nest["thickness_mm"] for nest in manifest["nests"]}
    files = {row["file"]: row["material"] for row in rows}
    sheets = {file["path"] for file in job.files("sheet")}
    second = {each["path"] for each in job.files("part") if each["operation"] == "second"}
    assert set(files) == sheets | second
    for file, material in files.items():
        lines = list(reader(job.folder / file))
        own = reckoned(lines, manifest["layers"], thickness[material], rates)
        told = {row["bit"]: row for row in rows if row["file"] == file and row["bit"]}
        assert list(told) == list(own), file
        for bit, (path, travel, plunges, minutes) in own.items():
            row = told[bit]
            assert float(row["path_mm"]) == pytest.approx(path, rel=WITHIN, abs=0.1)
            assert float(row["travel_mm"]) == pytest.approx(travel, rel=WITHIN, abs=1.0)
            assert int(row["plunges"]) == plunges
            assert float(row["minutes"]) == pytest.approx(minutes, rel=WITHIN, abs=0.001)


def test_what_is_not_cutting(job: BuiltDemo, rates: dict[str, Any]) -> None:
    """Changes for each bit where there are several; sheets laid on, taken off, each part labelled;
    parts laid for their second operation.
    """
    times, rows = rates["times"], job.table("router-times")
    outlines = job.layer_names("outline")
    for file in {row["file"] for row in rows}:
        mine = [row for row in rows if row["file"] == file]
        bits = [row for row in mine if row["work"] == "cutting"]
        (changes,) = [row for row in mine if row["work"] == "changing bits"]
        (handling,) = [row for row in mine if row["work"] == "handling"]
        count = len(bits) if len(bits) > 1 else 0
        assert float(changes["minutes"]) == pytest.approx(count * times["tool_change_s"] / 60)
        parts = sum(line.layer in outlines for line in by_ezdxf(job.folder / file))
        seconds = times["load_s"] + times["unload_s"] + parts * times["label_s"]
        if mine[0]["operation"] == "second":
            seconds = times["second_s"]
        assert float(handling["minutes"]) == pytest.approx(seconds / 60, abs=0.001)


def test_runs_are_those_of_the_manifest_and_the_cut_list(job: BuiltDemo) -> None:
    runs = {row["file"]: int(row["runs"]) for row in job.table("router-times")}
    layouts = [layout for nest in job.manifest["nests"] for layout in nest["layouts"]]
    quantity = {row["part"]: int(row["quantity"]) for row in job.table("cutlist")}
    parts = {f["path"]: f["part"] for f in job.files("part") if f["operation"] == "second"}
    asked = {layout["file"]: layout["runs"] for layout in layouts}
    assert runs == asked | {path: quantity[part] for path, part in parts.items()}
    for row in job.table("router-times"):
        if row["minutes"]:
            all_runs = float(row["minutes"]) * int(row["runs"])
            slack = 0.0006 * int(row["runs"])  # minutes are told to the thousandth
            assert float(row["minutes_of_all_runs"]) == pytest.approx(all_runs, abs=slack)


def test_the_manifest_has_the_sums(job: BuiltDemo) -> None:
    rows = job.table("router-times")
    assert {entry["file"] for entry in job.manifest["router"]} == {row["file"] for row in rows}
    for entry in job.manifest["router"]:
        mine = [row for row in rows if row["file"] == entry["file"]]
        minutes = math.fsum(float(row["minutes"]) for row in mine if row["minutes"])
        assert entry["seconds"] == pytest.approx(60 * minutes, abs=0.05 * len(mine))
        path = math.fsum(float(row["path_mm"]) for row in mine if row["path_mm"])
        assert entry["path_mm"] == pytest.approx(path, abs=0.06 * len(mine))
        assert entry["plunges"] == sum(int(row["plunges"]) for row in mine if row["plunges"])
        assert entry["not_counted"] == []
