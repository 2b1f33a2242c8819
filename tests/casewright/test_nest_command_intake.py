"""The files and options of the nest command: what is read, and where faults are told."""

from pathlib import Path

import pytest

from casewright.commands.choices import EffortChoice, StagesChoice
from casewright.commands.nest_command.options import OptionTexts, read_options
from casewright.commands.nest_command.read_stock import Prices
from casewright.errors import DoesNotFit, InputErrors, OptionErrors
from nesting.after.offcuts import Reusable
from nesting.question.instance import Defect, Piece, Stock, StockKind, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import EdgeToEdge, Rim, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from parametric.stock.lengths import Units
from tests.casewright.nest_lists import (
    PIECES,
    PIECES_INCH,
    STOCK,
    STOCK_INCH,
    asked,
    nested,
    quick,
    written,
)

MM, INCH = 1600, 40640  # ticks: an inch is 25.4 mm


def test_millimetres(tmp_path: Path) -> None:
    question = asked(written(tmp_path, PIECES, STOCK), quick())
    pieces, stocks = question.instance.pieces, question.instance.stocks
    assert pieces[1] == Piece(
        id="side", length=800 * MM, width=330 * MM, quantity=12, turn=Turn.FIXED, group="room 1",
        priority=5,
    )  # fmt: skip
    assert [piece.turn for piece in pieces][2:] == [Turn.QUARTER, Turn.QUARTER]
    assert stocks == (
        Stock(id="full", length=2440 * MM, width=1220 * MM, price=49.9, on_hand=None),
        Stock(
            id="rest",
            length=1500 * MM,
            width=900 * MM,
            price=0.0,
            on_hand=1,
            kind=StockKind.REMNANT,
        ),
    )
    assert question.prices is Prices.GIVEN
    assert question.piece_places["cleat"].line == 5
    assert [(name, place.line) for name, place in question.stock_places.items()] == [
        ("full", 2),
        ("rest", 3),
    ]


