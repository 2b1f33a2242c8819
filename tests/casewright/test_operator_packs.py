"""The operator's packs say what the tables and the cut files say, on pages that can be read."""

import csv
import io
import json
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Any

import pypdfium2
import pytest

from casewright.intake.read_job import read_job
from casewright.job import CutInOrderOf
from casewright.pipeline import build
from casewright.stages.shop.operator_content import operator_packs
from casewright.stages.shop.operator_setup import held_words
from export.routing.machine_rates import Held, HoldDown
from export.shop.shown_time import shown_hours, shown_minutes
from export.svg.tick_grid import tick_grid
from parametric.stock.lengths import Units, show_way
from tests.casewright.build_fixtures import built_demo
from tests.casewright.intake_folder import KEEPER, JobFolder
from tests.pdf_pages import assert_texts_apart, text_of

LETTER_POINTS, A4_POINTS = (612.0, 792.0), (595.3, 841.9)
LONG = "W" * 60


def table(files: dict[str, bytes], name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(files[f"shop/{name}.csv"].decode())))


def contents(out: Path) -> dict[str, bytes]:
    return {p.relative_to(out).as_posix(): p.read_bytes() for p in out.rglob("*") if p.is_file()}


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The keeper's room on letter paper, with names of 60 letters, parts at risk, no drill of
    2.7 mm.
    """
    folder = JobFolder(tmp_path_factory.mktemp("hostile"))
    job, router = f"{KEEPER}.yaml", "router-metric.yaml"
    name = re.search(r"^job: .*$", folder.path(job).read_text(encoding="utf-8"), re.M)
    assert name is not None
    folder.replace(job, name[0], f"job: {LONG}\npaper: letter")
    folder.replace(router, "name: Flat-table router", f"name: {LONG}")
    folder.replace(router, "  router bit: #", f"  {LONG}: #")
    folder.replace(router, "area_cm2: 500", "area_cm2: 1200")
    folder.replace(router, "small_parts: skin, skin: 0.5", "small_parts: tabs")
    folder.replace(router, "  drill 2.7 mm:", "  drill 2.9 mm:")
    folder.replace(router, "{diameter: 2.7,", "{diameter: 2.9,")
    outcome = build(read_job(folder.path(job)))
    return {path.as_posix(): content for path, content in outcome.files.items()}


@pytest.fixture(scope="module", params=["keeper", "centre", "hostile"])
def files(request: pytest.FixtureRequest) -> dict[str, bytes]:
    got = request.getfixturevalue(request.param)
    return contents(got) if isinstance(got, Path) else got


def packs(files: dict[str, bytes]) -> dict[str, list[pypdfium2.PdfPage]]:
    """The pages of each pack, by what stands for the material in its name."""
    found = {
        PurePosixPath(path).stem.removeprefix("operator-"): list(pypdfium2.PdfDocument(content))
        for path, content in sorted(files.items())
        if path.startswith("shop/operator-")
    }
    assert found
    return found


def nests(files: dict[str, bytes]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The manifest's nests by the names of their packs."""
    for nest in json.loads(files["manifest.json"])["nests"]:
        yield nest["layouts"][0]["file"].split("/")[2], nest


def sheet_pages(pages: list[pypdfium2.PdfPage]) -> list[str]:
    return [text for text in map(text_of, pages) if re.match(r"Sheet \d+ of \d+:", text)]


def units_of(files: dict[str, bytes]) -> Units:
    return Units.INCH if '"' in table(files, "linear")[0]["length"] else Units.MM


def test_every_nest_has_its_pack_with_a_page_for_each_layout(files: dict[str, bytes]) -> None:
    found, listed = packs(files), dict(nests(files))
    assert set(found) == set(listed)
    for name, pages in found.items():
        layouts = listed[name]["layouts"]
        own = sheet_pages(pages)
        assert len(own) == len(layouts)
        for number, (page, layout) in enumerate(zip(own, layouts, strict=True), start=1):
            assert page.startswith(f"Sheet {number} of {len(layouts)}: ")
            sheets = "sheet" if layout["runs"] == 1 else "sheets"
            assert f"{layout['file']}: cut {layout['runs']} {sheets}" in page


