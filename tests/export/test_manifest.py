import hashlib
import json
from dataclasses import replace
from typing import Any

import pytest

from export.manifest import (
    BandEntry,
    BarEntry,
    FileEntry,
    FileRole,
    FindingCount,
    LayoutEntry,
    Manifest,
    NestEntry,
    OffcutEntry,
    PartCount,
    TrimEntry,
    bands_used,
    manifest_json,
    sha256_of,
)
from parametric.geometry.hand import Hand
from parametric.lists.cut_list import EdgeBanding
from parametric.lists.face_up import FaceUp
from parametric.lists.left_out import LeftOut, StockForm
from parametric.lists.operations import Operation
from parametric.shapes.panel import Edge
from parametric.stock.lengths import Units
from tests.export.sample_parts import WHITE_BAND, sample_layers, sample_parts


def sample_manifest() -> Manifest:
    layout = LayoutEntry(
        file="shop/sheets/laminated-18/001.dxf",
        stock="board 2440",
        length_mm=2440.0,
        width_mm=1220.0,
        trim_mm=TrimEntry(left=10.0, right=12.0, bottom=10.0, top=10.0),
        gap_mm=10.0,
        runs=3,
        share_used=0.1056,
        offcuts=(OffcutEntry(x_mm=10.0, y_mm=720.5, length_mm=2420.0, width_mm=489.5),),
    )
    nest = NestEntry(
        material="laminated-18",
        thickness_mm=18.0,
        sheets=3,
        lower_bound=1,
        bound_kind="area",
        price=177.0,
        price_bound=132.75,
        gap=0.25,
        seed=1,
        effort="normal",
        extra_seconds=0.0,
        stop="the work allowed was done",
        face_up=FaceUp.BACK,
        rounded_mm=0.0,
        layouts=(layout,),
    )
    files = (
        FileEntry(
            path="shop/parts/A-01-second.dxf",
            role=FileRole.PART,
            sha256="b" * 64,
            part="A-01",
            operation=Operation.SECOND,
        ),
        FileEntry(
            path="engineering/double-left.step",
            role=FileRole.SOLIDS,
            sha256="a" * 64,
            set_name="double",
            hand=Hand.LEFT,
        ),
        FileEntry(path="shop/cutlist.csv", role=FileRole.CUT_LIST, sha256="c" * 64),
    )
    return Manifest(
        job="Nordhütte",
        units=Units.MM,
        rooms=48,
        parts=PartCount(distinct=3, total=12),
        edge_bands=(BandEntry(band="white-1", thickness_mm=1.0),),
        pre_mill_mm=0.5,
        findings=FindingCount(ok=9, warn=2, fail=0),
        nests=(nest,),
        layers=sample_layers(),
        files=files,
        bars=(
            BarEntry(
                material="steel-angle",
                profile="35 x 35 x 3 mm",
                length_mm=6000.0,
                kerf_mm=3.2,
                end_trim_mm=5.0,
                bars=4,
                lower_bound=4,
                patterns=2,
                share_used=0.93,
            ),
        ),
    )


def content() -> Any:
    return json.loads(manifest_json(sample_manifest()))


def test_materials_that_were_left_out_are_told() -> None:
    entry = LeftOut(material="ply", form=StockForm.SHEETS, why="stock.yaml:3: 1 on hand")
    manifest = json.loads(manifest_json(replace(sample_manifest(), left_out=(entry,))))
    assert manifest["left_out"] == [
        {"material": "ply", "form": "sheets", "why": "stock.yaml:3: 1 on hand"}
    ]


