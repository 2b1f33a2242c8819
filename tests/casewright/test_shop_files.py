"""From nests to the shop's files: what the manifest and the maps say of each sheet, by hand.

A sheet of 1234.5 x 620.75 mm with 10 mm of trim and 8 mm between parts; a part of 500 x 600.75 mm
is as broad as what is left of it. Cut at the left edge, twice, it leaves 706.5 mm from x = 518;
cut from x = 340 on it leaves 376.5 mm from x = 848, and 322 mm left of it.
"""

import re
from dataclasses import replace
from html import unescape

import pytest

from casewright.intake.read_job import read_job
from casewright.job import EdgeTrim, Job, OffcutSize
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, NestGroup
from casewright.stages.shop.sheet_stage import ShopFiles, shop_files
from export.manifest import OffcutEntry, TrimEntry
from nesting.answer.solution import BoundKind, Placement, StopReason
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.settings import Effort
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks
from parametric.lists.cut_list import CutList
from parametric.lists.face_up import FaceUp
from parametric.stock.lengths import Units
from parametric.stock.materials import StockSheet
from tests.casewright.build_fixtures import CONFIGS
from tests.export.sample_parts import LAMINATED, flat_panel, part
from tests.nesting.random_nests import answer_of, one_sheet

SHEET = StockSheet(key="odd", length_mm=1234.5, width_mm=620.75, price=12.5, on_hand=None)
BOARD = replace(LAMINATED, stock=(SHEET,))
PART = replace(part("P-01", flat_panel(500.0, 600.75), BOARD), quantity=3)
SEARCHED_ON = NestSettings(effort=Effort.QUICK, extra_seconds=60.0)


@pytest.fixture(scope="module")
def job() -> Job:
    whole = read_job(CONFIGS / "keepers-room.yaml")
    machine = replace(
        whole.machine,
        sheet_trim_mm=10.0,
        edge_trim=EdgeTrim(),
        gap_mm=8.0,
        offcut=OffcutSize(length_mm=600.0, width_mm=200.0),
    )
    return replace(whole, machine=machine, units=Units.MM)


def nest(face_up: FaceUp = FaceUp.EITHER) -> Nest:
    piece = Piece(
        id="P-01", length=piece_ticks(500), width=piece_ticks(600.75), quantity=3, turn=Turn.FIXED
    )
    stock = Stock(
        id="odd", length=sheet_ticks(1234.5), width=sheet_ticks(620.75), price=12.5, on_hand=None
    )
    rules = SheetRules(trim=Trim.even(gap_ticks(10)), gap=gap_ticks(8))
    instance = Instance(pieces=(piece,), stocks=(stock,), rules=rules)
    layouts = [
        one_sheet("odd", Placement(piece="P-01", x=gap_ticks(x), y=gap_ticks(10), turned=False))
        for x in (10, 340)
    ]
    answer = answer_of(
        instance, replace(layouts[0], runs=2), layouts[1], lower_bound=2, price_bound=30.0
    )
    group = NestGroup(material=BOARD, face_up=face_up, parts=(PART,))
    return Nest(group=group, instance=instance, solution=answer)


def made(job: Job, each: Nest, settings: NestSettings = SEARCHED_ON) -> ShopFiles:
    cut_list = CutList(parts=(PART,), bars=(), uses=())
    return shop_files(job, cut_list, (each,), settings, Progress())


@pytest.fixture(scope="module")
def files(job: Job) -> ShopFiles:
    return made(job, nest())


def test_the_manifest_tells_of_each_nest(files: ShopFiles) -> None:
    (entry,) = files.nests
    assert (entry.material, entry.thickness_mm, entry.face_up) == ("laminated-18", 18.0, "either")
    assert (entry.sheets, entry.lower_bound, entry.bound_kind) == (3, 2, BoundKind.AREA)
    # 3 x 12.50; 7.50 of 37.50 is a fifth
    assert (entry.price, entry.price_bound, entry.gap) == (37.5, 30.0, 0.2)
    assert (entry.seed, entry.effort, entry.stop) == (1, "quick", StopReason.WORK)
    assert entry.rounded_mm == 0.0
    assert [each.file for each in entry.layouts] == [
        "shop/sheets/laminated-18/001.dxf",
        "shop/sheets/laminated-18/002.dxf",
    ]


def test_a_further_search_is_told_only_of_nests_that_had_one(job: Job) -> None:
    """What is proven is not searched on, whatever the build allows: its answer can be repeated."""
    (entry,) = made(job, nest()).nests
    assert entry.extra_seconds == 0.0
    searched = replace(nest(), before=nest().solution)
    (entry,) = made(job, searched).nests
    assert entry.extra_seconds == 60.0


def test_the_manifest_tells_of_each_layout(files: ShopFiles) -> None:
    first, second = (sheet.entry for sheet in files.sheets)
    for each, runs in ((first, 2), (second, 1)):
        assert (each.stock, each.length_mm, each.width_mm) == ("odd", 1234.5, 620.75)
        assert each.trim_mm == TrimEntry(left=10.0, right=10.0, bottom=10.0, top=10.0)
        assert (each.gap_mm, each.runs) == (8.0, runs)
        assert each.share_used == pytest.approx(500 * 600.75 / (1234.5 * 620.75))
    assert first.offcuts == (OffcutEntry(x_mm=518, y_mm=10, length_mm=706.5, width_mm=600.75),)
    assert second.offcuts == (
        OffcutEntry(x_mm=848, y_mm=10, length_mm=376.5, width_mm=600.75),
        OffcutEntry(x_mm=10, y_mm=10, length_mm=322, width_mm=600.75),
    )


def texts(svg: str) -> list[str]:
    return [unescape(text) for text in re.findall("<text[^>]*>([^<]*)</text>", svg)]


def test_maps_show_the_offcuts_with_their_sizes(files: ShopFiles) -> None:
    first, second = (sheet.sheet_map for sheet in files.sheets)
    assert (first.material, first.file) == (
        "laminated board, 18 mm",
        "shop/sheets/laminated-18/001.dxf",
    )
    assert sorted(texts(first.svg)) == sorted(
        [
            "Sheet 1: cut 2 sheets like this",
            "P-01",
            "offcut 706.5 mm x 600.8 mm",
            "1234.5 mm",
            "620.8 mm",
        ]
    )
    assert sorted(texts(second.svg)) == sorted(
        [
            "Sheet 2: cut 1 sheet like this",
            "P-01",
            "offcut 376.5 mm x 600.8 mm",
            "offcut 322 mm x 600.8 mm",
            "1234.5 mm",
            "620.8 mm",
        ]
    )


def test_sheets_that_lie_the_other_way_up_have_a_folder_and_a_title_of_their_own(job: Job) -> None:
    for face, folder, words in (
        (FaceUp.FRONT, "laminated-18/good-face-up", ", good face up"),
        (FaceUp.BACK, "laminated-18", ", good face down"),
    ):
        turned = made(job, nest(face))
        assert [str(sheet.path) for sheet in turned.sheets] == [
            f"shop/sheets/{folder}/001.dxf",
            f"shop/sheets/{folder}/002.dxf",
        ]
        assert f"Sheet 1{words}: cut 2 sheets like this" in texts(turned.sheets[0].sheet_map.svg)


def test_each_part_has_a_file_of_its_own(files: ShopFiles) -> None:
    (file,) = files.parts
    assert (file.part, str(file.path)) == ("P-01", "shop/parts/P-01.dxf")