def test_inches_with_fractions_and_sheets_without_prices(tmp_path: Path) -> None:
    """An inch is 25.4 mm by the agreement of 1959: 24 1/2 in are 622.3 mm."""
    question = asked(written(tmp_path, PIECES_INCH, STOCK_INCH), quick(Units.INCH))
    door, shelf = question.instance.pieces
    assert (door.length, door.width) == (24 * INCH + INCH // 2, 15 * INCH + 3 * INCH // 4)
    assert (shelf.id, shelf.length, shelf.width) == (
        "shelf, deep",
        23 * INCH + INCH // 2,
        11 * INCH + INCH // 4,
    )
    full, half = question.instance.stocks
    assert (full.on_hand, half.on_hand) == (9, None)
    assert question.prices is Prices.AREA
    assert full.price == pytest.approx(2.4384 * 1.2192)  # square metres of 96 x 48 in
    assert full.price == pytest.approx(2 * half.price)


def test_a_mark_at_the_start_semicolons_blank_lines_and_any_order(tmp_path: Path) -> None:
    """As spreadsheets write it where the comma is the decimal mark."""
    pieces = "\ufeffWidth;turn;piece;quantity; LENGTH\n\n300,5;YES;a;2;400\n ; ; ;;\n300;no;b;1;5\n"
    stock = "stock;price;length;width;quantity\r\ns;12,50;1000;500;\r\n"
    question = asked(written(tmp_path, pieces, stock), quick())
    a, b = question.instance.pieces
    assert (a.id, a.length, a.width, a.turn) == ("a", 400 * 1600, 480_800, Turn.QUARTER)
    assert (b.length, question.piece_places["b"].line) == (5 * 1600, 5)
    assert question.instance.stocks[0].price == 12.5


def test_stock_of_which_none_is_left_may_stay_on_the_list(tmp_path: Path) -> None:
    """A shop takes the same list to each job: 0 sheets of one are none, and no limit is blank."""
    stock = STOCK + "gone,2440,1220,0,60,sheet\nused up,800,600,0,,remnant\n"
    stocks = asked(written(tmp_path, PIECES, stock), quick()).instance.stocks
    assert [(each.id, each.on_hand) for each in stocks] == [
        ("full", None),
        ("rest", 1),
        ("gone", 0),
        ("used up", 0),
    ]


def test_a_name_keeps_its_comma_where_commas_mark_decimals(tmp_path: Path) -> None:
    """Only numbers are read with a point instead: a name is what the shop wrote on the board."""
    pieces = "piece;length;width;quantity;turn;group\n7,5;400;300,5;2;no;1,5\n"
    stock = "stock;length;width;quantity;price\n12,5;1000,5;500;;9,5\n"
    defects = "stock;x;y;length;width\n12,5;10,5;20;30;40\n"
    question = asked(written(tmp_path, pieces, stock, defects), quick())
    (piece,), (sheet,) = question.instance.pieces, question.instance.stocks
    assert (piece.id, piece.group, piece.width) == ("7,5", "1,5", piece_ticks(300.5))
    assert (sheet.id, sheet.length, sheet.price) == ("12,5", sheet_ticks(1000.5), 9.5)
    (defect,) = sheet.defects
    assert defect.x == sheet_ticks(10.5)


@pytest.mark.parametrize(
    ("typed", "read_mm"),
    [("0,125", 0.125), ("1250", 1250.0), ("1,2500", 1.25), ("1250,5", 1250.5), ("12,75", 12.75)],
)
def test_marks_that_part_decimals_only_are_read(tmp_path: Path, typed: str, read_mm: float) -> None:
    pieces = SEMICOLONS.replace("330", typed, 1)
    question = asked(written(tmp_path, pieces, STOCK), quick())
    assert question.instance.pieces[0].width == round(read_mm * 1600)


def test_a_point_in_a_file_with_commas_is_a_decimal_point(tmp_path: Path) -> None:
    pieces = "piece,length,width,quantity,turn\na,12.700,11.250,4,no\n"
    question = asked(written(tmp_path, pieces, STOCK), quick())
    assert question.instance.pieces[0].length == 20_320


def test_what_is_on_neither_grid_is_told(tmp_path: Path) -> None:
    """By hand: 15 11/12 in are 404.28333... mm, 646853 1/3 ticks: up by two thirds of one."""
    pieces = "piece,length,width,quantity,turn\na,15 11/12 in,300,4,no\n"
    question = asked(written(tmp_path, pieces, STOCK), quick())
    assert question.instance.pieces[0].length == 646_854
    assert question.rounded_mm == pytest.approx(2 / 3 / 1600)
    exact = asked(written(tmp_path, pieces.replace("11/12", "59/64"), STOCK), quick(gap="1/64 in"))
    assert exact.rounded_mm == 0.0


def test_the_smallest_piece_that_is_allowed_is_read(tmp_path: Path) -> None:
    """Rule: what a fault says is allowed is taken; a piece may have a side of 0.1 mm, no less."""
    pieces = PIECES.replace("1200,600", "1200,0.1")
    assert asked(written(tmp_path, pieces, STOCK), quick()).instance.pieces[0].width == MM // 10
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, pieces.replace("0.1", "0.09"), STOCK), quick())
    (fault,) = told.value.faults
    assert (fault.line, fault.key_path) == (2, "width")
    assert fault.allowed == "a length from 0.1 mm to 100000 mm"


def test_defects_grow_to_whole_ticks(tmp_path: Path) -> None:
    defects = "stock,x,y,length,width\nfull,100.004,0,50.004,20\nfull,2400,1200,40,20\n"
    question = asked(written(tmp_path, PIECES, STOCK, defects), quick())
    assert question.instance.stocks[0].defects == (
        Defect(x=160_006, y=0, length=80_007, width=20 * 1600),
        Defect(x=2400 * 1600, y=1200 * 1600, length=40 * 1600, width=20 * 1600),
    )
    assert question.instance.stocks[1].defects == ()


