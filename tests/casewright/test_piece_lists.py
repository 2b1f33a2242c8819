"""Lists of pieces as people have them: by room, by material, with columns of their own."""

import csv
import dataclasses
import io
import json
from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path, PurePosixPath

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from casewright.commands.nest_command.columns import column_names, percentage
from casewright.commands.nest_command.item_types import PieceRow, dealt, item_types
from casewright.commands.nest_command.options import read_options
from casewright.commands.nest_command.question import Files, QuestionList, read_questions
from casewright.commands.nest_command.run import compare
from casewright.errors import InputErrors, OptionErrors
from casewright.output.folder import Request
from casewright.written import Written
from export.tables.csv_text import all_decimals
from export.tables.cutlist_table import cutlist_csv
from nesting.answer.nest_answer import Dealt
from nesting.answer.solution import Layout, Placement
from nesting.question.instance import Instance, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import piece_ticks
from nesting.solve import solve
from parametric.stock.lengths import Units
from parametric.stock.materials import Grain
from tests.casewright.nest_lists import STOCK, nested, quick, written
from tests.export.sample_parts import sample_cut_list
from tests.nesting.small_efforts import AS_FOUND, SmallEffort

HEAD = "piece,length,width,quantity,turn,room\n"


def read(files: Files) -> QuestionList:
    return read_questions(files, read_options(quick(gap="10"), cores=1))


def by_room(rooms: int) -> str:
    kinds = (("deck", 1200, 600, 1), ("side", 800, 330, 2), ("rail", 700, 90, 3))
    rows = (
        f"{name},{length},{width},{count},no,{room}\n"
        for room in range(1, rooms + 1)
        for name, length, width, count in kinds
    )
    return HEAD + "".join(rows)


def test_a_list_by_room_is_nested_as_its_sum(tmp_path: Path) -> None:
    for folder in ("rooms", "sum"):
        (tmp_path / folder).mkdir()
    rooms = nested(written(tmp_path / "rooms", by_room(12), STOCK), quick(gap="10"))
    total = HEAD + "deck,1200,600,12,no,\nside,800,330,24,no,\nrail,700,90,36,no,\n"
    merged = nested(written(tmp_path / "sum", total, STOCK), quick(gap="10"))
    assert rooms.answer.solution.price == merged.answer.solution.price
    assert rooms.answer.solution.layouts == merged.answer.solution.layouts


def rows_of(nest) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(nest.files[PurePosixPath("placements.csv")].decode())))


def test_every_room_gets_its_pieces(tmp_path: Path) -> None:
    nest = nested(written(tmp_path, by_room(12), STOCK), quick(gap="10"))
    got: Counter[tuple[str, str]] = Counter()
    for row in rows_of(nest):
        got[row["group"], row["piece"]] += int(row["last_run"]) - int(row["first_run"]) + 1
    wanted = {("deck", 1), ("side", 2), ("rail", 3)}
    assert got == {(str(room), name): n for room in range(1, 13) for name, n in wanted}
    # On each sheet a place is one piece: its runs are dealt once, without a gap.
    shares = [share for plan in nest.answer.sheets for share in plan.dealt]
    for plan in nest.answer.sheets:
        for share in plan.dealt:
            assert [run for each in share for run in range(each.first_run, each.last_run + 1)] == (
                list(range(1, plan.layout.runs + 1))
            )
    assert shares


@st.composite
def lists(draw):
    """Rows of few sizes, with names and groups, and the same rows split, renamed and shuffled."""
    count = draw(st.integers(1, 6))
    rows = [
        PieceRow(
            line=number + 2,
            name=f"n{number}",
            length=draw(st.sampled_from([100, 150, 320])),
            width=draw(st.sampled_from([50, 80, 320])),
            turn=draw(st.sampled_from(Turn)),
            asked=draw(st.integers(1, 9)),
            group=draw(st.sampled_from(["", "a", "b"])),
        )
        for number in range(count)
    ]
    other = []
    for row in rows:
        first = draw(st.integers(0, row.asked))
        for part in (first, row.asked - first):
            if part:
                name = draw(st.sampled_from(["x", "y", row.name]))
                other.append(dataclasses.replace(row, name=name, asked=part))
    return rows, draw(st.permutations(other))


