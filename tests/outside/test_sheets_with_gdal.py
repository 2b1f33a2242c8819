"""The written sheets as GDAL reads them, measured with shapely, against the cut list and the rules.

Nothing here uses the product's reader, its writer's library or its packer. Rules of the sheet come
from the manifest and are compared with the machine file.
"""

from collections import Counter
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from tests.outside.built_demo import LEFT_ROOMS, RIGHT_ROOMS, BuiltDemo
from tests.outside.gdal_reading import CHORDS_MM, Entity, entity_count, needs_gdal, read_by_gdal

pytestmark = needs_gdal

Sheets = list[tuple[dict[str, Any], list[Entity]]]


@pytest.fixture(scope="module", params=["keeper", "inn"])
def job(request: pytest.FixtureRequest) -> BuiltDemo:
    built: BuiltDemo = request.getfixturevalue(request.param)
    return built


@pytest.fixture(scope="module")
def sheets(job: BuiltDemo) -> Sheets:
    """Each layout of the demo with the entities of its file."""
    return [
        (layout | {"material": nest["material"]}, read_by_gdal(job.folder / layout["file"]))
        for nest in job.manifest["nests"]
        for layout in nest["layouts"]
    ]


def on(entities: list[Entity], layers: set[str]) -> list[Entity]:
    return [entity for entity in entities if entity.layer in layers]


def outlines(job: BuiltDemo, entities: list[Entity]) -> list[Polygon]:
    return [Polygon(e.shape.coords) for e in on(entities, job.layer_names("outline"))]


def test_outlines_by_runs_are_the_pieces_of_the_cut_list(job: BuiltDemo, sheets: Sheets) -> None:
    """A part is what its outline measures and where its number stands, not what a name says."""
    rows = {row["part"]: row for row in job.table("cutlist")}
    cut: Counter[str] = Counter()
    for layout, entities in sheets:
        shapes = outlines(job, entities)
        labels = on(entities, job.layer_names("text"))
        assert len(shapes) == len(labels)
        for outline in shapes:
            (label,) = [each for each in labels if outline.contains(each.shape)]
            row = rows[label.text]
            assert row["material"] == layout["material"]
            assert lies_as_its_grain_allows(outline, row), (layout["file"], label.text)
            cut[label.text] += layout["runs"]
    assert cut == {number: int(row["quantity"]) for number, row in rows.items()}


def lies_as_its_grain_allows(outline: BaseGeometry, row: dict[str, str]) -> bool:
    """Whether the outline's box has the cut size, its length along the sheet if it has grain."""
    x0, y0, x1, y1 = outline.bounds
    size = pytest.approx((x1 - x0, y1 - y0), abs=CHORDS_MM)
    asked = (float(row["cut_length_mm"]), float(row["cut_width_mm"]))
    return asked == size or (row["grain"] == "none" and asked[::-1] == size)


def test_every_outline_is_a_closed_simple_path(job: BuiltDemo, sheets: Sheets) -> None:
    for layout, entities in sheets:
        assert layout["runs"] >= 1
        for entity in on(entities, job.layer_names("outline")):
            assert entity.shape.geom_type == "LineString"
            assert entity.shape.is_ring
        assert all(outline.is_valid for outline in outlines(job, entities))


def test_outlines_lie_inside_the_trimmed_sheet(job: BuiltDemo, sheets: Sheets) -> None:
    for layout, entities in sheets:
        trim, length, width = (layout[key] for key in ("trim_mm", "length_mm", "width_mm"))
        assert set(trim.values()) == {job.job.machine.sheet_trim_mm}
        (edge,) = on(entities, job.layer_names("sheet"))
        assert edge.shape.bounds == pytest.approx((0.0, 0.0, length, width), abs=1e-6)
        x0, x1 = trim["left"], length - trim["right"]
        y0, y1 = trim["bottom"], width - trim["top"]
        usable = box(x0, y0, x1, y1).buffer(1e-6, join_style="mitre")
        for outline in outlines(job, entities):
            assert usable.covers(outline), layout["file"]


def test_outlines_keep_the_gap(job: BuiltDemo, sheets: Sheets) -> None:
    """Boxes grown by half the gap do not overlap: the router's bit passes between any two."""
    for layout, entities in sheets:
        gap = layout["gap_mm"]
        assert gap == job.job.machine.gap_mm
        grown = [
            box(*outline.bounds).buffer(gap / 2 - 1e-6, join_style="mitre")
            for outline in outlines(job, entities)
        ]
        for a, b in combinations(grown, 2):
            assert not a.intersects(b), layout["file"]


def test_cuts_lie_inside_their_outlines(job: BuiltDemo, sheets: Sheets) -> None:
    inner = job.layer_names("opening") | job.layer_names("groove") | job.layer_names("bore")
    for layout, entities in sheets:
        shapes = [
            outline.buffer(CHORDS_MM, join_style="mitre") for outline in outlines(job, entities)
        ]
        cuts = on(entities, inner)
        for cut in cuts:
            assert sum(outline.covers(cut.shape) for outline in shapes) == 1, layout["file"]


def test_two_programs_count_alike(job: BuiltDemo, sheets: Sheets) -> None:
    """ogrinfo's count of entities is that of ogr2ogr, so nothing was dropped on the way."""
    for layout, entities in sheets:
        assert entity_count(Path(job.folder / layout["file"])) == len(entities)


def test_the_inn_repeats_layouts(inn: BuiltDemo) -> None:
    """Else the count over runs would be tested on runs of one only."""
    runs = [layout["runs"] for nest in inn.manifest["nests"] for layout in nest["layouts"]]
    assert max(runs) > 1
    assert inn.manifest["rooms"] == RIGHT_ROOMS + LEFT_ROOMS
