"""The tables that close a build: every cell worked out by hand, and each line that may stand there.

Two materials. Oak: three parts of 400 x 500 mm on two sheets of 1000 x 500 mm at 20.00, two on the
first and one on the second, where 30.00 is the least price that is proven. Ply: five parts of a
whole sheet of 1000 x 1000 mm at 50.00, which nothing can better.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.job import Job
from casewright.pipeline import Outcome
from casewright.stages.nest.nest_stage import Nest, NestGroup
from casewright.stages.openings.opening_sheets import by_material
from casewright.terminal.show import (
    Detail,
    bar_table,
    gained,
    nest_table,
    show_outcome,
    whole_yield,
)
from casewright.terminal.terminal_text import TextTable
from export.manifest import PartCount
from nesting.answer.solution import Placement, StopReason
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import piece_ticks, sheet_ticks
from parametric.findings.not_checked import NotChecked
from parametric.lists.face_up import FaceUp
from parametric.lists.left_out import LeftOut, StockForm
from parametric.rooms.opening_sizes import MaterialSheets
from parametric.stock.lengths import Units
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.table_cells import cells_of
from tests.casewright.test_bar_stage import nests as bar_nests
from tests.casewright.test_bar_stage import part as bar_part
from tests.export.sample_parts import LAMINATED, flat_panel, part
from tests.nesting.random_nests import answer_of, one_sheet

Printed = Callable[[TextTable], list[list[str]]]


def nest(description: str, side: tuple[float, float], sheet: tuple[float, float], price: float):
    """The question of one kind of part and one kind of sheet, and the group that poses it."""
    made = replace(
        part("P-01", flat_panel(*side)), quantity=1, material=replace(LAMINATED, key=description)
    )
    length, width = map(piece_ticks, side)
    piece = Piece(id="P-01", length=length, width=width, quantity=1, turn=Turn.FIXED)
    length, width = map(sheet_ticks, sheet)
    stock = Stock(id="sheet", length=length, width=width, price=price, on_hand=None)
    rules = SheetRules(trim=Trim.even(0), gap=0)
    group = NestGroup(
        material=replace(made.material, description=description),
        face_up=FaceUp.EITHER,
        parts=(replace(made, quantity=2), replace(made, number="P-02", quantity=1)),
    )
    return group, Instance(pieces=(piece,), stocks=(stock,), rules=rules)


def placed(x_mm: float) -> Placement:
    return Placement(piece="P-01", x=piece_ticks(x_mm), y=0, turned=False)


def oak() -> Nest:
    group, instance = nest("oak, 18 mm", (400, 500), (1000, 500), 20.0)
    two, one = one_sheet("sheet", placed(0), placed(400)), one_sheet("sheet", placed(0))
    answer = answer_of(instance, two, one, lower_bound=1, price_bound=30.0)
    return Nest(group=group, instance=instance, solution=answer)


def ply() -> Nest:
    group, instance = nest("ply, 9 mm", (1000, 1000), (1000, 1000), 50.0)
    whole = one_sheet("sheet", placed(0), runs=5)
    answer = answer_of(instance, whole, lower_bound=5, price_bound=250.0)
    (first, second) = group.parts
    group = replace(group, parts=(replace(first, quantity=4), second))
    answer = replace(answer, stop=StopReason.PROVEN)
    return Nest(group=group, instance=instance, solution=answer)


def outcome(*nests: Nest) -> Outcome:
    return Outcome(
        files={},
        findings=(),
        rooms=1,
        parts=PartCount(distinct=4, total=8),
        nests=nests,
        bar_nests=(),
        left_out=(),
        cut_files_written=True,
    )


@pytest.fixture(scope="module")
def job() -> Job:
    return replace(read_job(CONFIGS / "keepers-room.yaml"), name="North wing", units=Units.MM)


@pytest.fixture
def printed(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Printed:
    """Prints a table on wide paper and returns its cells, line by line."""
    monkeypatch.setenv("COLUMNS", "250")

    def cells(table: TextTable) -> list[list[str]]:
        table.tell()
        return cells_of(capsys.readouterr().out.splitlines())

    return cells


def test_the_table_of_the_nests_has_a_row_for_each_material_and_for_all(printed: Printed) -> None:
    """By hand: oak saves 10 of 40 at most; 30 of 40 of two sheets is one and a half, so two; 3 x
    0.2 of 2 x 0.5 m2 are parts. In all 10 of 290 could be saved, and 5.6 of 6 m2 are parts.
    """
    assert printed(nest_table(outcome(oak(), ply()))) == [
        ["", "", "", "at", "", "could", "", ""],
        ["material", "pieces", "sheets", "least", "proven by", "save", "layouts", "yield"],
        ["oak, 18 mm", "3", "2", "2", "price of this mix", "10.00", "2", "60.0 %"],
        ["ply, 9 mm", "5", "5", "5", "area", "nothing", "1", "100.0 %"],
        ["all materials", "8", "7", "7", "", "10.00", "3", "93.3 %"],
    ]


def test_one_material_alone_is_not_summed_up(printed: Printed) -> None:
    assert [row[0] for row in printed(nest_table(outcome(oak())))] == ["", "material", "oak, 18 mm"]


def searched(before: float, before_layouts: int) -> Nest:
    """Oak after a further search, from an answer of another price and another number of layouts."""
    now = oak()
    layouts = now.solution.layouts
    first = replace(now.solution, price=before, layouts=(layouts * before_layouts)[:before_layouts])
    return replace(now, before=first)


def test_what_a_further_search_gained() -> None:
    """Rule: only what became another is named, the old figure before the new one."""
    assert gained(ply()) == "proven before"
    assert gained(oak()) == "not searched"
    now = oak()
    assert gained(replace(now, before=now.solution)) == "nothing"
    assert gained(searched(45.5, 2)) == "price 45.50 -> 40.00"
    assert gained(searched(60.0, 3)) == "sheets 3 -> 2, price 60.00 -> 40.00, layouts 3 -> 2"
    assert gained(searched(40.0, 3)) == "sheets 3 -> 2, layouts 3 -> 2"


def test_the_column_of_a_further_search_stands_where_there_was_one(printed: Printed) -> None:
    table = printed(nest_table(outcome(searched(45.5, 2), ply())))
    assert [row[-1] for row in table] == [
        "",
        "search on",
        "price 45.50 -> 40.00",
        "proven before",
        "",
    ]
    assert [row[7] for row in table[1:]] == ["yield", "60.0 %", "100.0 %", "93.3 %"]


def test_the_share_of_all_materials_counts_area() -> None:
    assert whole_yield(outcome(oak(), ply())) == pytest.approx(5.6 / 6)
    nothing = replace(oak(), solution=answer_of(oak().instance))
    assert whole_yield(outcome(nothing)) == 1.0, "where no sheet is cut, none is wasted"


def test_sheets_of_one_material_are_added_up() -> None:
    """By hand: oak twice is four sheets, 80.00 and 60.00 at least; ply is five for 250.00."""
    assert by_material((oak(), ply(), oak())) == (
        MaterialSheets(material="oak, 18 mm", sheets=4, cost=80.0, cost_bound=60.0),
        MaterialSheets(material="ply, 9 mm", sheets=5, cost=250.0, cost_bound=250.0),
    )
    assert by_material(()) == ()


def test_the_table_of_the_bars(printed: Printed) -> None:
    """By hand: three of 1200 mm and their kerfs of 3 mm fill 3609 of 3990 mm, so seven need three
    bars of 4000 mm in two patterns; 8400 of 12000 mm are parts.
    """
    built = replace(outcome(), bar_nests=bar_nests(bar_part("L001", 1200, 7)))
    assert printed(bar_table(built, Units.MM)) == [
        ["bars", "pieces", "length", "to buy", "at least", "patterns", "yield"],
        ["cleat, 20 x 40 mm", "7", "4000 mm", "3", "3", "2", "70.0 %"],
    ]
    # 4000 / 25.4 = 157.48 in, and 15/32 is 0.469
    assert printed(bar_table(built, Units.INCH))[1][2] == '157 15/32"'


def told(
    built: Outcome, job: Job, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> list[str]:
    monkeypatch.setenv("COLUMNS", "250")
    show_outcome(built, Path("out"), job, Detail.KINDS)
    return capsys.readouterr().out.splitlines()


def test_what_closes_a_build(
    job: Job, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    left_out = LeftOut(material="birch", form=StockForm.SHEETS, why="shop.yaml:3: 1 on hand")
    bars = bar_nests(bar_part("L001", 1200, 7))
    lines = told(
        replace(outcome(oak(), ply()), bar_nests=bars, left_out=(left_out,)),
        job,
        capsys,
        monkeypatch,
    )
    assert lines[:2] == [
        "Findings: 0 ok, 0 warn, 0 fail",
        "North wing: 1 room, 4 different parts, 8 in all",
    ]
    first = [line.split("  ")[0].strip() for line in lines[2:-2]]
    assert first == [
        *("", "material", "oak, 18 mm", "ply, 9 mm", "all materials"),
        *("bars", "cleat, 20 x 40 mm"),
    ]
    assert lines[-2:] == [
        "Not complete, birch is left out: shop.yaml:3: 1 on hand",
        f"Written to out; open {Path('out') / 'summary.html'}",
    ]


def test_a_nest_that_was_stopped_is_told_as_such(
    job: Job, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    words = "The nests were stopped; the best answers so far are kept."
    assert words not in told(outcome(oak(), ply()), job, capsys, monkeypatch)
    cut_short = replace(oak(), solution=replace(oak().solution, stop=StopReason.CANCELLED))
    lines = told(outcome(ply(), cut_short), job, capsys, monkeypatch)
    assert lines[2] == words
    assert not any(line.startswith("bars") for line in lines), "there are none"


def test_what_is_not_checked_is_told_by_number_and_where_to_read_it(
    job: Job, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    line = NotChecked(what="fire", where="twin, both hands: bed", why="wood burns")
    lines = told(replace(outcome(), not_checked=(line, line)), job, capsys, monkeypatch)
    assert lines[:2] == [
        "2 things are not checked (each is in findings.csv; --verbose shows it here).",
        "Findings: 0 ok, 0 warn, 0 fail",
    ]


def test_without_cut_files_it_is_said_why_and_how_to_have_them(
    job: Job, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    built = replace(outcome(), cut_files_written=False)
    assert told(replace(built, rooms=3), job, capsys, monkeypatch) == [
        "Findings: 0 ok, 0 warn, 0 fail",
        "North wing: 3 rooms, 4 different parts, 8 in all",
        "No cut files: findings failed; --despite-failures writes them all the same.",
        f"Findings and models are in out; open {Path('out') / 'summary.html'}",
    ]
