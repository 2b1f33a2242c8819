"""The estimate of demo jobs: each figure found again in the file that it names."""

import csv
import math
from collections import Counter
from pathlib import Path

import openpyxl
import pypdfium2
import pytest

from casewright import Session
from casewright.errors import InputErrors
from export.estimate.rates import Rates
from tests.casewright.intake_folder import KEEPER, JobFolder
from tests.workbook_formulas import cached, needs_libreoffice, recalculated, through_libreoffice

Row = dict[str, object]


@pytest.fixture(params=["ship", "keeper"])
def out(request: pytest.FixtureRequest) -> Path:
    folder: Path = request.getfixturevalue(request.param)
    return folder


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def sheet(out: Path, name: str) -> list[Row]:
    book = openpyxl.load_workbook(out / "shop" / "estimate.xlsx", data_only=True)
    heads, *others = book[name].iter_rows(values_only=True)
    return [dict(zip(map(str, heads), row, strict=True)) for row in others if row[0]]


def lines(out: Path, section: str) -> list[Row]:
    return [row for row in sheet(out, "Lines") if row["section"] == section]


def number(row: Row, key: str) -> float:
    value = row[key]
    assert isinstance(value, int | float), (row, key)
    return float(value)


def test_sheets_areas_and_bounds_are_those_of_the_yield(out: Path) -> None:
    listed = rows(out / "shop" / "yield.csv")
    used = [row for row in sheet(out, "Sheets") if row["sheets"]]
    boards = lines(out, "boards")
    for row, use, board in zip(listed, used, boards, strict=True):
        assert str(use["stock"]).startswith(row["material"])
        assert number(use, "sheets m2") == float(row["sheet_area_m2"])
        assert number(use, "parts m2") == float(row["part_area_m2"])
        assert number(use, "yield") == pytest.approx(float(row["yield"]), abs=6e-5)
        assert number(use, "bound") == int(row["material_lower_bound"])
        assert number(use, "least in this mix") == int(row["least_in_this_mix"])
        spent = sum(number(use, f"{part} m2") for part in ("trim", "kerf", "offcuts kept", "scrap"))
        assert spent == pytest.approx(number(use, "sheets m2") - number(use, "parts m2"), abs=1e-9)
        assert number(use, "scrap m2") > 0
        assert number(use, "of") == int(row["material_sheets"])
        assert number(board, "amount") == float(row["cost"])


def test_trim_is_ten_millimetres_along_every_edge(out: Path) -> None:
    """Of sheets of 2800 x 2070 and 2500 x 1250 mm, as configs/router-metric.yaml says."""
    for use in (row for row in sheet(out, "Sheets") if row["sheets"]):
        a, b = (2500, 1250) if "2500" in str(use["stock"]) else (2800, 2070)
        strip = (a * b - (a - 20) * (b - 20)) / 1e6 * number(use, "sheets")
        assert number(use, "trim m2") == pytest.approx(strip, abs=6e-5)


def test_offcuts_are_those_of_their_table(out: Path) -> None:
    areas: Counter[str] = Counter()
    for row in rows(out / "shop" / "offcuts.csv"):
        areas[row["material"]] += float(row["area_m2"]) * int(row["quantity"])  # type: ignore[assignment]
    for use in (row for row in sheet(out, "Sheets") if row["sheets"]):
        name = str(use["stock"]).partition(",")[0]
        assert number(use, "offcuts kept m2") == pytest.approx(areas[name], abs=0.002)


def test_what_is_bought_is_on_the_purchase_list(out: Path) -> None:
    bought = [row for row in rows(out / "shop" / "purchase.csv") if row["kind"] != "sheets"]
    of_estimate = [
        row
        for section in ("edge bands", "bars and steel", "hardware and consumables")
        for row in lines(out, section)
    ]
    for row, line in zip(bought, of_estimate, strict=True):
        assert (line["what"], number(line, "quantity")) == (row["description"], float(row["buy"]))
        assert number(line, "amount") == float(row["cost"] or 0)
        assert line["found in"] == "shop/purchase.csv"


def test_hours_of_the_router_are_those_of_its_table(out: Path) -> None:
    minutes: dict[str, list[float]] = {}
    for row in rows(out / "shop" / "router-times.csv"):
        minutes.setdefault(row["material"], []).append(float(row["minutes_of_all_runs"] or 0))
    hours = lines(out, "machine time")
    assert {str(row["what"]).partition(",")[0] for row in hours} == set(minutes)
    whole = math.fsum(math.fsum(each) for each in minutes.values()) / 60
    assert math.fsum(number(row, "quantity") for row in hours) == pytest.approx(whole, abs=0.003)


