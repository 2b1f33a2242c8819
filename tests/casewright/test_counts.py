"""Over all layouts and their runs, each part appears exactly as often as the cut list asks."""

import csv
import hashlib
import html
import json
from collections import Counter
from pathlib import Path

import ezdxf
import pytest

from casewright.intake.read_job import read_job
from tests.casewright.build_fixtures import CONFIGS, outcome_of
from tests.casewright.dxf_to_solid import manifest_of

DEMO_OF = {
    "ship": "survey-ship",
    "centre": "avalanche-centre",
    "keeper": "keepers-room",
    "station": "field-station",
}

pytestmark = pytest.mark.parametrize("demo", list(DEMO_OF))


def test_parts_on_sheets(demo: str, request: pytest.FixtureRequest) -> None:
    out: Path = request.getfixturevalue(demo)
    manifest = manifest_of(out)
    text_layer = next(layer["name"] for layer in manifest["layers"] if layer["role"] == "text")
    placed: Counter[str] = Counter()
    for nest in manifest["nests"]:
        assert sum(layout["runs"] for layout in nest["layouts"]) == nest["sheets"]
        assert nest["lower_bound"] <= nest["sheets"]
        for layout in nest["layouts"]:
            space = ezdxf.readfile(out / layout["file"]).modelspace()
            texts = [e.dxf.text for e in space.query(f'TEXT[layer=="{text_layer}"]')]
            for text in texts:
                placed[text] += layout["runs"]
    with (out / "shop" / "cutlist.csv").open(newline="") as stream:
        asked = {row["part"]: int(row["quantity"]) for row in csv.DictReader(stream)}
    assert placed == asked
    assert manifest["parts"] == {"distinct": len(asked), "total": sum(asked.values())}


def test_quantities_come_from_the_rooms(demo: str, request: pytest.FixtureRequest) -> None:
    """Counted again from the models: boards of a set times the rooms that have it."""
    from tests.casewright.step_names import solids_by_name

    out: Path = request.getfixturevalue(demo)
    job = read_job(CONFIGS / f"{DEMO_OF[demo]}.yaml")
    rooms = Counter((room.set_name, room.hand.value) for room in job.rooms)
    counted: Counter[str] = Counter()
    for file in manifest_of(out)["files"]:
        if file["role"] == "solids":
            for name, solids in solids_by_name(out / file["path"]).items():
                counted[name] += len(solids) * rooms[file["set"], file["hand"]]
    asked = {}
    for table in ("cutlist", "linear"):
        with (out / "shop" / f"{table}.csv").open(newline="") as stream:
            asked |= {row["part"]: int(row["quantity"]) for row in csv.DictReader(stream)}
    assert {name: counted[name] for name in asked} == asked


def test_manifest_lists_every_file(demo: str, request: pytest.FixtureRequest) -> None:
    out: Path = request.getfixturevalue(demo)
    listed = {file["path"]: file["sha256"] for file in manifest_of(out)["files"]}
    present = {
        path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in out.rglob("*")
        if path.is_file() and path.name != "manifest.json"
    }
    assert listed == present


def test_demos_have_no_failures(demo: str, request: pytest.FixtureRequest) -> None:
    out: Path = request.getfixturevalue(demo)
    assert manifest_of(out)["findings"]["fail"] == 0
    assert outcome_of(DEMO_OF[demo]).cut_files_written


def test_summary_needs_nothing_from_outside(demo: str, request: pytest.FixtureRequest) -> None:
    out: Path = request.getfixturevalue(demo)
    page = (out / "summary.html").read_text()
    for address in ("http://", "https://", "src=", "@import", "url("):
        assert address not in page.replace("http://www.w3.org/2000/svg", "")
    assert json.loads((out / "manifest.json").read_text())["job"] in html.unescape(page)
