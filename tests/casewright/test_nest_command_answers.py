"""What the nest command leaves: read back, counted, and verified by code that shares nothing."""

import csv
import io
import json
from collections import Counter
from itertools import combinations
from pathlib import Path, PurePosixPath
from typing import Any

import ezdxf
import pytest
from shapely import box

from casewright.commands.choices import StagesChoice
from nesting.answer.solution import (
    BoundKind,
    Layout,
    Placement,
    Solution,
    StopReason,
    canonical,
    price_of,
)
from nesting.answer.verify import violations
from nesting.question.instance import StockKind
from nesting.question.sheet_rules import Trim
from parametric.stock.lengths import Units
from tests.casewright.nest_lists import (
    PIECES,
    PIECES_INCH,
    STOCK,
    STOCK_INCH,
    Nested,
    nested,
    quick,
    written,
)

MODES = {
    "free": {"gap": "10", "trim": "10"},
    "rim": {"gap": "8", "trim": "5,6,7,8", "rim": "40", "rim_side": "300"},
    "two stages": {"gap": "3.2", "trim": "8", "edge_to_edge": True, "stages": StagesChoice.TWO},
    "three stages": {"gap": "4.4", "trim": "0", "edge_to_edge": True},
    "any stages": {"gap": "3.2", "edge_to_edge": True, "stages": StagesChoice.ANY},
    "fewer layouts": {"gap": "10", "trim": "10", "fewer_layouts": 25.0},
}
DEFECTS = "stock,x,y,length,width\nfull,1000,0,60,60\nfull,2000,900,10,300\n"


@pytest.fixture(scope="module", params=MODES)
def nest(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Nested:
    folder = tmp_path_factory.mktemp("nest")
    defects = DEFECTS if request.param == "free" else None
    return nested(written(folder, PIECES, STOCK, defects), quick(**MODES[request.param]))


def ticks(mm: float) -> int:
    return round(1600 * mm)


def read_back(content: Any) -> Solution:
    """The answer as the file tells it, with nothing taken from the search."""
    layouts = canonical(
        Layout(
            stock=layout["stock"],
            runs=layout["runs"],
            placements=tuple(
                Placement(piece=p["piece"], x=ticks(p["x"]), y=ticks(p["y"]), turned=p["turned"])
                for p in layout["placements"]
            ),
        )
        for layout in content["layouts"]
    )
    return Solution(
        layouts=layouts,
        lower_bound=content["bound"],
        bound_kind=BoundKind(content["bound_kind"]),
        price=content["price"],
        price_bound=content["price_bound"],
        price_bound_kind=BoundKind(content["price_bound_kind"]),
        stop=StopReason(content["stop"]),
        seed=content["seed"],
    )


def test_the_json_holds_a_verified_answer(nest: Nested) -> None:
    solution = read_back(nest.json)
    assert violations(nest.question.instance, solution) == ()
    assert solution.sheets == nest.json["sheets"] >= nest.json["bound"] >= 1
    assert solution.price == pytest.approx(
        price_of(nest.question.instance.stocks, solution.layouts)
    )
    assert nest.json["gap"] == pytest.approx(1 - solution.price_bound / solution.price, abs=1e-5)
    assert nest.json["effort"] == "quick"
    assert nest.json["repeatable"] is True


def test_the_rules_in_the_json_are_those_asked_for(nest: Nested) -> None:
    rules, told = nest.question.instance.rules, nest.json["rules"]
    trim = Trim(**{edge: ticks(width) for edge, width in told["trim"].items()})
    assert (trim, ticks(told["gap"])) == (rules.trim, rules.gap)
    stages = None if rules.saw is None else rules.saw.stages or 0
    assert told["stages"] == stages


def test_each_dxf_read_by_ezdxf_holds_the_placements(nest: Nested) -> None:
    """Outlines are closed polylines on their layer, each with its own name inside."""
    sizes = {p.id: (p.length / 1600, p.width / 1600) for p in nest.question.instance.pieces}
    for layout in nest.json["layouts"]:
        content = nest.files[PurePosixPath(f"sheets/{layout['number']:03d}.dxf")]
        space = ezdxf.read(io.StringIO(content.decode())).modelspace()
        boxes = []
        for line in space.query("LWPOLYLINE[layer=='OUTLINE']"):
            points = list(line.get_points("xy"))
            assert line.closed
            assert len(points) == 4
            boxes.append(
                box(*map(min, zip(*points, strict=True)), *map(max, zip(*points, strict=True)))
            )
        names = {text.dxf.text: text.dxf.insert for text in space.query("TEXT[layer=='PART_TEXT']")}
        (edge,) = space.query("LWPOLYLINE[layer=='SHEET']")
        corners = [tuple(map(float, point)) for point in edge.get_points("xy")]
        assert max(corners) == (layout["length"], layout["width"])
        assert set(names) == {placed["piece"] for placed in layout["placements"]}
        for placed, outline in zip(layout["placements"], boxes, strict=True):
            along, across = sizes[placed["piece"]][:: -1 if placed["turned"] else 1]
            x, y = placed["x"], placed["y"]
            assert outline.bounds == pytest.approx((x, y, x + along, y + across), abs=1e-6)
        for one, other in combinations(boxes, 2):
            assert one.distance(other) >= nest.json["rules"]["gap"] - 1e-6 or (
                # The gap is kept along x or along y, so that corners may come nearer.
                _apart(one.bounds, other.bounds) >= nest.json["rules"]["gap"] - 1e-6
            )


def _apart(a: tuple[float, ...], b: tuple[float, ...]) -> float:
    return max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])