SEMICOLONS = "piece;length;width;quantity;turn\na;1200;330;4;no\nb;600;330;9;no\n"
FAULTS = [
    ("pieces", SEMICOLONS.replace("1200", "1.200"), 2, "length", "1.200 or 1200", "1200 without"),
    ("pieces", SEMICOLONS.replace("1200", "1,250"), 2, "length", "1.250 or 1250", "1.2500"),
    ("pieces", SEMICOLONS.replace("330", "12.700 mm", 1), 2, "width", "12.700 or 12700", "12.7000"),
    ("pieces", SEMICOLONS.replace(";4;", ";1.000;"), 2, "quantity", "1.000 or 1000", "1000"),
    ("pieces", "", 1, "", "no header", "the columns piece, length, width, quantity, turn"),
    ("pieces", "piece,length,width,quantity,turn\n", 1, "", "no pieces", "a row for each piece"),
    ("pieces", "piece,length,width,quantity\na,1,1,1\n", 1, "turn", "no such column", "turn"),
    ("pieces", PIECES.replace("1200", "12OO"), 2, "length", "'12OO'", "13 1/4 in"),
    ("pieces", PIECES.replace("1200", "1/2"), 2, "length", "'1/2'", "1/2 in"),
    ("pieces", PIECES.replace("1200", "-5"), 2, "length", "'-5'", "not negative"),
    ("pieces", PIECES.replace("1200", "0"), 2, "length", "'0'", "from 0.1 mm"),
    ("pieces", PIECES.replace(",330,", ",,"), 3, "width", "''", "a length such as"),
    ("pieces", PIECES.replace(",12,", ",1.5,"), 3, "quantity", "'1.5'", "a whole number"),
    ("pieces", PIECES.replace(",12,", ",,"), 3, "quantity", "nothing", "a whole number"),
    ("pieces", PIECES.replace(",5,yes", ",5,maybe"), 4, "turn", "'maybe'", "one of lengthwise, no"),
    ("pieces", PIECES.replace("cleat", "deck").replace("yes,,", "yes,room 1,"), 5, "piece",
     "a second time, and cut otherwise (first in line 2)", "one size for each name"),
    ("pieces", PIECES.replace("cleat", "50%"), 5, "piece", "'50%'", "without % \\ ^"),
    ("pieces", PIECES.replace("cleat", ""), 5, "piece", "nothing", "a name"),
    ("pieces", PIECES.replace("no,room 1,5", "no,room 1,high"), 3, "priority", "'high'", "blank"),
    ("pieces", PIECES + "long,1\n", 6, "", "2 cells", "7, as in the header"),
    ("pieces", PIECES.replace("side", '"side'), 3, "", "unexpected end of data", "quotes in pairs"),
    ("stock", STOCK.replace("2440", "9 m"), 2, "length", "'9 m'", "a length such as"),
    ("stock", STOCK.replace("49.90", "49.90 EUR"), 2, "price", "'49.90 EUR'", "a number"),
    ("stock", STOCK + "other,1000,1000,,,\n", 4, "price", "nothing", "or in none"),
    ("stock", STOCK.replace("900,1,", "900,,"), 3, "quantity", "nothing", "a whole number from 0"),
    ("stock", STOCK.replace("remnant", "scrap"), 3, "kind", "'scrap'", "one of remnant, sheet"),
    ("stock", STOCK.replace("rest", "full"), 3, "stock", "a second time", "each stock once"),
    ("defects", "stock,x,y,length,width\nful,0,0,1,1\n", 2, "stock", "'ful'", "nearest: full"),
    ("defects", "stock,x,y,length,width\nrest,1490,0,20,10\n", 2, "length", "1510 mm", "1500 mm"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "text", "line", "column", "found", "allowed"), FAULTS)
