"""The summary pages of the demo jobs: small, whole, and true to the folder that they lie in."""

import csv
import json
import re
from pathlib import Path
from urllib.parse import unquote

import pytest

from tests.chromium import needs_chromium, seen_in_chromium

MOST_BYTES = 3_000_000


@pytest.fixture(params=["centre", "keeper"])
def folder(request: pytest.FixtureRequest, centre: Path, keeper: Path) -> Path:
    return {"centre": centre, "keeper": keeper}[request.param]


def page_of(folder: Path) -> str:
    return (folder / "summary.html").read_text(encoding="utf-8")


def rows_of(folder: Path, table: str) -> list[dict[str, str]]:
    with (folder / table).open(encoding="utf-8-sig", newline="") as lines:
        return list(csv.DictReader(lines))


def test_the_page_is_small(folder: Path) -> None:
    assert (folder / "summary.html").stat().st_size < MOST_BYTES


def test_the_page_links_every_paper_and_nothing_that_is_not_there(folder: Path) -> None:
    links = {unquote(each) for each in re.findall(r'<a href="([^#"]+)"', page_of(folder))}
    papers = {path.relative_to(folder).as_posix() for path in folder.rglob("*.pdf")}
    assert links == papers


def test_parts_on_maps_and_in_sets_are_those_of_the_cut_list(folder: Path) -> None:
    page = page_of(folder)
    listed = {row["part"] for row in rows_of(folder, "shop/cutlist.csv")}
    mapped = set(re.findall(r'<path [^>]*data-part="([^"]+)"', page))
    assert mapped == listed
    bars = {row["part"] for row in rows_of(folder, "shop/linear.csv")}
    sets = json.loads(re.findall(r'id="turned-sets">(.*?)</script>', page)[0])
    turned = {part["part"] for each in sets for part in each["parts"]} - {""}
    assert turned == listed | bars
    assert set(re.findall(r'<tr data-part="([^"]+)"', page)) == listed | bars


def test_each_map_has_a_named_shape_for_every_part_that_is_cut_from_it(folder: Path) -> None:
    """The manifest tells how often a layout is cut: together there are as many as are needed."""
    manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    runs = {
        layout["file"]: layout["runs"] for nest in manifest["nests"] for layout in nest["layouts"]
    }
    maps = page_of(folder).partition('<section id="maps">')[2].partition("</section>")[0]
    counted: dict[str, int] = {}
    for figure in maps.split("<figure>")[1:]:
        file = re.findall(r"<figcaption>(.*?)</figcaption>", figure)[0]
        for part in re.findall(r'data-part="([^"]+)"', figure):
            counted[part] = counted.get(part, 0) + runs[file]
    wanted = {row["part"]: int(row["quantity"]) for row in rows_of(folder, "shop/cutlist.csv")}
    assert counted.keys() == wanted.keys()
    assert all(counted[part] >= wanted[part] for part in wanted)


@needs_chromium
def test_the_page_runs_without_a_fault(folder: Path, tmp_path: Path) -> None:
    act = """
      for (const each of document.querySelectorAll(".turn canvas, .maps svg")) press(each, "Enter");
      return [...document.querySelectorAll(".told")].filter((each) => !each.textContent).length;
    """
    seen = seen_in_chromium(page_of(folder), tmp_path, act)
    assert seen == {"said": 0, "heard": []}