def test_offcuts_are_free_and_large_enough(nest: Nested) -> None:
    sizes = {p.id: (p.length / 1600, p.width / 1600) for p in nest.question.instance.pieces}
    for layout in nest.json["layouts"]:
        pieces = []
        for p in layout["placements"]:
            along, across = sizes[p["piece"]][:: -1 if p["turned"] else 1]
            pieces.append(box(p["x"], p["y"], p["x"] + along, p["y"] + across))
        for o in layout["offcuts"]:
            offcut = box(o["x"], o["y"], o["x"] + o["length"], o["y"] + o["width"])
            assert all(offcut.intersection(piece).area == 0 for piece in pieces)
            longer, shorter = sorted((o["length"], o["width"]), reverse=True)
            assert longer >= 600
            assert shorter >= 200


def test_the_cuts_of_the_saw_free_every_piece(nest: Nested) -> None:
    """Replayed with nothing but distances: each cut runs through a whole board, and the boards
    that are left over at the end are the pieces, where the layout says.
    """
    sizes = {p.id: (p.length / 1600, p.width / 1600) for p in nest.question.instance.pieces}
    for layout in nest.json["layouts"]:
        saw = layout["saw"]
        if nest.question.instance.rules.saw is None:
            assert saw is None
            continue
        stages = nest.json["rules"]["stages"]
        assert stages == 0 or saw["stages"] <= stages
        boards = {0: (0.0, 0.0, layout["length"], layout["width"])}
        for cut in saw["cuts"]:
            x, y, length, width = boards.pop(cut["board"])
            start, blade = cut["distance"], cut["distance"] + cut["dust"]
            if cut["line"] == "along the sheet's length":
                taken = (x, y, length, start)
                rest = (x, y + blade, length, width - blade)
            else:
                taken = (x, y, start, width)
                rest = (x + blade, y, length - blade, width)
            for number, board in ((cut["taken"], taken), (cut["rest"], rest)):
                if number is not None:
                    boards[number] = board
        fates = {board["number"]: board for board in saw["boards"]}
        freed = [
            (fates[number]["pieces"][0], *map(ticks, board))
            for number, board in boards.items()
            if fates[number]["fate"] == "is a piece"
        ]
        wanted = [
            (p["piece"], *map(ticks, (p["x"], p["y"])),
             *map(ticks, sizes[p["piece"]][:: -1 if p["turned"] else 1]))
            for p in layout["placements"]
        ]  # fmt: skip
        assert Counter(freed) == Counter(wanted)