def test_the_keys_of_the_contract() -> None:
    manifest = content()
    assert sorted(manifest) == [
        "bars",
        "edge_bands",
        "files",
        "findings",
        "job",
        "layers",
        "left_out",
        "nests",
        "parts",
        "pre_mill_mm",
        "rooms",
        "router",
        "seal",
        "units",
        "written_by",
    ]
    assert manifest["left_out"] == []
    assert manifest["edge_bands"] == [{"band": "white-1", "thickness_mm": 1.0}]
    assert manifest["pre_mill_mm"] == 0.5
    assert manifest["parts"] == {"distinct": 3, "total": 12}
    assert manifest["findings"] == {"ok": 9, "warn": 2, "fail": 0}
    (nest,) = manifest["nests"]
    assert nest.pop("layouts") == [
        {
            "file": "shop/sheets/laminated-18/001.dxf",
            "stock": "board 2440",
            "length_mm": 2440.0,
            "width_mm": 1220.0,
            "trim_mm": {"left": 10.0, "right": 12.0, "bottom": 10.0, "top": 10.0},
            "gap_mm": 10.0,
            "runs": 3,
            "yield": 0.1056,
            "offcuts": [{"x_mm": 10.0, "y_mm": 720.5, "length_mm": 2420.0, "width_mm": 489.5}],
        }
    ]
    assert manifest["bars"] == [
        {
            "material": "steel-angle",
            "profile": "35 x 35 x 3 mm",
            "length_mm": 6000.0,
            "kerf_mm": 3.2,
            "end_trim_mm": 5.0,
            "bars": 4,
            "lower_bound": 4,
            "patterns": 2,
            "yield": 0.93,
        }
    ]
    assert nest == {
        "material": "laminated-18",
        "thickness_mm": 18.0,
        "sheets": 3,
        "lower_bound": 1,
        "bound_kind": "area",
        "price": 177.0,
        "price_bound": 132.75,
        "gap": 0.25,
        "seed": 1,
        "effort": "normal",
        "extra_seconds": 0.0,
        "stop": "the work allowed was done",
        "face_up": "back",
        "rounded_mm": 0.0,
    }


def test_each_band_is_named_once_by_key() -> None:
    thick = replace(WHITE_BAND, key="oak-2", thickness_mm=2.0)
    panel = sample_parts()["C-03"]
    bare = replace(panel, banding=())
    ends = tuple(EdgeBanding(edge=edge, band=thick) for edge in (Edge.X_LOW, Edge.X_HIGH))
    assert bands_used([bare]) == ()
    assert bands_used([panel, bare, replace(panel, banding=ends)]) == (
        BandEntry(band="oak-2", thickness_mm=2.0),
        BandEntry(band="white-1", thickness_mm=1.0),
    )


def test_layers_keep_their_exact_depth_and_null_for_through() -> None:
    layers = {layer["name"]: layer for layer in content()["layers"]}
    assert layers["GROOVE-DEEP-9_525"] == {
        "name": "GROOVE-DEEP-9_525",
        "role": "groove",
        "depth_mm": 9.525,
        "diameter_mm": None,
        "face": "up",
    }
    assert layers["BORE-5-THROUGH"]["depth_mm"] is None
    assert {layer["role"] for layer in layers.values()} == {
        "sheet",
        "outline",
        "opening",
        "groove",
        "bore",
        "text",
    }


def test_files_come_by_path_and_say_what_they_are_about() -> None:
    model, cut_list, second = content()["files"]
    assert model == {
        "path": "engineering/double-left.step",
        "role": "solids",
        "sha256": "a" * 64,
        "set": "double",
        "hand": "left",
    }
    assert second == {
        "path": "shop/parts/A-01-second.dxf",
        "role": "part",
        "sha256": "b" * 64,
        "part": "A-01",
        "operation": "second",
        "turned_over": "about the length: (x, y) -> (x, width - y)",
        "registration_edge": "y-high",
    }
    assert cut_list == {"path": "shop/cutlist.csv", "role": "cut-list", "sha256": "c" * 64}


def test_the_text_is_sorted_indented_and_ends_with_a_newline() -> None:
    text = manifest_json(sample_manifest())
    assert text.startswith('{\n  "bars": [\n    {\n')
    assert text.endswith("}\n")
    assert "Nordhütte" in text
    backwards = replace(sample_manifest(), files=tuple(reversed(sample_manifest().files)))
    assert manifest_json(backwards) == text


def test_a_path_may_not_stand_twice() -> None:
    manifest = sample_manifest()
    with pytest.raises(ValueError, match="twice"):
        manifest_json(replace(manifest, files=manifest.files * 2))


def test_the_sum_of_a_file() -> None:
    # FIPS 180-2, appendix B.1, from memory: the one-block message "abc"
    assert sha256_of(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert sha256_of(b"") == hashlib.sha256().hexdigest()


def test_roles_are_small_words_with_hyphens() -> None:
    """Programs read them: each is its own name, but for those that say more than it."""
    longer = {
        FileRole.INSTALLATION: "installation-sheets",
        FileRole.BLOCKING: "blocking-plan",
    }
    for role in FileRole:
        assert role.value == longer.get(role, role.name.lower().replace("_", "-"))
