"""What several papers tell is one figure: counts, lengths, areas, masses, money of the demo jobs,
collected from tables, manifest, labels, the text of papers and the page. None is computed here but
by adding up what another paper has.
"""

import csv
import html
import io
import json
import re
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from math import fsum

import pypdfium2
import pytest

from tests.casewright.build_fixtures import outcome_of

DEMOS = ("keepers-room", "survey-ship", "field-station", "avalanche-centre")

Rows = list[dict[str, str]]


@cache
def files(demo: str) -> dict[str, bytes]:
    return {str(path): content for path, content in outcome_of(demo).files.items()}


@cache
def rows(demo: str, path: str) -> Rows:
    return list(csv.DictReader(io.StringIO(files(demo)[path].decode())))


@cache
def manifest(demo: str) -> dict:
    return json.loads(files(demo)["manifest.json"])


@cache
def text(demo: str, path: str) -> str:
    pages = pypdfium2.PdfDocument(files(demo)[path])
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())


def papers(demo: str, start: str) -> Iterator[str]:
    return (path for path in sorted(files(demo)) if path.startswith(start) and path[-4:] == ".pdf")


def labels(demo: str, kind: str) -> Rows:
    return [row for row in rows(demo, "shop/labels.csv") if row["kind"] == kind]


@pytest.mark.parametrize("demo", DEMOS)
def test_parts_are_counted_alike(demo: str) -> None:
    """Cut list, manifest, labels, sorting plan, DXF labels times runs, places times rooms."""
    cut = Counter({row["part"]: int(row["quantity"]) for row in rows(demo, "shop/cutlist.csv")})
    assert sum(cut.values()) == manifest(demo)["parts"]["total"]
    assert len(cut) == manifest(demo)["parts"]["distinct"]
    assert Counter(row["number"] for row in labels(demo, "part")) == cut
    assert Counter(row["part"] for row in rows(demo, "shop/sorting.csv")) == cut
    placed: Counter[str] = Counter()
    for row in rows(demo, "shop/places.csv"):
        placed[row["part"]] += int(row["rooms"])
    assert {part: placed[part] for part in cut} == dict(cut)
    bars = {row["part"]: int(row["quantity"]) for row in rows(demo, "shop/linear.csv")}
    assert {part: placed[part] for part in bars} == bars
    drilled = {row["part"]: int(row["quantity"]) for row in rows(demo, "shop/linear-holes.csv")}
    assert drilled == {part: bars[part] for part in drilled}
    told = text(demo, "shop/drilling.pdf")
    assert all(f"{part} " in told and f"make {count}" in told for part, count in drilled.items())
    drawings = text(demo, "engineering/part-drawings.pdf")
    assert all(f"make {count}" in drawings for count in cut.values())


def millimetres(size: str, inch: bool) -> list[float]:
    """Both sides of a size as it is written: 15.921" x 30 1/2", 404 mm x 300.5 mm."""
    sides = [side.removesuffix('"').removesuffix(" mm") for side in size.split(" x ")]
    return [float(sum(map(Fraction, side.split()))) * (25.4 if inch else 1.0) for side in sides]


@pytest.mark.parametrize("demo", DEMOS)
def test_cut_sizes_are_told_alike(demo: str) -> None:
    """Cut list, labels, lists on paper, drawings and page: in inches to half a thousandth, which a
    calliper shows, in millimetres to half a tenth.
    """
    inch = manifest(demo)["units"] == "inch"
    drawings, lists = (
        text(demo, path) for path in ("engineering/part-drawings.pdf", "shop/lists.pdf")
    )
    page = html.unescape(files(demo)["summary.html"].decode())
    told = {row["part"]: row for row in rows(demo, "shop/cutlist.csv")}
    for row in told.values():
        for size, sides in (("cut_size", "cut"), ("finished_size", "finished")):
            exact = [float(row[f"{sides}_{side}_mm"]) for side in ("length", "width")]
            off = 0.0005 * 25.4 if inch else 0.05
            assert millimetres(row[size], inch) == pytest.approx(exact, rel=0, abs=off + 1e-9)
            assert f">{row[size]}<" in page
            assert row[size] in lists
            name = {"cut": "size as cut", "finished": "size finished"}[sides]
            assert f"{name} {row[size].replace(' mm', '')} " in drawings
    for label in labels(demo, "part"):
        assert label["size"] == told[label["number"]]["cut_size"]


@pytest.mark.parametrize("demo", DEMOS)
def test_edges_are_called_alike(demo: str) -> None:
    """Cut list, labels, lists on paper, drawings, page: by numbers, and by nothing else."""
    drawings, lists = (
        text(demo, path) for path in ("engineering/part-drawings.pdf", "shop/lists.pdf")
    )
    banded = {row["part"]: row["bands"] for row in rows(demo, "shop/cutlist.csv")}
    for part, bands in banded.items():
        for edge, band in (each.split(": ") for each in bands.split("; ") if each):
            assert f"{part} {edge} " in lists
            assert f"band, {edge} {band}, " in drawings
    for label in labels(demo, "part"):
        found = set()
        for told in filter(None, label["bands"].split("; ")):
            edges, band = told.split(": ")
            numbers = edges.removeprefix("edges ").removeprefix("edge ").split(", ")
            found |= {f"edge {number}: {band}" for number in numbers}
        assert found == set(filter(None, banded[label["number"]].split("; ")))
    page = files(demo)["summary.html"].decode()
    for words in (drawings, lists, page):
        assert not re.search(r"\b[xy]-(low|high)\b", words)


