import csv
import io
from dataclasses import replace

import pytest

from export.file_paths import part_file, safe_names, sheet_file
from export.tables.csv_text import csv_text, fixed
from export.tables.cutlist_table import cutlist_csv
from export.tables.edge_bore_table import edge_bores_csv
from export.tables.findings_table import findings_csv
from export.tables.linear_hole_table import linear_holes_csv
from export.tables.linear_table import linear_csv
from export.tables.offcut_table import offcuts_csv
from export.tables.yield_table import MaterialNest, yield_csv, yield_rows
from nesting.after.offcuts import Reusable
from nesting.answer.solution import Layout, Placement
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from parametric.findings.finding import Basis
from parametric.findings.measure import at_least, at_most
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import told_findings
from parametric.lists.bar_catalogue import cleat_holes
from parametric.lists.cut_list import EdgeBanding
from parametric.lists.left_out import LeftOut, StockForm
from parametric.lists.operations import Operation
from parametric.shapes.panel import Edge, EdgeBore, Face
from parametric.stock.lengths import Units
from parametric.stock.materials import StockSheet
from tests.export.sample_nest import sample_nest
from tests.export.sample_parts import STOCK, WHITE_BAND, bore, flat_panel, sample_cut_list
from tests.nesting.random_nests import answer_of


def rows(text: str) -> list[dict[str, str]]:
    assert "\r" not in text
    assert text.endswith("\n")
    return list(csv.DictReader(io.StringIO(text)))


def test_the_cut_list_has_a_line_for_each_part() -> None:
    first, second, third = rows(cutlist_csv(sample_cut_list(), Units.MM))
    assert first == {
        "part": "A-01",
        "description": "sample panel",
        "units": "bench",
        "hand": "either",
        "quantity": "4",
        "material": "laminated-18",
        "thickness_mm": "18.000",
        "formaldehyde": "not stated",
        "finished_length_mm": "500.000",
        "finished_width_mm": "301.000",
        "cut_length_mm": "500.000",
        "cut_width_mm": "300.000",
        "grain": "lengthwise",
        "bands": "edge 1: white-1",
        "band_thickness_mm": "1.000",
        "two_sided": "yes",
        "mass_kg": "3.250",
        "show_face": "down",
        "machining_face": "up, then down",
        "file": "shop/parts/A-01.dxf",
        "finished_size": "500 mm x 301 mm",
        "cut_size": "500 mm x 300 mm",
    }
    assert (second["two_sided"], second["grain"], second["machining_face"]) == ("no", "none", "up")
    assert third["part"] == "C-03"


def test_sizes_are_shown_in_the_units_of_the_job() -> None:
    # 500 / 25.4 = 19.685 in, 300 / 25.4 = 11.811 in: neither is a whole number of 1/64
    first = rows(cutlist_csv(sample_cut_list(), Units.INCH))[0]
    assert first["cut_size"] == '19.685" x 11.811"'
    assert first["cut_length_mm"] == "500.000"


@pytest.mark.parametrize(
    ("faces", "text"),
    [((), "none"), ((Face.UP,), "up"), ((Face.DOWN,), "down"), (tuple(Face), "both")],
)
def test_show_face(faces: tuple[Face, ...], text: str) -> None:
    cut_list = sample_cut_list()
    part = replace(cut_list.parts[0], show_faces=faces)
    assert rows(cutlist_csv(replace(cut_list, parts=(part,)), Units.MM))[0]["show_face"] == text


def test_the_thickness_of_bands() -> None:
    cut_list = sample_cut_list()
    thick = replace(WHITE_BAND, thickness_mm=2.0)
    ends = tuple(EdgeBanding(edge=edge, band=thick) for edge in (Edge.X_LOW, Edge.X_HIGH))
    side = EdgeBanding(edge=Edge.Y_LOW, band=WHITE_BAND)
    parts = tuple(
        replace(cut_list.parts[0], banding=banding) for banding in ((), ends, (*ends, side))
    )
    table = rows(cutlist_csv(replace(cut_list, parts=parts), Units.MM))
    assert [row["band_thickness_mm"] for row in table] == ["", "2.000", "1.000; 2.000"]