def price(rows: Iterable[PieceRow]) -> float:
    instance = Instance(
        pieces=tuple(kind.piece for kind in item_types(rows)),
        stocks=(
            Stock(id="s", length=700, width=400, price=49.9, on_hand=None),
            Stock(id="t", length=400, width=400, price=33.3, on_hand=None),
        ),
        rules=SheetRules(trim=Trim.even(5), gap=4),
    )
    return solve(instance, effort=SmallEffort.TINY).price


@given(lists())
@settings(max_examples=25, phases=AS_FOUND, deadline=None)
def test_renaming_splitting_or_shuffling_rows_never_changes_the_price(both):
    rows, other = both
    assert price(rows) == price(other)


def test_alike_means_size_turn_and_priority() -> None:
    row = PieceRow(line=2, name="a", length=9, width=5, turn=Turn.FIXED, asked=2)
    rows = [
        row,
        dataclasses.replace(row, line=3, name="b", group="1"),
        dataclasses.replace(row, line=4, turn=Turn.QUARTER),
        dataclasses.replace(row, line=5, priority=1),
        dataclasses.replace(row, line=6, width=6),
        dataclasses.replace(row, line=7, length=5, turn=Turn.QUARTER),
        dataclasses.replace(row, line=8, length=5),
    ]
    types = item_types(rows)
    assert [kind.piece.quantity for kind in types] == [4, 2, 2, 2, 4]
    names = [kind.piece.id for kind in types]
    assert names == ["a / b", "a", "a (2)", "a (3)", "a (4)"]


def test_pieces_are_dealt_by_room_sheet_after_sheet() -> None:
    """By hand: two sheets with two places and one with one; room 1 has three pieces, room 2 two."""
    row = PieceRow(line=2, name="a", length=9, width=5, turn=Turn.FIXED, asked=3, group="1")
    (kind,) = item_types([row, dataclasses.replace(row, line=3, asked=2, group="2")])
    place = {"piece": kind.piece.id, "y": 0, "turned": False}
    two = Layout(stock="s", placements=tuple(_placements(place, 2)), runs=2)
    one = Layout(stock="s", placements=tuple(_placements(place, 1)), runs=1)
    first, second = dealt([kind], [two, one])
    assert first == [
        (Dealt(1, 2, "a", "1", 2, ()),),
        (Dealt(1, 1, "a", "1", 2, ()), Dealt(2, 2, "a", "2", 3, ())),
    ]
    assert second == [(Dealt(1, 1, "a", "2", 3, ()),)]


def _placements(place, count):
    return [Placement(x=9 * n, **place) for n in range(count)]


def test_the_same_name_in_two_rooms_may_have_two_sizes(tmp_path: Path) -> None:
    pieces = f"{HEAD}shelf,800,300,2,no,1\nshelf,790,300,2,no,2\nshelf,800,300,1,no,1\n"
    (question,) = read(written(tmp_path, pieces, STOCK)).questions
    assert [(kind.piece.id, kind.piece.quantity) for kind in question.types] == [
        ("shelf", 3),
        ("shelf, 2", 2),
    ]


def test_rows_of_nothing_are_left_out_and_told(tmp_path: Path) -> None:
    listed = read(written(tmp_path, f"{HEAD}a,800,300,0,no,1\nb,790,300,2,no,2\n", STOCK))
    assert listed.skipped == (2,)
    assert [kind.piece.id for kind in listed.questions[0].types] == ["b"]


def test_a_list_that_asks_for_nothing_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="0 in every row"):
        read(written(tmp_path, f"{HEAD}a,800,300,0,no,1\nb,790,300,0,no,2\n", STOCK))


def test_spare_pieces_are_rounded_up(tmp_path: Path) -> None:
    """By hand: 5 % of 21 is 1.05, so 2; 0 % of a row is its own; 10 % of 3 is 0.3, so 1."""
    pieces = (
        "piece,length,width,quantity,turn,spare\n"
        "a,800,300,21,no,\nb,790,300,21,no,0\nc,780,300,3,no,10 %\n"
    )
    files = dataclasses.replace(written(tmp_path, pieces, STOCK), spare_percent=percentage("5%"))
    (question,) = read(files).questions
    assert [kind.piece.quantity for kind in question.types] == [23, 21, 4]


@pytest.mark.parametrize("text", ["", "x", "-1", "101", "1e2", "5,0"])
def test_what_is_no_percentage_is_told(text: str) -> None:
    with pytest.raises(OptionErrors):
        percentage(text)
    assert percentage("100") == 100
    assert percentage("2.5 %") == Fraction(5, 2)


