"""Prices at other counts of rooms, against the same job built with so many rooms; each size of
sheet alone, against a nest of its own; and what a person may ask for.
"""

import csv
import io
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import openpyxl
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casewright import Session
from casewright.pipeline import build
from casewright.stages.estimate.room_counts import counts_of, dealt
from casewright.stages.site.kit_stage import kits_of
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from nesting.solve import solve
from tests.casewright.intake_folder import KEEPER, SHIP, JobFolder, place
from tests.workbook_formulas import cached, needs_libreoffice, recalculated, through_libreoffice

Files = dict[str, bytes]
Row = dict[str, object]
TEN = 10
ONE_SIZE = "      2800x2070: {length: 2800, width: 2070, price: 118.00}\n"
SIZES = {"2800x2070": (2800, 2070, 118.0), "2500x1250": (2500, 1250, 61.5)}
TOO_SMALL = "1500x700"


def keeper(folder: Path, rooms: int) -> Files:
    """The keeper's room so many times, with three sizes of the board of its decks."""
    job = JobFolder(folder)
    more = "      2500x1250: {length: 2500, width: 1250, price: 61.50}\n"
    small = f"      {TOO_SMALL}: {{length: 1500, width: 700, price: 9.00}}\n"
    job.replace("materials-metric.yaml", ONE_SIZE, ONE_SIZE + more + small)
    head, row = job.path("keepers-room-rooms.csv").read_text(encoding="utf-8").split()
    rows = [row.replace("keeper,", f"keeper {n},", 1) for n in range(rooms)]
    job.path("keepers-room-rooms.csv").write_text("\n".join([head, *rows]), encoding="utf-8")
    outcome = build(Session.from_file(job.path(f"{KEEPER}.yaml")).job)
    return {str(path): content for path, content in outcome.files.items()}


@pytest.fixture(scope="module")
def one(tmp_path_factory: pytest.TempPathFactory) -> Files:
    return keeper(tmp_path_factory.mktemp("one"), 1)


@pytest.fixture(scope="module")
def ten(tmp_path_factory: pytest.TempPathFactory) -> Files:
    return keeper(tmp_path_factory.mktemp("ten"), TEN)


def sheet(files: Files, name: str) -> list[Row]:
    book = openpyxl.load_workbook(io.BytesIO(files["shop/estimate.xlsx"]), data_only=True)
    heads, *others = book[name].iter_rows(values_only=True)
    return [dict(zip(map(str, heads), row, strict=True)) for row in others if row[0]]


def count(files: Files, rooms: int) -> Row:
    (found,) = (row for row in sheet(files, "Counts") if row["rooms"] == rooms)
    return found


def told(row: Row) -> tuple[object, ...]:
    return row["section"], row["what"], row["quantity"], row["unit"], row["rate"], row["amount"]


def number(row: Row, key: str) -> float:
    value = row[key]
    assert isinstance(value, int | float), (row, key)
    return float(value)


def test_ten_rooms_are_told_as_they_are_built(one: Files, ten: Files) -> None:
    """Line by line, but for boards and the router's time."""
    reckoned = [row for row in sheet(one, "Other counts") if row["rooms"] == TEN]
    built = sheet(ten, "Lines")
    apart = ("boards", "machine time")
    assert [told(row) for row in reckoned if row["section"] not in apart] == [
        told(row) for row in built if row["section"] not in apart
    ]
    row, own = count(one, TEN), count(ten, TEN)
    for section in ("edge bands", "bars and steel", "hardware and consumables", "bench"):
        assert row[section] == own[section]
    # a short search against a long one: no nest costs less than the bound of either
    saves = number(row, "another nest could save at most")
    assert number(row, "boards") - saves <= number(own, "boards") <= number(row, "boards")
    # Loading and unloading take 5 minutes a sheet; what else differs by layout is travel, changes.
    cutting = [
        sum(number(line, "quantity") for line in lines if line["section"] == "machine time")
        - number(of_count, "sheets") * 5 / 60
        for lines, of_count in ((reckoned, row), (built, own))
    ]
    assert cutting[0] == pytest.approx(cutting[1], rel=0.02)