def test_the_linear_list_says_where_to_drill() -> None:
    (angle,) = rows(linear_csv(sample_cut_list(), Units.INCH))
    assert angle == {
        "part": "D-04",
        "description": "steel angle",
        "units": "bench; bed",
        "hand": "right",
        "quantity": "2",
        "material": "steel",
        "profile": "50 x 50 x 6",
        "length_mm": "812.800",
        "mass_kg": "3.600",
        "drill_positions": (
            'flat leg: 5 mm dia at 35 mm (1 3/8"), 410 mm (16 5/32") from left end,'
            ' 25.4 mm (1") from heel;'
            ' flat leg: 6.5 mm dia at 60 mm (2 3/8") from left end,'
            ' 30 mm (1 3/16") from heel'
        ),
        "screw_heads": "flush: countersink each hole on the side where the screw goes in",
        "length": '32"',  # 812.8 / 25.4
    }


def test_the_linear_list_in_millimetres_shows_each_position_once() -> None:
    (angle,) = rows(linear_csv(sample_cut_list(), Units.MM))
    assert "5 mm dia at 35 mm, 410 mm from left end, 25.4 mm from heel" in angle["drill_positions"]


def test_a_bar_without_holes_has_nothing_to_countersink() -> None:
    cut_list = sample_cut_list()
    bare = replace(cut_list.bars[0], holes=())
    (row,) = rows(linear_csv(replace(cut_list, bars=(bare,)), Units.MM))
    assert (row["drill_positions"], row["screw_heads"]) == ("", "")


def test_each_hole_of_a_bar_has_a_line() -> None:
    # inches by hand, to 1/32: 35 / 25.4 = 1.378 = 1 3/8, 410 / 25.4 = 16.142 = 16 5/32 (16.156;
    # 16 1/8 is 16.125), 25.4 = 1
    text = linear_holes_csv(sample_cut_list(), Units.INCH)
    first, second, third = rows(text)
    assert first == {
        "part": "D-04",
        "description": "steel angle",
        "quantity": "2",
        "face": "flat leg",
        "from_left_end_mm": "35.000",
        "across_mm": "25.400",
        "across_from": "heel (flat leg on top, upright leg away from you)",
        "diameter_mm": "5.000",
        "from_left_end": '1 3/8"',
        "across": '1"',
    }
    assert (second["from_left_end_mm"], second["from_left_end"]) == ("410.000", '16 5/32"')
    assert (third["diameter_mm"], third["across"]) == ("6.500", '1 3/16"')


def test_holes_of_a_cleat_are_measured_as_it_lies() -> None:
    # By hand, on a bar of 38 x 19 mm: a hole through the wide face 12 mm from the near edge, and
    # one through the narrow face 8 mm above the bench.
    panel = replace(
        flat_panel(400.0, 38.0, bores=(bore(45.0, 12.0, 5.0, None),)),
        thickness_mm=19.0,
        edge_bores=(replace(edge_bore(90.0, 0.0, 0.0, 1.0), z_mm=8.0, diameter_mm=4.5),),
    )
    cut_list = sample_cut_list()
    cleat = replace(cut_list.bars[0], number="L001", holes=cleat_holes(panel))
    table = rows(linear_holes_csv(replace(cut_list, bars=(cleat,)), Units.MM))
    assert [tuple(row.values())[3:] for row in table] == [
        (
            "narrow face",
            "90.000",
            "8.000",
            "wide face that lies down (bar flat on a wide face)",
            "4.500",
            "90 mm",
            "8 mm",
        ),
        (
            "wide face",
            "45.000",
            "12.000",
            "narrow face nearer to you (bar flat on a wide face)",
            "5.000",
            "45 mm",
            "12 mm",
        ),
    ]