def test_the_tables_agree_with_the_json(nest: Nested) -> None:
    rows = list(csv.DictReader(io.StringIO(nest.files[PurePosixPath("placements.csv")].decode())))
    told = [
        (str(layout["number"]), p["piece"], p["x"], p["y"])
        for layout in nest.json["layouts"]
        for p in layout["placements"]
    ]
    assert [(r["layout"], r["piece"], float(r["x_mm"]), float(r["y_mm"])) for r in rows] == told
    cut = Counter[str]()
    for row in rows:
        cut[row["piece"]] += int(row["last_run"]) - int(row["first_run"]) + 1
    assert cut == {piece.id: piece.quantity for piece in nest.question.instance.pieces}
    assert {r["group"] for r in rows if r["piece"] == "side"} == {"room 1"}
    sawn = PurePosixPath("saw-cuts.csv") in nest.files
    assert sawn is (nest.question.instance.rules.saw is not None)


def test_the_manifest_lists_all_files_and_maps_show_what_is_marked(nest: Nested) -> None:
    manifest = json.loads(nest.files[PurePosixPath("manifest.json")])
    listed = {PurePosixPath(entry["path"]) for entry in manifest["files"]}
    assert listed == nest.files.keys() - {PurePosixPath("manifest.json")}
    page = nest.files[PurePosixPath("summary.html")].decode()
    for layout in nest.json["layouts"]:
        svg = nest.files[PurePosixPath(f"sheets/{layout['number']:03d}.svg")].decode()
        assert svg.count('class="order"') == len(layout["placements"])
        marked = sum(placed["at_risk"] for placed in layout["placements"])
        legend = 1 if marked else 0
        assert svg.count('class="risk"') == marked + legend
        assert svg.count("offcut ") == len(layout["offcuts"])
        assert svg.count('class="defect"') == (
            2 if layout["stock"] == "full" and nest.question.files.defects else 0
        )
        assert svg.split("<title>")[1].split("</title>")[0] in page


def test_layouts_with_pieces_of_high_priority_come_first(nest: Nested) -> None:
    has_side = [
        any(placed["piece"] == "side" for placed in layout["placements"])
        for layout in nest.json["layouts"]
    ]
    assert has_side == sorted(has_side, reverse=True)
    assert [layout["number"] for layout in nest.json["layouts"]] == [
        n + 1 for n in range(len(has_side))
    ]


def test_small_parts_are_at_risk_on_a_router_only(nest: Nested) -> None:
    """A cleat of 300 x 40 mm: 120 cm2 where 500 cm2 hold (common practice, no source)."""
    risky = {
        placed["piece"]
        for layout in nest.json["layouts"]
        for placed in layout["placements"]
        if placed["at_risk"]
    }
    assert risky == ({"cleat"} if nest.json["rules"]["stages"] is None else set())


def test_inches(tmp_path: Path) -> None:
    nest = nested(written(tmp_path, PIECES_INCH, STOCK_INCH), quick(Units.INCH, gap="3/8"))
    assert violations(nest.question.instance, read_back(nest.json)) == ()
    rows = csv.DictReader(io.StringIO(nest.files[PurePosixPath("placements.csv")].decode()))
    assert {row["size"] for row in rows} == {'24 1/2" x 15 3/4"', '23 1/2" x 11 1/4"'}
    assert nest.json["prices"] == "by area, 1 for each square metre"


def test_a_remnant_is_used_before_a_sheet_is_bought(tmp_path: Path) -> None:
    pieces = "piece,length,width,quantity,turn\na,700,400,4,no\n"
    nest = nested(written(tmp_path, pieces, STOCK), quick(gap="10", trim="10"))
    assert [layout["stock"] for layout in nest.json["layouts"]] == ["rest"]
    assert nest.json["price"] == 0
    assert nest.question.instance.stocks[1].kind is StockKind.REMNANT


def test_books_of_the_saw(tmp_path: Path) -> None:
    """One piece a sheet, seven sheets of 18 mm, 60 mm at once: books of 3, 3 and 1."""
    pieces = "piece,length,width,quantity,turn\na,2000,900,7,no\n"
    options = quick(gap="3.2", trim="5", edge_to_edge=True, book_height="60", thickness="18")
    nest = nested(written(tmp_path, pieces, STOCK), options)
    (row,) = csv.DictReader(io.StringIO(nest.files[PurePosixPath("saw-books.csv")].decode()))
    assert (row["sheets"], row["sheets_at_once"], row["loads"]) == ("7", "3", "3")
    assert row["sheets_in_last_load"] == "1"