def test_the_own_count_is_the_estimate(one: Files, ten: Files) -> None:
    for files, rooms in ((one, 1), (ten, TEN)):
        values = cached(files["shop/estimate.xlsx"])
        row = count(files, rooms)
        assert (row["costs"], row["price"]) == (values["Summary", "B12"], values["Summary", "B15"])
        cut = sum(number(line, "quantity") for line in sheet(files, "Lines")
                  if line["section"] == "boards")  # fmt: skip
        assert row["sheets"] == cut
        (of_set,) = (each for each in sheet(files, "Sets") if each["rooms"])
        assert number(row, "price of a room") == pytest.approx(
            number(of_set, "price of a room"), abs=0.02
        )


def test_a_room_gets_cheaper_with_more_of_them_and_its_bound_is_below(one: Files) -> None:
    rows = sheet(one, "Counts")
    prices = [number(row, "price of a room") for row in rows]
    assert [row["rooms"] for row in rows] == [1, 10, 50, 100]
    assert prices == sorted(prices, reverse=True)
    for row in rows:
        assert number(row, "no nest brings a room below") <= number(row, "price of a room")


def test_papers_of_counts_agree(one: Files) -> None:
    pages = pypdfium2.PdfDocument(one["shop/estimate.pdf"])
    text = " ".join(" ".join(p.get_textpage().get_text_range() for p in pages).split())
    for row in sheet(one, "Counts"):
        figures = (row["price"], row["price of a room"], row["no nest brings a room below"])
        assert " ".join(f"{figure:,.2f}" for figure in figures) in text, row
    for row in sheet(one, "Stock"):
        if not row["why there is no price"]:
            assert f"{row['cost of sheets']:,.2f} {row['no nest costs less']:,.2f}" in text
        else:
            assert f"{row['stock']}: {row['why there is no price']}" in text


def pieces(files: Files, material: str) -> Iterator[Piece]:
    for row in csv.DictReader(io.StringIO(files["shop/cutlist.csv"].decode())):
        if row["material"] == material:
            yield Piece(
                id=row["part"],
                length=piece_ticks(float(row["cut_length_mm"])),
                width=piece_ticks(float(row["cut_width_mm"])),
                quantity=int(row["quantity"]),
                turn=Turn.FIXED,
            )


@pytest.mark.parametrize("size", SIZES)
def test_a_size_alone_costs_what_a_nest_on_it_alone_costs(ten: Files, size: str) -> None:
    """The pieces of the cut list, a trim of 10 and a gap as configs/router-metric.yaml says."""
    length, width, price = SIZES[size]
    stock = Stock(
        id=size, length=sheet_ticks(length), width=sheet_ticks(width), price=price, on_hand=None
    )
    rules = SheetRules(trim=Trim.even(gap_ticks(10.0)), gap=gap_ticks(GAP_MM))
    alone = solve(Instance(pieces=tuple(pieces(ten, "ash-one-face")), stocks=(stock,), rules=rules))
    (row,) = (
        each for each in sheet(ten, "Stock") if f"{length} mm x {width} mm" in str(each["stock"])
    )
    least, cost = number(row, "no nest costs less"), number(row, "cost of sheets")
    assert least <= alone.price <= cost
    assert alone.price_bound <= cost
    assert number(row, "sheets") * price == cost


