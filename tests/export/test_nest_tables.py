"""The files of a nest without a job that programs read: names of columns, cells, and their form."""

import csv
import io
import json
from types import SimpleNamespace
from typing import Any

from export.nest_json import nest_json
from export.tables.placement_table import placements_csv
from nesting.answer.nest_answer import Dealt, SheetPlan
from nesting.answer.solution import Layout, Placement
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from parametric.stock.lengths import Units
from tests.nesting.random_nests import answer_of

PIECE = Piece(
    id="kind 1", length=piece_ticks(400), width=piece_ticks(300.5), quantity=4, turn=Turn.QUARTER
)
SHEET = Stock(id="full", length=sheet_ticks(1000), width=sheet_ticks(500), price=20.0, on_hand=None)
INSTANCE = Instance(pieces=(PIECE,), stocks=(SHEET,), rules=SheetRules(trim=Trim.even(0), gap=0))
FLAT = Placement(piece="kind 1", x=gap_ticks(10.25), y=0, turned=False)
TURNED = Placement(piece="kind 1", x=gap_ticks(500), y=gap_ticks(20), turned=True)


def plan() -> SheetPlan:
    return SheetPlan(
        number=3,
        instance=INSTANCE,
        layout=Layout(stock="full", placements=(FLAT, TURNED), runs=2),
        order=(TURNED, FLAT),
        dealt=(
            (
                Dealt(1, 1, "side", "room 1", 2, ("red", "a")),
                Dealt(2, 2, "side", "room 2", 3, ("blue", "b")),
            ),
            (Dealt(1, 2, "back", "", 4, ("", "c")),),
        ),
        offcuts=(),
        at_risk=(FLAT,),
        sequence=None,
    )


def test_each_placement_has_a_whole_row_for_each_that_asked_for_it() -> None:
    """Rule: sides as they lie on the sheet, the size as the list has it; a further column that is
    called as one of ours is told apart. 400 / 25.4 = 15.748 in and 300.5 / 25.4 = 11.831 in.
    """
    header, *rows = csv.reader(io.StringIO(placements_csv([plan()], Units.INCH, ("hue", "size"))))
    assert header == [
        *("layout", "first_run", "last_run", "stock", "order", "piece", "group", "x_mm", "y_mm"),
        *("along_x_mm", "along_y_mm", "turned", "at_risk", "size", "hue", "list_size"),
    ]
    size = '15.748" x 11.831"'
    turned = ["500.000", "20.000", "300.500", "400.000", "yes", "no", size]
    flat = ["10.250", "0.000", "400.000", "300.500", "no", "yes", size]
    assert rows == [
        ["3", "1", "1", "full", "1", "side", "room 1", *turned, "red", "a"],
        ["3", "2", "2", "full", "1", "side", "room 2", *turned, "blue", "b"],
        ["3", "1", "2", "full", "2", "back", "", *flat, "", "c"],
    ]


def test_the_json_is_indented_by_one_and_ends_with_a_newline() -> None:
    """As it is published: a person can read it, and two of them can be compared line by line."""
    answer: Any = SimpleNamespace(
        instance=INSTANCE,
        solution=answer_of(INSTANCE, lower_bound=1, price=50.0, price_bound=40.0),
        sheets=(),
        prices="as given",
        effort="quick",
        seconds=None,
        rounded_mm=0.0,
    )
    text = nest_json(answer)
    lines = text.split("\n")
    assert lines[0] == "{"
    assert lines[1].startswith(' "format": "casewright nest ')
    assert lines[-2:] == ["}", ""]
    found = json.loads(text)
    assert list(found)[:9] == [
        *("format", "sheets", "bound", "bound_kind", "price", "price_bound", "price_bound_kind"),
        *("prices", "gap"),
    ]
    assert (found["price"], found["price_bound"], found["gap"]) == (50.0, 40.0, 0.2)