def test_a_hole_in_an_unknown_face_is_an_error() -> None:
    cut_list = sample_cut_list()
    hole = replace(cut_list.bars[0].holes[0], face="end grain")
    bar = replace(cut_list.bars[0], holes=(hole,))
    with pytest.raises(KeyError, match="end grain"):
        linear_holes_csv(replace(cut_list, bars=(bar,)), Units.MM)


def test_the_yield_table_adds_up() -> None:
    # by hand: 3 sheets of 2.44 x 1.22 m; on each 0.5 x 0.3 twice and 0.6 x 0.024 m2
    (row,) = rows(yield_csv([sample_nest()]))
    assert row == {
        "material": "laminated-18",
        "thickness_mm": "18.000",
        "face_up": "either",
        "stock": "board 2440",
        "sheet_length_mm": "2440.000",
        "sheet_width_mm": "1220.000",
        "sheets": "3",
        "layouts": "1",
        "sheet_area_m2": "8.9304",
        "part_area_m2": "0.9432",
        "yield": "0.1056",
        "material_sheets": "3",
        "material_lower_bound": "1",
        "bound_rests_on": "area",
        "least_in_this_mix": "1",
        "price_per_sheet": "61.50",
        "cost": "184.50",
        "left_out": "",
    }


def two_stocks() -> MaterialNest:
    """Return the sample parts on three sheets of one stock and on two of a smaller, cheaper one."""
    nest = sample_nest()
    small = StockSheet(key="half", length_mm=1220.0, width_mm=1220.0, price=32.25, on_hand=None)
    stocks = (
        *nest.instance.stocks,
        Stock(id="half", length=gap_ticks(1220), width=gap_ticks(1220), price=32.25, on_hand=None),
    )
    (layout,) = nest.solution.layouts
    on_small = replace(layout, stock="half", runs=2)
    return replace(
        nest,
        material=replace(nest.material, stock=(*nest.material.stock, small)),
        instance=replace(nest.instance, stocks=stocks),
        solution=replace(nest.solution, layouts=(layout, on_small)),
    )


def test_what_a_material_of_two_stocks_costs() -> None:
    """Rule: sheets of a stock times the price of that stock; the material's sheets are both.

    By hand: 3 x 61.50 = 184.50 and 2 x 32.25 = 64.50, not 5 of anything, nor one price for both;
    2 sheets of 1.22 x 1.22 m are 2.9768 m2, with 2 x 0.3144 = 0.6288 m2 of parts.
    """
    full, half = rows(yield_csv([two_stocks()]))
    assert [(row["stock"], row["sheets"], row["cost"]) for row in (full, half)] == [
        ("board 2440", "3", "184.50"),
        ("half", "2", "64.50"),
    ]
    assert (full["price_per_sheet"], half["price_per_sheet"]) == ("61.50", "32.25")
    assert (half["sheet_area_m2"], half["part_area_m2"]) == ("2.9768", "0.6288")
    assert full["material_sheets"] == half["material_sheets"] == "5"
    assert sum(row.cost for row in yield_rows([two_stocks()])) == pytest.approx(249.0)


def test_a_material_that_was_left_out_has_a_line_that_says_why() -> None:
    sheets = LeftOut(material="ply", form=StockForm.SHEETS, why="stock.yaml:3: 1 on hand")
    bars = LeftOut(material="cleat", form=StockForm.BARS, why="too short")
    nested, left_out = rows(yield_csv([sample_nest()], (sheets, bars)))
    assert nested["left_out"] == ""
    assert {key: value for key, value in left_out.items() if value} == {
        "material": "ply",
        "left_out": "stock.yaml:3: 1 on hand",
    }


def test_a_stock_that_is_not_cut_has_no_row() -> None:
    nest = sample_nest()
    assert yield_rows([replace(nest, solution=replace(nest.solution, layouts=()))]) == ()


