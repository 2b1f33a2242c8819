"""The purchase list, counted again from the tables that it says its needs come from."""

import csv
import io
import math
from decimal import Decimal
from pathlib import Path

import pypdfium2
import pytest

from casewright import Session
from casewright.errors import InputErrors
from export.estimate.purchase import Kind, PurchaseLine
from export.tables.purchase_table import purchase_csv
from parametric.stock.buying import Buying, Shelf, long_buying, packed_buying
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.intake_folder import KEEPER, JobFolder

SHORT = ("edge 2", "edge 4")  # edges as long as the part is wide


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def bought(out: Path) -> list[dict[str, str]]:
    return rows(out / "shop" / "purchase.csv")


@pytest.fixture(params=["ship", "keeper"])
def out(request: pytest.FixtureRequest) -> Path:
    folder: Path = request.getfixturevalue(request.param)
    return folder


def test_sheets_and_bars_are_those_of_the_nests(out: Path) -> None:
    sheets: dict[str, int] = {}
    for row in rows(out / "shop" / "yield.csv"):
        sheets[row["material"]] = sheets.get(row["material"], 0) + int(row["sheets"])
    of_list = {row["article"]: int(row["buy"]) for row in bought(out) if row["kind"] == "sheets"}
    assert of_list == sheets
    bars: dict[str, int] = {}
    for row in rows(out / "shop" / "bars.csv"):
        bars[row["material"]] = bars.get(row["material"], 0) + int(row["runs"])
    assert {r["article"]: int(r["buy"]) for r in bought(out) if r["kind"] == "bars"} == bars


def test_hardware_is_that_of_boxes_and_shop_in_whole_packs(out: Path) -> None:
    """Steel angles are bars; adhesive goes by whole cartridges in each box."""
    angles = {row["article"] for row in bought(out) if row["kind"] == "bars"}
    needed: dict[str, int] = {}
    for row in (*rows(out / "site" / "pick-list.csv"), *rows(out / "shop" / "hardware.csv")):
        if row["article"] not in angles | {"adhesive", "glue"}:
            needed[row["article"]] = needed.get(row["article"], 0) + int(row["needed"])
    listed = [
        row for row in bought(out) if row["kind"] == Kind.HARDWARE and row["article"] != "glue"
    ]
    assert {r["article"]: int(r["needed"]) for r in listed if r["article"] != "adhesive"} == needed
    for row in listed:
        wanted = int(row["needed"]) + int(row["spare"])
        packs, pack = int(row["buy"]), int(row["pack"])
        assert packs * pack >= wanted > (packs - 1) * pack
        if row["price"]:
            assert Decimal(row["cost"]) == packs * Decimal(row["price"])
    boxes = [r for r in rows(out / "site" / "kits.csv") if r["article"] == "adhesive"]
    cartridges = sum(math.ceil(float(r["packed"]) / 300) * int(r["rooms"]) for r in boxes)
    (adhesive,) = (row for row in listed if row["article"] == "adhesive")
    assert int(adhesive["buy"]) == cartridges


def test_glue_of_the_shop_is_bought_in_whole_bottles(out: Path) -> None:
    (needed,) = (
        float(row["needed"])
        for row in rows(out / "shop" / "hardware.csv")
        if (row["article"], row["unit"]) == ("glue", "ml")
    )
    (line,) = (row for row in bought(out) if row["article"] == "glue")
    assert float(line["needed"]) == needed
    assert float(line["spare"]) == pytest.approx(0.1 * needed, abs=0.6)
    wanted = float(line["needed"]) + float(line["spare"])
    assert int(line["buy"]) == math.ceil(wanted / 750)
    assert Decimal(line["cost"]) == int(line["buy"]) * Decimal(line["price"])


def test_edge_band_is_what_the_cut_list_says_and_50_mm_an_edge(out: Path) -> None:
    """The excess at an edge: common practice, no source."""
    millimetres, edges = [], 0
    for row in rows(out / "shop" / "cutlist.csv"):
        named = [band.split(":")[0].strip() for band in row["bands"].split(";") if band.strip()]
        for name in named:
            side = row["finished_width_mm" if name in SHORT else "finished_length_mm"]
            millimetres += [float(side)] * int(row["quantity"])
            edges += int(row["quantity"])
    (band,) = (row for row in bought(out) if row["kind"] == Kind.BANDS)
    assert float(band["needed"]) == pytest.approx(math.fsum(millimetres) / 1000, abs=0.006)
    assert Decimal(band["spare"]) == Decimal(edges) * Decimal("0.05")
    wanted = Decimal(band["needed"]) + Decimal(band["spare"])
    assert int(band["buy"]) == math.ceil(wanted / 75)  # rolls of 75 m


def test_paper_and_table_agree(out: Path) -> None:
    pdf = pypdfium2.PdfDocument(out / "shop" / "purchase.pdf")
    text = " ".join(" ".join(p.get_textpage().get_text_range() for p in pdf).split())
    costs = [Decimal(row["cost"]) for row in bought(out) if row["cost"]]
    assert f"In all {sum(costs):,.2f} EUR" in text
    unpriced = [row["description"] for row in bought(out) if not row["price"]]
    assert ("No price: ask for one" in text) is bool(unpriced)
    for description in unpriced:
        assert text.count(description) == 2  # in the table, and to be asked for


