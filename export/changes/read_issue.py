"""The files of an output, read back as an issue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from export.changes.issue import Issue, IssuedLayout, IssuedPart, NotIssued, PlaceKey, Row, SetKey
from export.changes.read_panel import read_panel
from export.drawing.primitives import Drawing
from export.dxf.reader import read_dxf
from export.edge_names import edge_named
from export.file_paths import part_file
from export.layer_table import Layer, LayerRole
from export.seal import SEAL, unsealed
from export.tables.csv_text import csv_rows
from parametric.lists.operations import Operation
from parametric.shapes.panel import Edge, EdgeBore, Face
from parametric.stock.lengths import Units

MANIFEST = "manifest.json"
TABLES = (
    "findings.csv",
    "shop/cutlist.csv",
    "shop/linear.csv",
    "shop/places.csv",
    "site/kits.csv",
    "site/rooms.csv",
)
_EDGE_BORES = "shop/edge-bores.csv"


def issue_of(files: Mapping[str, bytes]) -> Issue:
    """Return what the files say; they are those that the manifest lists, and the manifest.

    Raises:
        NotIssued: they are no output of a build, or one without cut files.
        DxfFailure: a cut file is none.
    """
    manifest = unsealed(files.get(MANIFEST, b""))
    if manifest is None or "units" not in manifest:
        raise NotIssued("its manifest.json is not one that `build` of this version wrote")
    missing = [path for path in TABLES if path not in files]
    if missing:
        raise NotIssued(f"it has no {missing[0]}")
    if not manifest["nests"]:
        raise NotIssued("it has no cut files; a finding failed when it was built")
    layers = {each["name"]: _layer(each) for each in manifest["layers"]}
    nests = manifest["nests"]
    return Issue(
        job=manifest["job"],
        units=Units(manifest["units"]),
        revision=str(_seal(files[MANIFEST]))[:8],
        layers=layers,
        parts={part.number: part for part in _parts(files, layers)},
        bars={row["part"]: row for row in _rows(files["shop/linear.csv"])},
        places=dict(_places(_rows(files["shop/places.csv"]))),
        layouts=tuple(layout for nest in nests for layout in _layouts(nest, files)),
        rooms={row["room"]: row for row in _rows(files["site/rooms.csv"])},
        kits=_kits(_rows(files["site/kits.csv"])),
        findings=tuple(_rows(files["findings.csv"])),
        sheets={_nest_name(nest): nest["sheets"] for nest in nests},
        prices={_nest_name(nest): nest["price"] for nest in nests},
        files={entry["path"]: entry["sha256"] for entry in manifest["files"]},
        roles={entry["path"]: entry["role"] for entry in manifest["files"]},
    )


def _seal(manifest: bytes) -> str:
    text = manifest.decode()
    return text.split(f'"{SEAL}": "', 1)[1].split('"', 1)[0]


def _rows(table: bytes) -> Iterator[Row]:
    return csv_rows(table.decode())


def _layer(entry: Mapping[str, Any]) -> Layer:
    return Layer(
        name=entry["name"],
        role=LayerRole(entry["role"]),
        depth_mm=entry["depth_mm"],
        diameter_mm=entry["diameter_mm"],
        face=Face(entry["face"]),
    )


def _parts(files: Mapping[str, bytes], layers: Mapping[str, Layer]) -> Iterator[IssuedPart]:
    bores = _edge_bores(files)
    for row in _rows(files["shop/cutlist.csv"]):
        number = row["part"]
        second = files.get(part_file(number, Operation.SECOND))
        panel = read_panel(
            _drawing(files, part_file(number)),
            None if second is None else read_dxf(second).drawing,
            layers,
            float(row["thickness_mm"]),
            tuple(bores.get(number, ())),
        )
        yield IssuedPart(number=number, row=row, panel=panel, bands=dict(_bands(row["bands"])))


def _drawing(files: Mapping[str, bytes], path: str) -> Drawing:
    if path not in files:
        raise NotIssued(f"it has no {path}")
    return read_dxf(files[path]).drawing


def _bands(text: str) -> Iterator[tuple[Edge, str]]:
    for each in filter(None, text.split("; ")):
        edge, _, band = each.partition(": ")
        yield edge_named(edge), band


def _edge_bores(files: Mapping[str, bytes]) -> dict[str, list[EdgeBore]]:
    found: dict[str, list[EdgeBore]] = {}
    for row in _rows(files.get(_EDGE_BORES, b"")):
        bore = EdgeBore(
            x=float(row["x_mm"]),
            y=float(row["y_mm"]),
            z_mm=float(row["above_down_face_mm"]),
            direction_x=float(row["direction_x"]),
            direction_y=float(row["direction_y"]),
            diameter_mm=float(row["diameter_mm"]),
            depth_mm=float(row["depth_mm"]),
        )
        found.setdefault(row["part"], []).append(bore)
    return found


def _places(rows: Iterable[Row]) -> Iterator[tuple[PlaceKey, str]]:
    for row in rows:
        yield (row["set"], row["hand"], row["unit"], row["name"]), row["part"]


def _layouts(nest: Mapping[str, Any], files: Mapping[str, bytes]) -> Iterator[IssuedLayout]:
    for layout in nest["layouts"]:
        yield IssuedLayout(
            file=layout["file"],
            material=nest["material"],
            face_up=nest["face_up"],
            stock=layout["stock"],
            runs=layout["runs"],
            drawing=_drawing(files, layout["file"]),
        )


def _kits(rows: Iterable[Row]) -> dict[SetKey, dict[str, Row]]:
    found: dict[SetKey, dict[str, Row]] = {}
    for row in rows:
        # Angles of several lengths are one article with descriptions of their own.
        article = f"{row['article']}: {row['description']}"
        found.setdefault((row["set"], row["hand"]), {})[article] = row
    return found


def _nest_name(nest: Mapping[str, Any]) -> str:
    face = {"front": ", good face up", "back": ", good face down"}.get(nest["face_up"], "")
    return f"{nest['material']}{face}"
