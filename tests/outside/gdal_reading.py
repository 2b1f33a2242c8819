"""DXF files as GDAL reads them: a reader that shares nothing with the one that wrote them."""

import json
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
from shapely.geometry import shape
from shapely.geometry.base import BaseGeometry

CHORDS_MM = 0.02
"""GDAL gives arcs as chords of 4 degrees: on a radius of 25 mm they fall short by 0.015 mm."""

needs_gdal = pytest.mark.skipif(
    shutil.which("ogr2ogr") is None or shutil.which("ogrinfo") is None,
    reason="GDAL's ogr2ogr and ogrinfo are not installed (Debian package gdal-bin)",
)


@dataclass(frozen=True)
class Entity:
    """One entity of a file: its layer, its text if it is one, and its shape."""

    layer: str
    text: str
    shape: BaseGeometry


def read_by_gdal(path: Path) -> list[Entity]:
    command = ["ogr2ogr", "-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=9", "/vsistdout/"]
    done = subprocess.run([*command, str(path)], check=True, capture_output=True, text=True)
    return [
        Entity(
            layer=feature["properties"]["Layer"],
            text=feature["properties"].get("Text") or "",
            shape=shape(feature["geometry"]),
        )
        for feature in json.loads(done.stdout)["features"]
    ]


def entity_count(path: Path) -> int:
    """How many entities GDAL's ogrinfo counts."""
    command = ["ogrinfo", "-ro", "-so", "-al", str(path)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    (line,) = [line for line in done.stdout.splitlines() if line.startswith("Feature Count:")]
    return int(line.split(":")[1])