def test_hours_of_the_bench_count_screws_pieces_and_edges_of_the_shop_lists(out: Path) -> None:
    """Half a minute a screw, six a piece, one an edge: common practice, no source."""
    hardware = rows(out / "shop" / "hardware.csv")
    screws = sum(int(row["needed"]) for row in hardware if row["unit"] == "pieces")
    pieces = {row["piece"]: int(row["quantity"]) for row in rows(out / "shop" / "pieces.csv")}
    edges = sum(
        int(row["quantity"]) * len([band for band in row["bands"].split(";") if band.strip()])
        for row in rows(out / "shop" / "cutlist.csv")
    )
    hours = (0.5 * screws + 6 * sum(pieces.values()) + edges) / 60
    told = math.fsum(number(row, "quantity") for row in lines(out, "bench"))
    assert told == pytest.approx(hours, abs=0.003)


def test_rooms_of_all_sets_come_to_the_costs(out: Path) -> None:
    values = cached((out / "shop" / "estimate.xlsx").read_bytes())
    costs = values["Summary", "B12"]
    sets = sheet(out, "Sets")
    assert math.fsum(number(row, "costs") for row in sets) == pytest.approx(costs, abs=1e-6)
    *of_sets, rest = sets
    assert abs(number(rest, "costs")) < 0.05 * len(sets)  # only what rounding leaves
    for head in ("boards", "edge bands", "bars and steel", "machine time", "bench", "installation"):
        whole = math.fsum(number(row, f"share of {head}") for row in of_sets)
        assert whole == pytest.approx(1, abs=1e-5), head


def test_paper_and_workbook_agree(out: Path) -> None:
    values = cached((out / "shop" / "estimate.xlsx").read_bytes())
    price = values["Summary", "B15"]
    pdf = pypdfium2.PdfDocument(out / "shop" / "estimate.pdf")
    text = " ".join(" ".join(p.get_textpage().get_text_range() for p in pdf).split())
    assert f"price {price:,.2f}" in text
    for row in rows(out / "shop" / "purchase.csv"):
        if not row["price"]:
            assert f"no price: {row['description']}" in text


def test_formulas_give_what_the_tool_reckoned(out: Path) -> None:
    content = (out / "shop" / "estimate.xlsx").read_bytes()
    held = cached(content)
    for at, value in recalculated(content).items():
        assert float(value) == pytest.approx(held[at], abs=1e-9), at


@needs_libreoffice
def test_libreoffice_reckons_the_same(ship: Path, tmp_path: Path) -> None:
    content = (ship / "shop" / "estimate.xlsx").read_bytes()
    held, theirs = cached(content), through_libreoffice(content, tmp_path)
    for at in recalculated(content):
        assert theirs[at] == pytest.approx(held[at], abs=1e-9), at


def test_rates_come_from_a_file_or_stand_in_the_job(tmp_path: Path) -> None:
    folder = JobFolder(tmp_path)
    job = folder.path(f"{KEEPER}.yaml")
    file = Rates(
        machine_hour=68, bench_hour=46.5, install_hour=52, overhead_percent=12, markup_percent=8
    )
    assert Session.from_file(job).job.rates == file
    folder.replace(job.name, "rates: rates-metric.yaml", "rates: {bench_hour: 40}")
    assert Session.from_file(job).job.rates == Rates(bench_hour=40)
    folder.replace(job.name, "rates: {bench_hour: 40}\n", "")
    assert Session.from_file(job).job.rates == Rates()


@pytest.mark.parametrize(
    ("file", "old", "new", "key_path"),
    [
        ("rates-metric.yaml", "bench_hour: 46.50", "bench_hour: -1", "bench_hour"),
        ("rates-metric.yaml", "bench_hour: 46.50", "bench_our: 40", "bench_our"),
        ("keepers-room.yaml", "rates: rates-metric.yaml", "rates: none.yaml", "rates"),
        ("keepers-room.yaml", "rates: rates-metric.yaml", "rates: 12", "rates"),
        (
            "keepers-room.yaml",
            "rates: rates-metric.yaml",
            "rates: {markup_percent: much}",
            "rates.markup_percent",
        ),
        ("keepers-room.yaml", "sets:\n", "hours: {shop_edge: -1}\nsets:\n", "hours.shop_edge"),
    ],
)
def test_faults_of_rates_are_located(
    tmp_path: Path, file: str, old: str, new: str, key_path: str
) -> None:
    folder = JobFolder(tmp_path)
    at = folder.replace(file, old, new)
    with pytest.raises(InputErrors) as caught:
        Session.from_file(folder.path(f"{KEEPER}.yaml"))
    (fault,) = caught.value.faults
    assert (Path(fault.file).name, fault.line, fault.key_path) == (file, at, key_path)