def test_columns_may_be_called_otherwise(tmp_path: Path) -> None:
    pieces = "Part;Long;Wide;Qty;turn;Finish\na;800;300,5;2;no;oil\n"
    names = column_names(["length=Long", "width = Wide", "quantity=qty"])
    files = dataclasses.replace(written(tmp_path, pieces, STOCK), columns=names)
    listed = read(files)
    (kind,) = listed.questions[0].types
    assert (kind.piece.id, kind.piece.width, kind.rows[0].further) == ("a", 480_800, ("oil",))
    assert listed.further == ("Finish",)


def test_a_fault_names_the_column_of_the_file(tmp_path: Path) -> None:
    pieces = "Part,Long,width,quantity,turn\na,8oo,300,2,no\n"
    files = written(tmp_path, pieces, STOCK)
    files = dataclasses.replace(files, columns={"length": "long"})
    with pytest.raises(InputErrors) as told:
        read(files)
    assert [(fault.line, fault.key_path) for fault in told.value.faults] == [(2, "Long")]
    files = dataclasses.replace(files, columns={"length": "Longest"})
    with pytest.raises(InputErrors, match="Longest"):
        read(files)


@pytest.mark.parametrize("option", ["length", "=x", "lenght=L", "length=", "length=a"])
def test_what_names_no_column_is_told(option: str) -> None:
    given_twice = ["length=b", option] if option == "length=a" else [option]
    with pytest.raises(OptionErrors):
        column_names(given_twice)


def test_further_columns_come_through_to_the_placements(tmp_path: Path) -> None:
    pieces = (
        "piece,length,width,quantity,turn,edge,order\n"
        "a,800,300,2,no,=front,77\nb,800,300,1,no,back,78\n"
    )
    nest = nested(written(tmp_path, pieces, STOCK), quick(gap="10"))
    found = {(row["piece"], row["edge"], row["list_order"]) for row in rows_of(nest)}
    assert found == {("a", "'=front", "77"), ("b", "back", "78")}


def test_a_column_says_its_units(tmp_path: Path) -> None:
    pieces = "piece,length_in,width_mm,quantity,turn\na,47 7/8,300,2,no\n"
    (question,) = read(written(tmp_path, pieces, STOCK)).questions
    (kind,) = question.types
    assert (kind.piece.length, kind.piece.width) == (1_945_640, 480_000)


MATERIALS = (
    "piece,length,width,quantity,turn,material,thickness\n"
    "a,800,300,2,no,oak,18\nb,800,300,1,no,oak,12\nc,500,300,3,yes,grey,18\na,800,300,1,no,Oak,18\n"
)
ITS_STOCK = (
    "stock,length,width,quantity,price,kind,material,thickness\n"
    "oak 18,2440,1220,,60,,oak,18\noak 12,2440,1220,,45,,oak,12\n"
    "grey,2800,2070,,80,,grey,\nrest,1000,600,1,,remnant,grey,18\n"
)


def test_each_material_is_nested_on_its_stock(tmp_path: Path) -> None:
    listed = read(written(tmp_path, MATERIALS, ITS_STOCK))
    found = {
        (q.material.material, q.material.thickness // 1600): (
            [kind.piece.id for kind in q.types],
            [stock.id for stock in q.instance.stocks],
        )
        for q in listed.questions
    }
    assert found == {
        ("oak", 18): (["a"], ["oak 18"]),
        ("oak", 12): (["b"], ["oak 12"]),
        ("grey", 18): (["c"], ["grey", "rest"]),
    }


@pytest.mark.parametrize(
    ("pieces", "stock", "file", "line", "found"),
    [
        (MATERIALS, ITS_STOCK.replace("oak,12", "oak,15"), "pieces", 3, "oak 12 mm"),
        (MATERIALS, ITS_STOCK.replace("grey,\n", ",\n"), "stock", 4, "several materials"),
        (MATERIALS.replace(",12\n", ",0\n"), ITS_STOCK, "pieces", 3, "'0'"),
    ],
)
def test_material_without_stock_is_told(tmp_path, pieces, stock, file, line, found) -> None:
    with pytest.raises(InputErrors) as told:
        read(written(tmp_path, pieces, stock))
    (fault,) = told.value.faults
    assert (Path(fault.file).stem, fault.line) == (file, line)
    assert found in fault.found