def edge_bore(x: float, y: float, dx: float, dy: float) -> EdgeBore:
    return EdgeBore(x=x, y=y, z_mm=9, direction_x=dx, direction_y=dy, diameter_mm=3, depth_mm=30)


def test_edge_bores_are_listed_by_the_edge_they_enter() -> None:
    cut_list = sample_cut_list()
    bores = (
        edge_bore(500, 40, -1, 0),
        edge_bore(0, 50, 1, 0),
        edge_bore(90, 300, 0, -1),
        edge_bore(90, 0, -0.0, 1),
        edge_bore(480, 290, -(0.5**0.5), -(0.5**0.5)),
    )
    panel = replace(cut_list.parts[0].panel, edge_bores=bores)
    text = edge_bores_csv(replace(cut_list, parts=(replace(cut_list.parts[0], panel=panel),)))
    assert text is not None
    assert [row["edge"] for row in rows(text)] == [
        "at an angle",
        "edge 1",
        "edge 2",
        "edge 3",
        "edge 4",
    ]
    assert rows(text)[4] == {
        "part": "A-01",
        "description": "sample panel",
        "quantity": "4",
        "edge": "edge 4",
        "x_mm": "0.000",
        "y_mm": "50.000",
        "above_down_face_mm": "9.000",
        "diameter_mm": "3.000",
        "depth_mm": "30.000",
        "direction_x": "1.000",
        "direction_y": "0.000",
    }


def test_without_edge_bores_there_is_no_list() -> None:
    cut_list = sample_cut_list()
    assert edge_bores_csv(replace(cut_list, parts=cut_list.parts[1:])) is None


def test_numbers_have_fixed_decimals_and_no_minus_zero() -> None:
    assert [fixed(2.0), fixed(-0.0001), fixed(1234567.8915)] == ["2.000", "0.000", "1234567.891"]


def test_a_row_of_another_length_than_the_header_is_an_error() -> None:
    with pytest.raises(ValueError, match="a row of 1 cells under a header of 2"):
        csv_text(("a", "b"), [("1",)])


def test_paths_of_files() -> None:
    assert part_file("A-01") == "shop/parts/A-01.dxf"
    assert part_file("A-01", Operation.SECOND) == "shop/parts/A-01-second.dxf"
    assert sheet_file("laminated-18", 7) == "shop/sheets/laminated-18/007.dxf"


def test_folders_of_materials_are_safe_and_never_shared() -> None:
    keys = ["board 3/4", "board 3-4", "Board 3-4", "../..", "ply_18.5"]
    folders = safe_names(keys)
    assert folders == {
        "../..": "unnamed",
        "Board 3-4": "Board-3-4",
        "board 3-4": "board-3-4-2",
        "board 3/4": "board-3-4-3",
        "ply_18.5": "ply_18.5",
    }
    assert safe_names(reversed(keys)) == folders


def test_offcuts_are_listed_with_their_place_and_how_often_they_fall() -> None:
    nest = sample_nest()
    found = rows(offcuts_csv([nest], Reusable(longer=gap_ticks(600), shorter=gap_ticks(200))))
    assert found
    assert {row["sheet"] for row in found} == {"1"}
    assert {row["quantity"] for row in found} == {"3"}
    assert [row["offcut"] for row in found] == [str(n) for n in range(1, len(found) + 1)]
    assert {row["stock"] for row in found} == {STOCK.key}
    for row in found:
        length, width = float(row["length_mm"]), float(row["width_mm"])
        assert max(length, width) >= 600
        assert min(length, width) >= 200
        assert 10 <= float(row["x_mm"]) <= STOCK.length_mm - 10 - length
        assert 10 <= float(row["y_mm"]) <= STOCK.width_mm - 10 - width
        assert float(row["area_m2"]) == pytest.approx(length * width / 1e6, abs=1e-4)
    assert rows(offcuts_csv([nest], Reusable(longer=gap_ticks(2500), shorter=1))) == []