@pytest.mark.parametrize("demo", DEMOS)
def test_glue_is_told_alike(demo: str) -> None:
    """List and table: in millilitres in all jobs, as bottles name what they hold."""
    (glue,) = [row for row in rows(demo, "shop/hardware.csv") if row["unit"] == "ml"]
    told = text(demo, "shop/lists.pdf")
    (shown,) = re.findall(rf"([0-9.]+) ml {glue['description']}", told)
    assert float(shown) == pytest.approx(float(glue["needed"]), abs=0.5)


@pytest.mark.parametrize("demo", DEMOS)
def test_sheets_runs_and_money_are_counted_alike(demo: str) -> None:
    """Manifest, yields, labels, router times, operator's packs, the page."""
    nests, yields = manifest(demo)["nests"], rows(demo, "shop/yield.csv")
    sheets = sum(nest["sheets"] for nest in nests)
    assert sum(int(row["sheets"]) for row in yields) == sheets
    assert len(labels(demo, "sheet")) == sheets
    runs = {each["file"]: each["runs"] for nest in nests for each in nest["layouts"]}
    assert sum(runs.values()) == sheets
    timed = {row["file"]: int(row["runs"]) for row in rows(demo, "shop/router-times.csv")}
    assert {file: timed[file] for file in runs} == runs
    assert {e["file"]: e["runs"] for e in manifest(demo)["router"] if e["file"] in runs} == runs
    packs = " ".join(text(demo, path) for path in papers(demo, "shop/operator-"))
    for file, count in runs.items():
        assert f"{file}: cut {count} sheet" in packs
    money = fsum(float(row["cost"]) for row in yields)
    assert money == pytest.approx(fsum(nest["price"] for nest in nests), abs=0.005)
    page = files(demo)["summary.html"].decode()
    assert re.search(rf"\b{sheets}\b", page)


@pytest.mark.parametrize("demo", DEMOS)
def test_times_add_up(demo: str) -> None:
    """Seconds of the manifest and minutes of the table, which tells them to a thousandth."""
    minutes: dict[str, list[float]] = {}
    for row in rows(demo, "shop/router-times.csv"):
        if row["minutes"]:
            minutes.setdefault(row["file"], []).append(float(row["minutes"]))
    for entry in manifest(demo)["router"]:
        told = minutes[entry["file"]]
        assert fsum(told) * 60 == pytest.approx(entry["seconds"], abs=0.03 * len(told) + 0.001)


@pytest.mark.parametrize("demo", DEMOS)
def test_areas_offcuts_and_masses_agree(demo: str) -> None:
    """Yields hold what the cut list holds; offcuts have as many labels as they fall."""
    for row in rows(demo, "shop/yield.csv"):
        share = float(row["part_area_m2"]) / float(row["sheet_area_m2"])
        assert float(row["yield"]) == pytest.approx(share, abs=1e-4)
    area = fsum(
        float(row["cut_length_mm"]) * float(row["cut_width_mm"]) * int(row["quantity"]) * 1e-6
        for row in rows(demo, "shop/cutlist.csv")
    )
    parts = fsum(float(row["part_area_m2"]) for row in rows(demo, "shop/yield.csv"))
    assert 0.8 * area <= parts <= area  # parts count without notches and openings
    fallen = sum(int(row["quantity"]) for row in rows(demo, "shop/offcuts.csv"))
    assert len(labels(demo, "offcut")) == fallen
    racks = {row["rack_label"] for row in rows(demo, "shop/offcuts.csv")}
    packs = " ".join(text(demo, path) for path in papers(demo, "shop/operator-"))
    assert all(rack in packs for rack in racks)
    packed, pieces = rows(demo, "site/packing.csv"), rows(demo, "shop/pieces.csv")
    masses = {row["piece"]: float(row["mass_kg"]) for row in pieces}
    for row in packed:
        if row["number"] in masses:
            assert float(row["mass_kg"]) == masses[row["number"]]


@pytest.mark.parametrize("demo", DEMOS)
def test_kits_and_hardware_are_counted_alike(demo: str) -> None:
    """Kits times rooms are the pick list; boxes have a label for each room that has one."""
    whole: Counter[tuple[str, str]] = Counter()
    for row in rows(demo, "site/kits.csv"):
        key = row["article"], row["description"]
        whole[key] += round(float(row["needed"]) * int(row["rooms"]) * 10)
    for row in rows(demo, "site/pick-list.csv"):
        needed = round(float(row["needed"]) * 10)
        key = row["article"], row["description"]
        assert abs(whole[key] - needed) <= int(manifest(demo)["rooms"])
    rooms = [row["room"] for row in rows(demo, "site/rooms.csv")]
    assert len(rooms) == manifest(demo)["rooms"]
    assert [row["room"] for row in labels(demo, "box")] == rooms
    assert {row["room"] for row in rows(demo, "site/packing.csv")} == set(rooms)
    assert [row["room"] for row in rows(demo, "site/measuring.csv")] == rooms


@pytest.mark.parametrize("demo", DEMOS)
def test_findings_are_counted_alike(demo: str) -> None:
    """Manifest and table."""
    told = Counter(row["result"] for row in rows(demo, "findings.csv"))
    counted = manifest(demo)["findings"]
    assert {kind: told[kind] for kind in counted} == counted