def line(**changed: object) -> PurchaseLine:
    told: dict[str, object] = {
        "kind": Kind.HARDWARE,
        "article": "screw",
        "description": "Screw",
        "unit": "piece",
        "needed": Decimal(190),
        "spare": Decimal(11),
        "pack": Decimal(100),
        "pack_unit": "pack of 100",
        "price": Decimal("4.355"),
        "paper": "site/pick-list.csv",
    }
    return PurchaseLine(**{**told, **changed})  # type: ignore[arg-type]


def test_packs_are_whole_and_what_is_on_hand_is_not_bought() -> None:
    assert line().packs == 3  # 201 pieces
    assert line(spare=Decimal(10)).packs == 2
    assert line(on_hand=2).packs == 2
    assert line(on_hand=500).packs == 0
    assert line(missed="somebody else brings it").packs == 0
    assert line().cost == Decimal("13.07")  # 13.065, halves up
    assert line(price=None).cost is None
    (row,) = csv.DictReader(io.StringIO(purchase_csv([line()])))
    assert (row["price"], row["cost"]) == ("4.355", "13.07")  # no decimal is lost


def test_a_screw_and_a_cap_of_one_name_have_their_own_packs() -> None:
    listed = (
        Buying(shelf=Shelf.ANGLES, key="a", description="Angle", price=9),
        Buying(shelf=Shelf.SCREWS, key="a", description="Screw", pack=100),
        Buying(shelf=Shelf.CAPS, key="a", description="Cap", pack=50),
        Buying(shelf=Shelf.KIT, key="shims", pack=20),
    )
    assert packed_buying(listed, "a", "Cap").pack == 50
    assert packed_buying(listed, "a", "Screw").pack == 100
    assert packed_buying(listed, "a", "Angle").price is None
    assert packed_buying(listed, "shims", "Shims, as the kit describes them").pack == 20
    assert long_buying(listed, Shelf.ANGLES, "a").price == 9
    assert long_buying(listed, Shelf.BARS, "a").price is None


def test_packs_and_prices_come_from_the_libraries_and_the_job() -> None:
    buying = {
        (b.shelf, b.key): b for b in Session.from_file(CONFIGS / "keepers-room.yaml").job.buying
    }
    screw = buying[Shelf.SCREWS, "4-0x30"]
    assert (screw.pack, screw.price) == (500, 11.9)
    band = buying[Shelf.BANDS, "ash-band"]
    assert (band.roll_mm, band.price) == (75_000, 58)
    assert buying[Shelf.KIT, "packers"].pack == 50
    assert buying[Shelf.LEGS, "tube-leg"].pack is None
    prices = {
        (Shelf.LEGS, "tube-leg"): 12.4,
        (Shelf.BARS, "spruce-cleat"): 6.8,
        (Shelf.ANGLES, "l50x50x8"): 41,
        (Shelf.WALL_PLATES, "folded-plate"): 23,
        (Shelf.CAPS, "flat-cap"): 7.5,
    }
    assert {key: buying[key].price for key in prices} == prices
    packs = buying[Shelf.WALL_PLATES, "folded-plate"].pack, buying[Shelf.CAPS, "flat-cap"].pack
    assert packs == (10, 50)


@pytest.mark.parametrize(
    ("old", "new", "key_path"),
    [
        ("adhesive: {price: 6.40,", "paste: {price: 6.40,", "kit.bought.paste"),
        ("glue: {price: 7.80,", "glue: {pack: 0,", "kit.bought.glue.pack"),
        ("mass_g: 860", "mass_g: 0", "kit.bought.glue.mass_g"),
        ("shims: {pack: 100,", "shims: {pack: 0,", "kit.bought.shims.pack"),
        ("touch-up: {price: 5.50}", "touch-up: {price: -1}", "kit.bought.touch-up.price"),
    ],
)
def test_faults_of_what_is_bought_are_located(
    tmp_path: Path, old: str, new: str, key_path: str
) -> None:
    folder = JobFolder(tmp_path)
    at = folder.replace("keepers-room.yaml", old, new)
    with pytest.raises(InputErrors) as caught:
        Session.from_file(folder.path(f"{KEEPER}.yaml"))
    (fault,) = caught.value.faults
    assert (fault.line, fault.key_path) == (at, key_path)


@pytest.mark.parametrize(
    ("key", "value"),
    [("glue_spread", "5"), ("glue_spread", "much"), ("glue_bottle", "0")],
)
def test_faults_of_glue_are_located(tmp_path: Path, key: str, value: str) -> None:
    folder = JobFolder(tmp_path)
    at = folder.replace("keepers-room.yaml", "  bought:\n", f"  {key}: {value}\n  bought:\n")
    with pytest.raises(InputErrors) as caught:
        Session.from_file(folder.path(f"{KEEPER}.yaml"))
    (fault,) = caught.value.faults
    assert (fault.line, fault.key_path) == (at, f"kit.{key}")