def test_each_offcut_has_a_whole_row() -> None:
    """By hand, on a sheet of 1234.5 x 620.75 mm with 10 mm of trim and 8 mm between parts: one part
    of 500 x 600.75 mm as broad as the sheet.

    Cut at the left edge it leaves 706.5 x 600.75 mm = 0.42443 m2 from x = 518. Cut from x = 340 on
    it leaves 376.5 x 600.75 mm = 0.226182 m2 from x = 848, and 322 x 600.75 mm = 0.193441 m2 left
    of it. An area is told to the square centimetre.
    """
    piece = Piece(
        id="P-01",
        length=piece_ticks(500),
        width=piece_ticks(600.75),
        quantity=3,
        turn=Turn.FIXED,
    )
    stock = Stock(
        id="odd", length=sheet_ticks(1234.5), width=sheet_ticks(620.75), price=1.0, on_hand=None
    )
    rules = SheetRules(trim=Trim.even(gap_ticks(10)), gap=gap_ticks(8))
    instance = Instance(pieces=(piece,), stocks=(stock,), rules=rules)
    layouts = (
        Layout(
            stock="odd",
            placements=(Placement(piece="P-01", x=gap_ticks(x), y=gap_ticks(10), turned=False),),
            runs=runs,
        )
        for x, runs in ((10, 2), (340, 1))
    )
    nest = replace(sample_nest(), instance=instance, solution=answer_of(instance, *layouts))
    text = offcuts_csv([nest])
    assert text.splitlines()[0].split(",") == [
        *("material", "thickness_mm", "face_up", "stock", "sheet", "offcut", "quantity"),
        *("length_mm", "width_mm", "x_mm", "y_mm", "area_m2", "rack_label"),
    ]
    assert [list(row.values()) for row in rows(text)] == [
        [
            *("laminated-18", "18.000", "either", "odd", sheet, offcut, runs),
            *(length, "600.750", x, "10.000", area, f"laminated-18-{label}"),
        ]
        for sheet, offcut, runs, length, x, area, label in (
            ("1", "1", "2", "706.500", "518.000", "0.4244", "1-A"),
            ("2", "1", "1", "376.500", "848.000", "0.2262", "2-A"),
            ("2", "2", "1", "322.000", "10.000", "0.1934", "2-B"),
        )
    ]


def test_findings_are_listed_with_what_they_rest_on() -> None:
    plain = at_most(
        code="sag", where="deck", what="sag", measured=1.0, fail_above=2.0, advice="thicker"
    )
    basis = Basis("beam", ("level", "even"), 2.5)
    based = at_least(
        code="pull",
        where="rail",
        what="hold",
        measured=1.0,
        warn_below=3.0,
        fail_below=2.0,
        advice="more",
        basis=basis,
    )
    first, second = rows(findings_csv(told_findings((plain, based), Units.MM)))
    assert (first["result"], first["measured"], first["limit"]) == ("ok", "1.000", "2.000")
    assert (first["method"], first["factor_of_safety"]) == ("", "")
    assert (second["result"], second["advice"]) == ("fail", "more")
    assert second["assumptions"] == "level; even"
    assert (second["method"], second["factor_of_safety"]) == ("beam", "2.5")


def test_what_is_not_checked_stands_after_all_findings_without_figures() -> None:
    found = at_most(
        code="sag", where="deck", what="sag", measured=3.0, fail_above=2.0, advice="thicker"
    )
    lines = [
        NotChecked(what="fire", where="twin, both hands: bed", why='wood burns, and "how" is open'),
        NotChecked(what="=floods", where="twin, right hand: bench", why="it is dry"),
    ]
    first, second, third = rows(findings_csv(told_findings([found], Units.MM), lines))
    assert first["result"] == "fail"
    assert {column: text for column, text in second.items() if text} == {
        "result": "not checked",
        "where": "twin, both hands: bed",
        "finding": 'fire: wood burns, and "how" is open',
    }
    assert third["finding"] == "'=floods: it is dry", "a text, no formula"
    assert list(second) == list(first)