def test_paths_and_times_are_those_of_the_table(files: dict[str, bytes]) -> None:
    """Sheet by sheet, and for the whole job on each pack's first pages."""
    rows, units = table(files, "router-times"), units_of(files)
    whole = math.fsum(float(row["minutes_of_all_runs"]) for row in rows if row["minutes"])
    for name, nest in nests(files):
        pages = packs(files)[name]
        for page, layout in zip(sheet_pages(pages), nest["layouts"], strict=True):
            mine = [row for row in rows if row["file"] == layout["file"] and row["minutes"]]
            seconds = 60 * math.fsum(float(row["minutes"]) for row in mine)
            path = math.fsum(float(row["path_mm"]) for row in mine if row["path_mm"])
            assert near(page, "time of one", shown_minutes, seconds, 0.2)
            assert near(page, "time of all", shown_hours, layout["runs"] * seconds, 4.0)
            assert near(page, "path", lambda mm: show_way(mm, units), path, 1.0)
            assert f"plunges {sum(int(row['plunges'] or 0) for row in mine)} " in page
        setup = " ".join(map(text_of, pages))
        # The heads of the times, then the times: that of the whole job is the last one.
        last = re.search(r"the whole job time in all (?:[\d.]+ (?:h|min|s) )*", setup)
        assert last is not None
        assert near(f"{last[0]}.", "", lambda s: f"{shown_hours(s)} .", 60 * whole, 10.0)


def near(page: str, what: str, shown: Any, value: float, slack: float) -> bool:
    """Whether a page shows a value, rounded from what the table rounds by so much at most."""
    told = {f"{what} {shown(each)}" for each in (value - slack, value, value + slack)}
    return any(each in page for each in told)


def test_offcuts_have_the_labels_of_the_rack_list(files: dict[str, bytes]) -> None:
    listed = table(files, "offcuts")
    labels = [row["rack_label"] for row in listed]
    assert labels and len(set(labels)) == len(labels)
    for name, nest in nests(files):
        for number, page in enumerate(sheet_pages(packs(files)[name]), start=1):
            mine = [
                row["rack_label"]
                for row in listed
                if (row["material"], row["sheet"]) == (nest["material"], str(number))
            ]
            joined = page.replace(" ", "")
            assert len(mine) == len(nest["layouts"][number - 1]["offcuts"])
            # Once on the map, once in the list.
            assert all(joined.count(label) >= 2 for label in mine), (mine, page)


def test_second_operations_are_all_told_with_their_files(files: dict[str, bytes]) -> None:
    asked = {path for path in files if path.endswith("-second.dxf")}
    assert asked
    text = " ".join(text_of(page) for pages in packs(files).values() for page in pages)
    told = set(re.findall(r"file (shop/parts/\S+-second\.dxf)", text))
    assert told == asked
    quantity = {row["part"]: row["quantity"] for row in table(files, "cutlist")}
    for path in asked:
        part = PurePosixPath(path).stem.removesuffix("-second")
        assert re.search(rf"{part} [^,]*, {quantity[part]} times?", text), part


def test_layers_have_the_bit_of_the_table(files: dict[str, bytes]) -> None:
    """Each layer that is cut stands on its pack's first pages."""
    for name, nest in nests(files):
        text = "".join(map(text_of, packs(files)[name])).replace(" ", "")
        for row in table(files, "router-times"):
            if row["material"] == nest["material"] and row["work"] == "cutting":
                assert all(layer in text for layer in row["layers"].split())


def test_no_text_lies_on_another_or_off_the_page(files: dict[str, bytes]) -> None:
    for pages in packs(files).values():
        for page in pages:
            assert assert_texts_apart(page) > 5


def test_maps_lie_on_their_side_and_each_is_one_page(files: dict[str, bytes]) -> None:
    sizes = {
        tuple(round(side) for side in page.get_size())
        for pages in packs(files).values()
        for page in pages
    }
    papers = [{tuple(map(round, p)), tuple(map(round, p[::-1]))} for p in PAPERS]
    assert sizes in papers


PAPERS = (LETTER_POINTS, A4_POINTS)


def test_what_is_at_risk_or_lacks_its_bit_is_told(hostile: dict[str, bytes]) -> None:
    text = {name: " ".join(map(text_of, pages)) for name, pages in packs(hostile).items()}
    missing = [row for row in table(hostile, "router-times") if row["work"] == "not counted"]
    assert {row["bit"] for row in missing} == {"no drill of 2.700 mm"}
    for name, nest in nests(hostile):
        count = sum(
            int(row["cuts"]) * int(row["runs"])
            for row in missing
            if row["material"] == nest["material"]
        )
        told = f"No drill of 2.7 mm in the machine file, for {count} cuts"
        assert (told in text[name]) == (count > 0)
    assert any("No drill of" in each for each in text.values())
    at_risk = [each for each in text.values() if "Leave tabs" in each]
    assert at_risk and all(re.search(r"P\d+ small", each) for each in at_risk)
    assert all("small or narrow part: hold it down" in each for each in at_risk)