def test_a_workbook_is_read_like_a_csv_file(tmp_path: Path) -> None:
    """Written by XlsxWriter, which is none of ours: numbers as numbers, a formula, blank rows."""
    path = tmp_path / "pieces.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        sheet = book.add_worksheet()
        for at, row in enumerate(
            [
                ["piece", "length", "width", "quantity", "turn", "note"],
                [],
                ["a", 800, 0.1 + 0.2 + 300, 2, "no", None],
                ["b", "31 1/2 in", 300, 3.0, True, "=x"],
            ]
        ):
            for column, value in enumerate(row):
                if isinstance(value, str):
                    sheet.write_string(at, column, value)
                elif value is not None:
                    sheet.write(at, column, value)
        sheet.write_formula(4, 1, "=400+400", None, 800)
        for column, value in ((0, "c"), (2, "250"), (3, 1), (4, "no")):
            sheet.write(4, column, value)
    files = dataclasses.replace(written(tmp_path, "", STOCK), pieces=path)
    (question,) = read(files).questions
    assert [(k.piece.id, k.piece.length, k.piece.width) for k in question.types] == [
        ("a", 1_280_000, 480_480),
        ("b", 1_280_160, 480_000),
        ("c", 1_280_000, 400_000),
    ]
    assert [kind.rows[0].line for kind in question.types] == [3, 4, 5]
    assert question.types[1].rows[0].further == ("=x",)