def test_mixed_is_what_is_cut_and_what_does_not_fit_is_named(ten: Files) -> None:
    mixed, *alone = sheet(ten, "Stock")
    cut = [row for row in csv.DictReader(io.StringIO(ten["shop/yield.csv"].decode()))
           if row["material"] == "ash-one-face"]  # fmt: skip
    assert number(mixed, "cost of sheets") == sum(float(row["cost"]) for row in cut)
    assert number(mixed, "sheets") == sum(int(row["sheets"]) for row in cut)
    area = sum(float(row["part_area_m2"]) for row in cut)
    for row in (mixed, *alone[:2]):
        assert number(row, "parts m2") == pytest.approx(area, abs=0.001)
        assert number(row, "yield") == pytest.approx(area / number(row, "sheets m2"), abs=1e-3)
        assert number(mixed, "no nest costs less") <= number(row, "cost of sheets")
    small = alone[2]
    assert small["cost of sheets"] is None
    too_long = {
        row["part"]
        for row in csv.DictReader(io.StringIO(ten["shop/cutlist.csv"].decode()))
        if row["material"] == "ash-one-face"
        and (float(row["cut_length_mm"]) > 1480 or float(row["cut_width_mm"]) > 680)
    }
    named = str(small["why there is no price"]).removeprefix("does not fit: ")
    assert set(named.split(", ")) == too_long != set()


@needs_libreoffice
def test_libreoffice_reckons_counts_and_stock_the_same(one: Files, tmp_path: Path) -> None:
    content = one["shop/estimate.xlsx"]
    held, theirs = cached(content), through_libreoffice(content, tmp_path)
    found = [at for at in recalculated(content) if at[0] in ("Counts", "Other counts", "Stock")]
    assert len(found) > 100
    for at in found:
        assert theirs[at] == pytest.approx(held[at], abs=1e-9), at


def test_a_rate_that_is_changed_changes_every_count(one: Files) -> None:
    content = one["shop/estimate.xlsx"]
    before, after = (
        recalculated(content, changed) for changed in (None, {("Rates", "B3"): Decimal(99)})
    )
    for row in range(2, 6):
        assert after["Counts", f"N{row}"] > before["Counts", f"N{row}"]


@given(rooms=st.integers(1, 400))
def test_rooms_are_dealt_out_as_near_to_the_mix_as_whole_rooms_get(rooms: int) -> None:
    own = [4, 4, 3, 1]  # the survey ship's
    numbers = {kit.set_name + kit.hand: kit.rooms for kit in dealt(rooms, SHIP_KITS)}
    assert sum(numbers.values()) == rooms
    for kit, share in zip(SHIP_KITS, own, strict=True):
        assert abs(numbers.get(kit.set_name + kit.hand, 0) - rooms * share / 12) < 1
    if rooms % 12 == 0:
        assert [kit.rooms for kit in dealt(rooms, SHIP_KITS)] == [n * rooms // 12 for n in own]


def test_usual_counts_keep_away_from_the_own_one_and_asked_ones_do_not() -> None:
    assert counts_of(None, 48) == (1, 10, 48, 100)
    assert counts_of(None, 1) == (1, 10, 50, 100)
    assert counts_of((40, 3), 48) == (3, 40, 48)
    assert counts_of((), 48) == (48,)


@pytest.mark.parametrize(
    ("given_counts", "key_path"),
    [
        ("[0]", "room_counts.0"),
        ("[5, 20000]", "room_counts.1"),
        ("[2.5]", "room_counts.0"),
        ("many", "room_counts"),
        ("[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]", "room_counts"),
    ],
)
def test_faults_of_counts_are_located(tmp_path: Path, given_counts: str, key_path: str) -> None:
    job = JobFolder(tmp_path)
    line = job.replace(
        "rates-metric.yaml", "machine_hour", f"room_counts: {given_counts}\nmachine_hour"
    )
    assert place(job.fault(KEEPER)) == ("rates-metric.yaml", line, key_path)


def test_counts_may_be_asked_for(tmp_path: Path) -> None:
    job = JobFolder(tmp_path)
    job.replace("rates-metric.yaml", "machine_hour", "room_counts: [20, 2]\nmachine_hour")
    assert Session.from_file(job.path(f"{KEEPER}.yaml")).job.rates.room_counts == (20, 2)


GAP_MM = 12.0
SHIP_KITS = kits_of(Session.from_file(Path("configs") / f"{SHIP}.yaml").job)