def test_a_fault_is_told_where_it_stands(
    tmp_path: Path, file: str, text: str, line: int, column: str, found: str, allowed: str
) -> None:
    texts = {"pieces": PIECES, "stock": STOCK, "defects": None, file: text}
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, **texts), quick())
    (fault,) = told.value.faults
    assert fault.file == (tmp_path / f"{file}.csv").as_posix()
    assert (fault.line, fault.key_path) == (line, column)
    assert found in fault.found
    assert allowed in fault.allowed


def test_all_faults_of_all_files_at_once(tmp_path: Path) -> None:
    pieces = PIECES.replace("1200", "x").replace("yes", "ja")
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, pieces, STOCK.replace("2440", "")), quick())
    assert [(fault.line, fault.key_path) for fault in told.value.faults] == [
        (2, "length"), (4, "turn"), (5, "turn"), (2, "length"),
    ]  # fmt: skip


def test_what_is_no_text(tmp_path: Path) -> None:
    files = written(tmp_path, PIECES, STOCK)
    files.pieces.write_bytes(b"piece,length\n\xff\xfe")
    files.stock[0].unlink()
    with pytest.raises(InputErrors) as told:
        asked(files, quick())
    assert [fault.found for fault in told.value.faults] == [
        "the byte 0xff, which is not UTF-8",
        "no such file",
    ]


def test_a_sheet_lost_in_its_trim(tmp_path: Path) -> None:
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, PIECES, STOCK), quick(trim="700,800,0,0"))
    (fault,) = told.value.faults
    assert (fault.line, fault.key_path) == (3, "length")
    assert "1500 mm, of which --trim takes 1500 mm" in fault.found


@pytest.mark.parametrize(
    ("trim", "column", "found"),
    [
        ("700,800,0,0", "length", "1500 mm, of which --trim takes 1500 mm"),
        ("0,0,500,400", "width", "900 mm, of which --trim takes 900 mm"),
        ("0,0,500,400.5", "width", "900 mm, of which --trim takes 900.5 mm"),
    ],
)
def test_a_side_lost_in_its_trim_is_told_by_its_column(
    tmp_path: Path, trim: str, column: str, found: str
) -> None:
    """By hand: of the remnant, 1500 x 900 mm, nothing is left; of the sheet there is."""
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, PIECES, STOCK), quick(trim=trim))
    (fault,) = told.value.faults
    assert (fault.line, fault.key_path, fault.found) == (3, column, found)
    assert fault.allowed == "more than the trim"


def test_a_trim_that_leaves_anything_is_allowed(tmp_path: Path) -> None:
    trim = "700,799.5,500,399.5"
    rules = asked(written(tmp_path, PIECES, STOCK), quick(trim=trim)).instance.rules
    assert rules.trim.along == gap_ticks(1499.5)
    assert rules.trim.across == gap_ticks(899.5)


def test_stock_of_which_nothing_is_left_is_read(tmp_path: Path) -> None:
    """Rule: from none to a million on hand; a list of stock names what has run out, too."""
    stock = STOCK.replace("1220,,", "1220,0,").replace("900,1,", "900,0,")
    full, rest = asked(written(tmp_path, PIECES, stock), quick()).instance.stocks
    assert (full.on_hand, rest.on_hand) == (0, 0)
    most = STOCK.replace("1220,,", "1220,1000000,")
    full, _ = asked(written(tmp_path, PIECES, most), quick()).instance.stocks
    assert full.on_hand == 1_000_000
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, PIECES, most.replace("1000000", "1000001")), quick())
    (fault,) = told.value.faults
    assert (fault.line, fault.key_path, fault.found) == (2, "quantity", "'1000001'")
    assert fault.allowed == ("a whole number from 0 to 1000000, or blank for as many as are needed")