@pytest.mark.parametrize("content", [b"", b"piece,length", b"PK\x03\x04 nothing"])
def test_what_is_no_workbook_is_told(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "pieces.xlsx"
    path.write_bytes(content)
    with pytest.raises(InputErrors, match="no workbook"):
        read(dataclasses.replace(written(tmp_path, "", STOCK), pieces=path))


def test_offcuts_are_stock_for_the_next_nest(tmp_path: Path) -> None:
    pieces = "piece,length,width,quantity,turn\na,1700,1000,3,no\n"
    nest = nested(written(tmp_path, pieces, STOCK), quick(gap="10"))
    (tmp_path / "offcuts.csv").write_bytes(nest.files[PurePosixPath("offcuts.csv")])
    small = "piece,length,width,quantity,turn\nb,700,600,3,no\n"
    files = written(tmp_path, small, STOCK)
    files = dataclasses.replace(files, stock=(*files.stock, tmp_path / "offcuts.csv"))
    (question,) = read(files).questions
    kept = [stock for stock in question.instance.stocks if stock.id.startswith("offcut")]
    told = sorted((offcut.length, offcut.width) for p in nest.answer.sheets for offcut in p.offcuts)
    assert sorted({(stock.length, stock.width) for stock in kept}) == sorted(set(told))
    assert sum(stock.on_hand for stock in kept) == sum(
        len(plan.offcuts) * plan.layout.runs for plan in nest.answer.sheets
    )
    assert nested(files, quick(gap="10")).answer.solution.price == 0


def test_a_stock_is_named_once_in_all_files(tmp_path: Path) -> None:
    files = written(tmp_path, f"{HEAD}a,800,300,2,no,1\n", STOCK)
    (tmp_path / "more.csv").write_text(STOCK, encoding="utf-8")
    with pytest.raises(InputErrors) as told:
        read(dataclasses.replace(files, stock=(*files.stock, tmp_path / "more.csv")))
    assert [(Path(fault.file).stem, fault.line) for fault in told.value.faults] == [
        ("more", 2),
        ("more", 3),
    ]


def compared(tmp_path: Path, pieces: str, stock: str, **texts) -> list[dict[str, str]]:
    files = written(tmp_path, pieces, stock)
    request = Request(folder=tmp_path / "out")
    compare(files, quick(**texts), request, Written())
    text = (tmp_path / "out" / "what-if.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(io.StringIO(text)))


def test_every_way_to_ask_has_a_line_and_its_answer_is_kept(tmp_path: Path) -> None:
    stock = (
        "stock,length,width,quantity,price,kind\n"
        "full,2440,1220,,49.90,\nlong,3050,1220,,65,\nrest,1500,900,1,,remnant\n"
    )
    pieces = "piece,length,width,quantity,turn\na,1000,600,9,no\nb,600,400,8,yes\n"
    rows = compared(tmp_path, pieces, stock, gap="10", other_gap="4")
    # 2 ways to cut x 2 gaps x (all, full, long) x with and without the remnant
    assert len(rows) == 24
    asked = {(r["sizes"], r["remnants"], r["gap_mm"], r["cut"]) for r in rows}
    assert asked == {
        (size, remnants, gap, cut)
        for size in ("all", "full", "long")
        for remnants in ("yes", "no")
        for gap in ("10.000", "4.000")
        for cut in ("free", "sawn, 3 stages")
    }
    for row in rows:
        content = json.loads((tmp_path / "out" / row["folder"] / "nest.json").read_text())
        assert f"{content['price']:.2f}" == row["price"]
        assert str(content["sheets"]) == row["sheets"]
        used = {layout["stock"] for layout in content["layouts"]}
        assert row["sizes"] == "all" or used <= {row["sizes"], "rest"}
        assert row["remnants"] == "yes" or "rest" not in used
        assert f"{content['rules']['gap']:.3f}" == row["gap_mm"]
    price = {(r["sizes"], r["remnants"], r["gap_mm"], r["cut"]): float(r["price"]) for r in rows}
    # What may lie more freely, or on more kinds of sheets, costs no more; proven by bounds here.
    for (size, remnants, gap, cut), its_price in price.items():
        assert price["all", "yes", "4.000", "free"] <= its_price, (size, remnants, gap, cut)


def test_a_way_that_holds_not_all_pieces_says_why(tmp_path: Path) -> None:
    stock = "stock,length,width,quantity,price\nfull,2440,1220,,49.90\nhalf,1220,1220,,30\n"
    pieces = "piece,length,width,quantity,turn\na,2000,600,3,no\n"
    rows = compared(tmp_path, pieces, stock, gap="10")
    (none,) = {row["why_not"] for row in rows if row["sizes"] == "half"}
    assert "pieces.csv:2" in none
    assert "fits no stock" in none
    assert {row["price"] for row in rows if row["sizes"] == "half"} == {""}
    assert all(row["folder"] for row in rows if row["sizes"] != "half")


def test_the_cut_list_of_a_build_nests_as_it_is(tmp_path: Path) -> None:
    cut_list = sample_cut_list()
    files = written(tmp_path, cutlist_csv(cut_list, Units.INCH), ITS_STOCK)
    materials = {(part.material.key, part.material.thickness_mm) for part in cut_list.parts}
    stock = "stock,length_mm,width_mm,quantity,price,material,thickness_mm\n" + "".join(
        f"{key},2800,2070,,50,{key},{thickness}\n" for key, thickness in sorted(materials)
    )
    files.stock[0].write_text(stock, encoding="utf-8")
    rows = [row for q in read(files).questions for kind in q.types for row in kind.rows]
    assert sorted((row.name, row.quantity, row.turn, row.length, row.width) for row in rows) == (
        sorted(
            (
                part.number,
                part.quantity,
                Turn.QUARTER if part.material.grain is Grain.NONE else Turn.FIXED,
                piece_ticks(part.panel.length_mm),
                piece_ticks(part.panel.width_mm),
            )
            for part in cut_list.parts
        )
    )


def test_a_cut_list_keeps_sixty_fourths() -> None:
    assert all_decimals(47.875 * 25.4) == "1216.025"
    assert all_decimals(25.4 / 64) == "0.396875"
    assert all_decimals(600.0) == "600.000"


def test_inches_and_millimetres_ask_the_same(tmp_path: Path) -> None:
    """25.4 mm are an inch (agreement of 1959), so that 47 7/8 in are 1216.025 mm exactly."""
    inches = "piece,length,width,quantity,turn\na,47 7/8,23 7/8,40,no\nb,13 1/64,5.25,7,yes\n"
    metric = (
        "piece,length,width,quantity,turn\na,1216.025,606.425,40,no\nb,330.596875,133.35,7,yes\n"
    )
    stocks = (
        "stock,length,width,quantity,price\ns,96,48,,49.90\n",
        "stock,length,width,quantity,price\ns,2438.4,1219.2,,49.90\n",
    )
    found = []
    for units, pieces, stock, gap in (
        (Units.INCH, inches, stocks[0], "1/4"),
        (Units.MM, metric, stocks[1], "6.35"),
    ):
        files = written(tmp_path, pieces, stock)
        options = read_options(quick(units, gap=gap, trim="0"), cores=1)
        (question,) = read_questions(files, options).questions
        assert question.rounded_mm == 0.0
        found.append(question.instance)
    assert found[0] == found[1]
