"""Cuts of a panel saw as a person reads them."""

import csv
import io

from export.saw_text import saw_lines
from export.tables.saw_book_table import saw_books_csv
from export.tables.saw_cut_table import saw_cuts_csv
from nesting.after.offcuts import Reusable
from nesting.answer.solution import Layout, Placement
from nesting.edge_to_edge.books import saw_workload
from nesting.edge_to_edge.cut_sequence import cut_sequence
from nesting.edge_to_edge.cuts import CutSequence
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from nesting.question.ticks import gap_ticks
from parametric.stock.lengths import Units


def _sequence() -> CutSequence:
    """Return two strips on a sheet of 100 x 60 mm, a blade of 4 mm, 6 mm lost below."""
    mm = gap_ticks(1)
    instance = Instance(
        pieces=(
            Piece(id="A", length=40 * mm, width=20 * mm, quantity=2, turn=Turn.FIXED),
            Piece(id="B", length=30 * mm, width=16 * mm, quantity=1, turn=Turn.FIXED),
        ),
        stocks=(Stock(id="S", length=100 * mm, width=60 * mm, price=1.0, on_hand=None),),
        rules=SheetRules(
            trim=Trim(left=0, right=0, bottom=6 * mm, top=0), gap=4 * mm, saw=EdgeToEdge(stages=2)
        ),
    )
    placements = tuple(
        Placement(piece=piece, x=x * mm, y=y * mm, turned=False)
        for piece, x, y in (("A", 0, 6), ("B", 44, 6), ("A", 24, 30))
    )
    layout = Layout(stock="S", placements=placements, runs=7)
    return cut_sequence(instance, layout, Reusable(longer=20 * mm, shorter=20 * mm))


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_each_cut_has_a_line_with_what_it_makes() -> None:
    """Worked out by hand."""
    rows = _rows(saw_cuts_csv([_sequence()], Units.MM))
    seen = [
        (r["stage"], r["kind"], r["distance_mm"], r["taken_off"], r["rest"], r["frees"])
        for r in rows
    ]
    assert seen == [
        ("0", "trim", "2.000", "waste", "board 2", ""),
        ("1", "rip", "20.000", "board 3", "board 4", ""),
        ("1", "rip", "20.000", "board 5", "waste", ""),
        ("2", "crosscut", "20.000", "offcut 7", "board 8", ""),
        ("2", "crosscut", "40.000", "piece A", "board 10", "A"),
        ("2", "crosscut", "40.000", "piece A", "offcut 12", "A"),
        ("2", "crosscut", "30.000", "board 13", "offcut 14", ""),
        ("3", "cut to size", "16.000", "piece B", "nothing", "B"),
    ]
    assert rows[0] == {
        "layout": "1",
        "stock": "S",
        "cut": "1",
        "fence_setting": "1",
        "stage": "0",
        "kind": "trim",
        "line": "along the sheet's length",
        "board": "sheet",
        "board_length_mm": "100.000",
        "board_width_mm": "60.000",
        "distance_mm": "2.000",
        "blade_mm": "4.000",
        "taken_off": "waste",
        "rest": "board 2",
        "frees": "",
        "board_size": "100 mm x 60 mm",
        "distance": "2 mm",
    }
    assert [row["fence_setting"] for row in rows] == ["1", "2", "2", "3", "4", "4", "5", "6"]


def test_layouts_count_from_one_and_lengths_follow_the_units() -> None:
    rows = _rows(saw_cuts_csv([_sequence(), _sequence()], Units.INCH))
    assert [row["layout"] for row in rows] == ["1"] * 8 + ["2"] * 8
    assert rows[4]["distance"] == '1.575"'  # 40 / 25.4, no whole number of 1/64


def test_the_block_beside_the_map() -> None:
    sequence = _sequence()
    (books,) = saw_workload([(sequence, 7)], thickness_mm=18, largest_book_mm=60).layouts
    assert saw_lines(sequence, Units.MM, books) == (
        "Saw: 2 stages, 8 cuts, 6 fence settings, blade 4 mm",
        "3 sheets at once: 3 loads, the last of 1",
        "Trim, along the sheet: 2 mm",
        "Stage 1 (rip), along the sheet: 20 mm 2 times",
        "Stage 2 (crosscut), across the sheet: 20 mm; 40 mm 2 times (A, A); 30 mm",
        "To size, along the sheet: 16 mm (B)",
    )
    assert len(saw_lines(sequence, Units.MM)) == 5


def test_books_have_a_line_for_each_layout() -> None:
    workload = saw_workload(
        [(_sequence(), 7), (_sequence(), 1)], thickness_mm=18, largest_book_mm=60
    )
    first, second = _rows(saw_books_csv(workload))
    assert first == {
        "layout": "1",
        "sheets": "7",
        "sheets_at_once": "3",
        "loads": "3",
        "sheets_in_last_load": "1",
        "cuts_per_load": "8",
        "fence_settings_per_load": "6",
        "cuts": "24",
        "fence_settings": "18",
        "cuts_saved": "32",
    }
    assert (second["layout"], second["loads"], second["cuts_saved"]) == ("2", "1", "0")