def test_a_sheet_too_narrow_for_its_trim(tmp_path: Path) -> None:
    """By hand: 450 + 450 are all of the rest's 900 and less than the full sheet's 1220; 2440 and
    1500 are as long as they were.
    """
    with pytest.raises(InputErrors) as told:
        asked(written(tmp_path, PIECES, STOCK), quick(trim="0,0,450,450"))
    (fault,) = told.value.faults
    assert (fault.line, fault.key_path) == (3, "width")
    assert fault.found == "900 mm, of which --trim takes 900 mm"
    assert fault.allowed == "more than the trim"
    asked(written(tmp_path, PIECES, STOCK), quick(trim="0,0,450,449.9"))


def test_a_hundred_thousand_rows(tmp_path: Path) -> None:
    rows = "".join(f"p{n},{100 + n % 900}.5,{50 + n % 300},1,yes\n" for n in range(100_000))
    files = written(tmp_path, "piece,length,width,quantity,turn\n" + rows, STOCK)
    question = asked(files, quick())
    assert sum(len(kind.rows) for kind in question.types) == 100_000
    assert sum(kind.piece.quantity for kind in question.types) == 100_000
    assert len(question.instance.pieces) == 900
    assert max(row.line for kind in question.types for row in kind.rows) == 100_001


def test_options_become_rules() -> None:
    options = read_options(
        OptionTexts(
            units=Units.INCH,
            gap="1/8",
            trim="1/2,10 mm,0,0.25",
            seed=7,
            effort=EffortChoice.THOROUGH,
            edge_to_edge=True,
            stages=StagesChoice.ANY,
            fewer_layouts=1.5,
            reusable="8 x 24",
            book_height="2 1/2",
            thickness="3/4",
        ),
        cores=3,
    )
    assert options.rules.gap == INCH // 8
    assert options.rules.trim == Trim(left=INCH // 2, right=10 * MM, bottom=0, top=INCH // 4)
    assert options.rounded_mm == 0.0
    assert options.rules.saw == EdgeToEdge(stages=None)
    assert options.reusable == Reusable(longer=24 * INCH, shorter=8 * INCH)
    assert options.effort is Effort.THOROUGH
    assert (options.seed, options.workers) == (7, 3)
    assert options.preference.extra_price == 0.015
    assert options.book is not None
    assert options.book.largest_mm == 63.5
    plain = read_options(OptionTexts(units=Units.MM, rim="30", rim_side="250"), cores=1)
    assert plain.rules.rim == Rim(longest_side=250 * MM, distance=30 * MM)
    assert plain.rules.saw is None


@pytest.mark.parametrize(
    ("given", "option", "found", "allowed"),
    [
        ({"gap": "ten"}, "--gap", "'ten'", "a length such as"),
        ({"trim": "1,2,3"}, "--trim", "3 lengths", "left,right,bottom,top"),
        ({"rim": "30"}, "--rim", "without --rim-side", "together"),
        ({"stages": StagesChoice.TWO}, "--stages", "without --edge-to-edge", "together"),
        ({"reusable": "600"}, "--reusable", "'600'", "LENGTHxWIDTH"),
        ({"effort": EffortChoice.QUICK, "seconds": 1.0}, "--seconds", "--effort", "one of the two"),
        ({"seconds": 0.0}, "--seconds", "0", "from 0.1"),
        ({"seed": -1}, "--seed", "-1", "from 0"),
        ({"workers": 0}, "--workers", "0", "from 1"),
        ({"fewer_layouts": -1.0}, "--fewer-layouts", "-1", "from 0 to 100"),
        ({"edge_to_edge": True, "book_height": "60"}, "--book-height", "without --thick", "toge"),
        ({"book_height": "60", "thickness": "18"}, "--book-height", "without --edge", "together"),
        (
            {"edge_to_edge": True, "book_height": "10", "thickness": "18"},
            "--book-height", "less than one sheet", "--thickness",
        ),
        (
            {"edge_to_edge": True, "rim": "10", "rim_side": "100"},
            "--rim", "with --edge-to-edge", "--free",
        ),
    ],
)  # fmt: skip
def test_options_that_cannot_be_used(
    given: dict[str, object], option: str, found: str, allowed: str
) -> None:
    with pytest.raises(OptionErrors) as told:
        read_options(OptionTexts(units=Units.MM, **given), cores=1)  # type: ignore[arg-type]
    (fault,) = told.value.faults
    assert fault.option == option
    assert found in fault.found
    assert allowed in fault.allowed


# Option, the least and the most that is taken, and what lies beyond each: common practice, no
# source, but for the seed, which is kept in 31 bits.
LIMITS = [
    ("gap", "0", "1000", None, "1000.1"),
    ("other_gap", "0", "1000", None, "1000.1"),
    ("trim", "0", "10000", None, "10000.1"),
    ("rim", "0.1", "10000", "0.09", "10000.1"),
    ("rim_side", "1", "100000", "0.9", "100000.1"),
    ("reusable", "1x1", "100000x100000", "1x0.9", "1x100000.1"),
    ("book_height", "18", "1000", "0.09", "1000.1"),
    ("thickness", "0.1", "60", "0.09", "1000.1"),
    ("seed", 0, 2**31 - 1, -1, 2**31),
    ("seconds", 0.1, 86_400.0, 0.09, 86_400.1),
    ("workers", 1, 64, 0, 65),
    ("fewer_layouts", 0.0, 100.0, -0.1, 100.1),
]
BESIDE = {
    "rim": {"rim_side": "100"},
    "rim_side": {"rim": "10"},
    "book_height": {"thickness": "18", "edge_to_edge": True},
    "thickness": {"book_height": "60", "edge_to_edge": True},
}


@pytest.mark.parametrize(("name", "least", "most", "below", "above"), LIMITS)
def test_each_option_is_taken_up_to_its_limits(
    name: str, least: object, most: object, below: object, above: object
) -> None:
    def read(value: object) -> None:
        given = {**BESIDE.get(name, {}), name: value}
        read_options(OptionTexts(units=Units.MM, **given), cores=1)  # type: ignore[arg-type]

    read(least)
    read(most)
    for beyond in (below, above):
        if beyond is not None:
            with pytest.raises(OptionErrors) as told:
                read(beyond)
            assert told.value.faults[0].option == f"--{name.replace('_', '-')}"


def test_a_piece_too_big_is_told_by_its_line(tmp_path: Path) -> None:
    files = written(tmp_path, PIECES.replace("1200,600", "1200,1230"), STOCK)
    with pytest.raises(DoesNotFit) as told:
        nested(files, quick())
    assert str(told.value).startswith(f"{files.pieces.as_posix()}:2: piece deck of 1200.00")


def test_too_little_stock_is_told_by_lines(tmp_path: Path) -> None:
    """Each deck takes a sheet of its own here: two wide, none beside another."""
    pieces = "piece,length,width,quantity,turn\nx,900,900,3,no\n"
    stock = "stock,length,width,quantity,price\ns,1000,1000,1,5\n"
    files = written(tmp_path, pieces, stock)
    with pytest.raises(DoesNotFit) as told:
        nested(files, quick())
    text = str(told.value)
    assert f"{files.pieces.as_posix()}:2: piece x: 2 cannot be placed" in text
    assert f"{files.stock[0].as_posix()}:2: stock s: 1 on hand, 2 more would do" in text


def test_a_contradiction_of_file_and_option_is_told_by_the_option(tmp_path: Path) -> None:
    """No small piece is left a place on sheets of at most 1220 mm across."""
    with pytest.raises(OptionErrors) as told:
        nested(written(tmp_path, PIECES, STOCK), quick(rim="700", rim_side="400"))
    assert [fault.option for fault in told.value.faults] == ["--rim"]


def test_a_sheet_that_is_all_defect_is_told_by_its_line(tmp_path: Path) -> None:
    defects = "stock,x,y,length,width\nrest,0,0,1500,900\n"
    with pytest.raises(InputErrors) as told:
        nested(written(tmp_path, PIECES, STOCK, defects), quick())
    assert [fault.line for fault in told.value.faults] == [3]
