"""Groups of one material take their sheets from one pile, and each sheet is spent once."""

from collections import Counter
from dataclasses import replace

import pytest

from casewright.errors import DoesNotFit
from casewright.intake.read_job import read_job
from casewright.job import Machine
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, nest_groups, sheet_rules
from casewright.stages.nested import nest_run
from casewright.stages.nested.nest_run import nest_all, nest_what_fits
from casewright.stages.nested.nested_stage import OnShortage, nest_job
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.sets.stock_check import StockCheck, missed, sheet_checks
from nesting.answer.solution import Solution, StopReason
from nesting.question.errors import LimitedStock, NotEnoughStock, ShortageProof, ShortPiece
from nesting.question.instance import Instance
from nesting.question.settings import Effort
from parametric.lists.cut_list import CutList, Part
from parametric.lists.face_up import FaceUp
from parametric.lists.left_out import StockForm
from parametric.shapes.panel import Face
from parametric.stock.lengths import Units
from parametric.stock.materials import GoodFaces, SheetMaterial, StockSheet
from parametric.stock.origin import Origin
from tests.casewright.build_fixtures import CONFIGS
from tests.export.sample_parts import LAMINATED, flat_panel, part

QUICK = NestSettings(effort=Effort.QUICK)
LIMIT = Origin(file="shop/boards.yaml", line=12, key_path="materials.oak.stock.cheap.on_hand")
LIST = Origin(file="shop/boards.yaml", line=11, key_path="materials.oak.stock")
CHEAP = StockSheet(key="cheap", length_mm=1000, width_mm=500, price=10.0, on_hand=1, origin=LIMIT)
DEAR = StockSheet(key="dear", length_mm=1000, width_mm=500, price=30.0, on_hand=None)


@pytest.fixture(scope="module")
def machine() -> Machine:
    """The demo's router, with 10 mm of trim and between parts."""
    return replace(read_job(CONFIGS / "keepers-room.yaml").machine, sheet_trim_mm=10.0, gap_mm=10.0)


def oak(*stock: StockSheet) -> SheetMaterial:
    return replace(LAMINATED, key="oak", good_faces=GoodFaces.ONE, stock=stock, stock_origin=LIST)


def lying(number: str, length_mm: float, front: Face, material: SheetMaterial) -> Part:
    panel = flat_panel(length_mm, 450.0)
    return replace(part(number, panel, material), front=front, quantity=1)


def cut_list(*parts: Part) -> CutList:
    return CutList(parts=parts, bars=(), uses=())


def sheets(nests: tuple[Nest, ...]) -> Counter[tuple[str, str]]:
    spent: Counter[tuple[str, str]] = Counter()
    for nest in nests:
        for layout in nest.solution.layouts:
            spent[nest.group.face_up, layout.stock] += layout.runs
    return spent


def test_a_sheet_on_hand_is_spent_once_by_two_groups(machine: Machine) -> None:
    """Rule: a sheet lies one way up, and who takes it first has it.

    By hand: two parts of 900 x 450 fill a sheet of 1000 x 500 each. One cheap sheet is on hand, so
    that one part comes from it and the other from a dear one: 10 + 30 = 40, not 2 x 10.
    """
    material = oak(CHEAP, DEAR)
    up = lying("P001", 900.0, Face.UP, material)
    down = lying("P002", 900.0, Face.DOWN, material)
    nests = nest_all(cut_list(up, down), machine, QUICK, Progress())
    assert [nest.group.face_up for nest in nests] == [FaceUp.FRONT, FaceUp.BACK]
    assert sheets(nests) == {(FaceUp.FRONT, "cheap"): 1, (FaceUp.BACK, "dear"): 1}
    assert sum(nest.solution.price for nest in nests) == pytest.approx(40.0)