def test_what_is_measured_is_what_the_cut_list_says(files: dict[str, bytes]) -> None:
    """Cut sizes to 0.1 mm or 0.001 in, the diagonal by Pythagoras; 0.2 mm on each side is the demo
    machines' tolerance, which by hand takes 0.2 (L + W) / d on the diagonal: never more is allowed.
    """
    units = units_of(files)
    sizes = {
        row["part"]: (float(row["cut_length_mm"]), float(row["cut_width_mm"]))
        for row in table(files, "cutlist")
    }
    for name, pages in packs(files).items():
        text = " ".join(map(text_of, pages))
        text = text[text.index("Measure on the first sheet") : text.index("Sheets, with")]
        rows = re.findall(r"(P\d+) (\S+?)(?: mm|\") ± \S+(?: mm)? (\S+?)(?: mm|\") ±", text)
        assert rows, name
        for part, along_x, along_y in rows:
            factor, step = (25.4, 0.026) if units is Units.INCH else (1.0, 0.051)
            told = sorted((float(along_x) * factor, float(along_y) * factor))
            assert told == pytest.approx(sorted(sizes[part]), abs=step)
            diagonal = math.hypot(*sizes[part])
            off = 0.2 * sum(sizes[part]) / diagonal
            own = text[text.index(f"{part} {along_x}") :].split("P", 2)[1]
            told = re.findall(r"(\S+?)(?: mm|\") ± (\S+?)(?: mm|\")", own)
            if len(told) == 2:
                assert "corners are not square" in own
                continue
            across, allowed = (float(each) * factor for each in told[2])
            assert across == pytest.approx(diagonal, abs=step)
            assert off - 2 * step <= allowed <= off


@pytest.mark.parametrize("demo", ["keepers-room", "survey-ship", "field-station"])
def test_the_order_of_cutting_is_what_each_map_does(demo: str) -> None:
    """What the table may not hold comes last, and is not spoken of where there is none."""
    built = built_demo(demo)
    for (_, pack), nest in zip(
        operator_packs(built.job, built.shop, built.router), built.router.nests, strict=True
    ):
        counts = []
        for sheet in (each.sheet for each in nest.sheets):
            counts.append(len(sheet.at_risk))
            last = sheet.cut_order[len(sheet.cut_order) - counts[-1] :]
            assert set(last) == set(sheet.at_risk)
        assert ("come last" in pack.order[-1]) == any(counts) == bool(pack.risks)


@pytest.mark.parametrize("order", CutInOrderOf)
def test_the_pack_says_where_sheets_are_not_cut_in_the_order_of_its_pages(
    order: CutInOrderOf,
) -> None:
    built = built_demo("keepers-room")
    job = replace(built.job, cut_in_order_of=order)
    for _, pack in operator_packs(job, built.shop, built.router):
        told = [how for what, how in pack.facts if what == "order of sheets"]
        assert len(told) == (order is CutInOrderOf.ROOMS)
        assert all("shop/sorting.pdf" in how for how in told)


@pytest.mark.parametrize(
    ("held", "words"),
    [(Held.SKIN, "a skin of 0.8 mm"), (Held.TABS, "Leave tabs"), (Held.RIM, "Screw or clamp")],
)
def test_what_holds_small_parts_is_what_the_machine_file_says(held: Held, words: str) -> None:
    told = held_words(HoldDown(small_parts=held, skin_mm=0.8), True, Units.MM)
    assert words in told
    assert held_words(HoldDown(small_parts=held), False, Units.MM) == "None on these sheets."


@pytest.mark.parametrize(
    ("runs", "boxes", "each"), [(1, 1, 1), (30, 30, 1), (87, 87, 1), (88, 44, 2), (1001, 51, 20)]
)
def test_there_is_a_box_for_each_run_or_for_so_many(runs: int, boxes: int, each: int) -> None:
    """On 261 mm 29 boxes of 9 mm stand in a row, and three rows are the most."""
    grid = tick_grid(runs, 261.0)
    assert grid.svg.count('class="tick"') == boxes
    assert grid.each == each
    assert f">{runs}</text>" in grid.svg
    assert grid.height_mm == 10.0 * math.ceil(boxes / 29)


@pytest.mark.parametrize("demo", ["keeper", "centre", "ship", "station"])
def test_the_demos_have_a_bit_for_everything(demo: str, request: pytest.FixtureRequest) -> None:
    rows = table(contents(request.getfixturevalue(demo)), "router-times")
    assert {row["work"] for row in rows} == {"cutting", "changing bits", "handling"}