def test_a_further_search_spends_no_sheet_that_another_group_has(
    machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same question, of which no nest counts as proven, so that each is searched once more."""
    solved = nest_run.solve

    def never_proven(instance: Instance, **how: object) -> Solution:
        return replace(solved(instance, **how), stop=StopReason.WORK)  # type: ignore[arg-type]

    monkeypatch.setattr(nest_run, "solve", never_proven)
    material = oak(CHEAP, DEAR)
    up = lying("P001", 900.0, Face.UP, material)
    down = lying("P002", 900.0, Face.DOWN, material)
    further = replace(QUICK, extra_seconds=0.2)
    nests = nest_all(cut_list(up, down), machine, further, Progress())
    assert all(nest.before is not None for nest in nests)
    assert sheets(nests) == {(FaceUp.FRONT, "cheap"): 1, (FaceUp.BACK, "dear"): 1}


def test_a_group_leaves_another_the_only_sheet_that_holds_it(machine: Machine) -> None:
    """By hand: the long part, 1800 x 450, only fits the long sheet, of which there is one. The part
    of 900 x 450, nested first, would be cheaper from it as well, and must take a dear one.
    """
    long = replace(CHEAP, key="long", length_mm=2000)
    material = oak(long, DEAR)
    first = lying("P001", 900.0, Face.DOWN, material)
    second = lying("P002", 1800.0, Face.UP, material)
    nests = nest_all(cut_list(first, second), machine, QUICK, Progress())
    assert [nest.group.parts[0].number for nest in nests] == ["P001", "P002"]
    assert sheets(nests) == {(FaceUp.BACK, "dear"): 1, (FaceUp.FRONT, "long"): 1}


def test_sheets_that_two_groups_lack_together_are_told_before_the_nest(machine: Machine) -> None:
    """By hand: three sheets for each group and four on hand: either group alone has enough."""
    material = oak(replace(CHEAP, on_hand=4))
    parts = [
        replace(lying(number, 900.0, face, material), quantity=3)
        for number, face in (("P001", Face.UP), ("P002", Face.DOWN))
    ]
    rules = sheet_rules(machine)
    for each in parts:
        assert not missed(sheet_checks(nest_groups([each]), rules, Units.MM))
    (short,) = missed(sheet_checks(nest_groups(parts), rules, Units.MM))
    assert (short.finding.measured, short.finding.limit) == (4.0, 6.0)
    assert str(short) == (
        "shop/boards.yaml:12: materials.oak.stock.cheap.on_hand: oak: 4 x cheap on hand, at least "
        "6 needed: buy at least 2 more of cheap (1000 mm x 500 mm)"
    )
    assert short.finding.where == "boards.yaml:12: materials.oak.stock.cheap.on_hand"


def test_of_two_limited_stocks_each_way_to_buy_is_told(machine: Machine) -> None:
    """By hand: six parts of 900 x 450, one to a small sheet and two to a long one of 2000 x 500.

    One of each on hand hold three. Missing: three small ones, or two long ones (one and a half).
    """
    long = replace(CHEAP, key="long", length_mm=2000)
    material = oak(CHEAP, long)
    six = replace(lying("P001", 900.0, Face.UP, material), quantity=6)
    (short,) = missed(sheet_checks(nest_groups([six]), sheet_rules(machine), Units.INCH))
    assert str(short) == (
        "shop/boards.yaml:11: materials.oak.stock: oak: 1 x cheap and 1 x long on hand, at least "
        '2 more needed: buy at least 3 more of cheap (39 3/8" x 19 11/16"), or at least 2 more of '
        'long (78 3/4" x 19 11/16"); of several together at least 2'
    )


def test_a_part_that_fits_no_sheet_is_told_where_the_stock_is_listed(machine: Machine) -> None:
    # 1000 less 10 of trim at each end is 980.
    long = lying("P007", 980.5, Face.UP, oak(DEAR))
    (short,) = missed(sheet_checks(nest_groups([long]), sheet_rules(machine), Units.MM))
    assert (short.finding.code, short.finding.measured) == ("stock-size", 1.0)
    assert str(short).startswith("shop/boards.yaml:11: materials.oak.stock: 1 part of oak")
    assert "P007 of 980.5 mm x 450 mm fits no sheet" in str(short)
    (inches,) = missed(sheet_checks(nest_groups([long]), sheet_rules(machine), Units.INCH))
    assert 'P007 of 38 19/32" x 17 23/32" fits no sheet' in str(inches)
    assert " mm" not in str(inches)
    exact = lying("P007", 980.0, Face.UP, oak(DEAR))
    assert not missed(sheet_checks(nest_groups([exact]), sheet_rules(machine), Units.MM))


def sets_with(parts: CutList, *found: StockCheck) -> SetsOfJob:
    return SetsOfJob(sets=(), job_findings=(), stock=found, fits=(), cut_list=parts, bar_numbers={})


def test_a_build_that_stops_for_stock_says_how_it_would_go_on(machine: Machine) -> None:
    """Rule: all that is short is told, then the way out; where nothing else is left to build there
    is no way out to tell of.
    """
    job = replace(read_job(CONFIGS / "keepers-room.yaml"), machine=machine)
    oak_part = replace(lying("P001", 900.0, Face.UP, oak(CHEAP)), quantity=3)
    birch = replace(oak(DEAR), key="birch")
    birch_part = lying("P002", 900.0, Face.UP, birch)
    (short,) = missed(sheet_checks(nest_groups([oak_part]), sheet_rules(machine), Units.MM))
    both = sets_with(cut_list(oak_part, birch_part), short)
    with pytest.raises(DoesNotFit) as stopped:
        nest_job(job, both, QUICK, Progress(), OnShortage.STOP)
    assert str(stopped.value) == (
        f"{short}\nWith --despite-shortage the other materials are built, and these are left out."
    )
    with pytest.raises(DoesNotFit) as nothing_left:
        alone = sets_with(cut_list(oak_part), short)
        nest_job(job, alone, QUICK, Progress(), OnShortage.LEAVE_OUT)
    assert str(nothing_left.value) == str(short)


def test_what_is_left_out_for_want_of_stock_says_why(machine: Machine) -> None:
    job = replace(read_job(CONFIGS / "keepers-room.yaml"), machine=machine)
    oak_part = replace(lying("P001", 900.0, Face.UP, oak(CHEAP)), quantity=3)
    birch_part = lying("P002", 900.0, Face.UP, replace(oak(DEAR), key="birch"))
    (short,) = missed(sheet_checks(nest_groups([oak_part]), sheet_rules(machine), Units.MM))
    both = sets_with(cut_list(oak_part, birch_part), short)
    nested = nest_job(job, both, QUICK, Progress(), OnShortage.LEAVE_OUT)
    assert [nest.group.material.key for nest in nested.nests] == ["birch"]
    (left_out,) = nested.left_out
    assert (left_out.material, left_out.form) == ("oak", StockForm.SHEETS)
    assert left_out.why == (
        "boards.yaml:12: materials.oak.stock.cheap.on_hand: oak: 1 x cheap on hand, at least "
        "3 needed: buy at least 2 more of cheap (1000 mm x 500 mm)"
    )


def test_what_only_the_search_finds_short_is_told_alike_and_the_rest_is_kept(
    machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    birch = replace(oak(DEAR), key="birch")
    solved = nest_run.solve

    def finds_none(instance: Instance, **how: object) -> Solution:
        if instance.pieces[0].id == "P001":
            raise NotEnoughStock(
                short=(ShortPiece(piece="P001", quantity=2),),
                stocks=(LimitedStock(stock="cheap", on_hand=1, more_needed=3),),
                proof=ShortageProof.SEARCH,
            )
        return solved(instance, **how)  # type: ignore[arg-type]

    monkeypatch.setattr(nest_run, "solve", finds_none)
    parts = cut_list(
        lying("P001", 900.0, Face.UP, oak(CHEAP)), lying("P002", 900.0, Face.UP, birch)
    )
    nests, (short,) = nest_what_fits(parts, machine, QUICK, Progress(), Units.MM)
    assert [nest.group.material.key for nest in nests] == ["birch"]
    assert str(short) == (
        "shop/boards.yaml:12: materials.oak.stock.cheap.on_hand: oak: 1 x cheap on hand; no nest "
        "was found that places all parts; left over: 2 x P001: 3 more of cheap (1000 mm x 500 mm) "
        "would surely do"
    )
    with pytest.raises(DoesNotFit, match=r"boards\.yaml:12: materials\.oak\.stock\.cheap\.on_hand"):
        nest_all(parts, machine, QUICK, Progress())
