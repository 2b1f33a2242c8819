"""What the files of a sheet say of it: its map, its place in the manifest, the order of work.

By hand: a sheet of 2440 x 1220 loses 10 at the left, 20 at the right, 5 below and 15 above, and
parts keep 10. A board of 1200 x 600 lies in the lower left corner, beside it a strip of 300 x 24
on end.
"""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from casewright.intake.read_job import read_job
from casewright.job import EdgeTrim, Job
from casewright.progress import Listener, Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import (
    Nest,
    NestGroup,
    nest_groups,
    nest_instance,
    sheet_rules,
)
from casewright.stages.shop import sheet_stage
from casewright.stages.shop.sheet_stage import ShopFiles, lying, nest_folder, shop_files
from export.manifest import LayoutEntry, OffcutEntry, TrimEntry
from nesting.answer.solution import BoundKind, Layout, Placement, Solution, StopReason
from nesting.question.settings import Effort
from nesting.question.ticks import gap_ticks
from parametric.geometry.outline import Bounds
from parametric.lists.cut_list import CutList, Part
from parametric.lists.face_up import FaceUp
from parametric.stock.lengths import Units
from parametric.stock.materials import GoodFaces, Grain, SheetMaterial
from tests.casewright.build_fixtures import CONFIGS
from tests.export.sample_parts import LAMINATED, STOCK, flat_panel, part

OAK = replace(LAMINATED, key="oak", good_faces=GoodFaces.NONE, grain=Grain.NONE)
ELM = replace(OAK, key="elm wood", thickness_mm=18.0)
FURTHER = NestSettings(effort=Effort.THOROUGH, extra_seconds=90.0)


class Told(Listener):
    """Keeps what it is told."""

    def __init__(self) -> None:
        self.lines: list[object] = []

    def stage(self, name: str, steps: int) -> None:
        self.lines.append((name, steps))

    def step(self, what: str) -> None:
        self.lines.append(what)


@pytest.fixture(scope="module")
def job() -> Job:
    """The demo's job with other edges of its sheets."""
    read = read_job(CONFIGS / "keepers-room.yaml")
    edges = EdgeTrim(left_mm=10.0, right_mm=20.0, bottom_mm=5.0, top_mm=15.0)
    machine = replace(read.machine, sheet_trim_mm=10.0, gap_mm=10.0, edge_trim=edges)
    return replace(read, machine=machine, units=Units.MM)


def parts_of(material: SheetMaterial, board: str, strip: str) -> tuple[Part, Part]:
    return (
        replace(part(board, flat_panel(1200.0, 600.0), material), quantity=3),
        replace(part(strip, flat_panel(300.0, 24.0), material), quantity=3),
    )


def nest(job: Job, parts: Iterable[Part]) -> Nest:
    """The board and the strip on three sheets cut alike."""
    (group,) = nest_groups(parts)
    board, strip = group.parts
    layout = Layout(
        stock=STOCK.key,
        placements=(
            Placement(piece=board.number, x=gap_ticks(10), y=gap_ticks(5), turned=False),
            Placement(piece=strip.number, x=gap_ticks(1220), y=gap_ticks(5), turned=True),
        ),
        runs=3,
    )
    solution = Solution(
        layouts=(layout,),
        lower_bound=2,
        bound_kind=BoundKind.AREA,
        price=184.5,
        price_bound=123.0,
        price_bound_kind=BoundKind.AREA,
        stop=StopReason.WORK,
        seed=7,
    )
    return Nest(
        group=group, instance=nest_instance(group, sheet_rules(job.machine)), solution=solution
    )


def files_of(job: Job, *nests: Nest, progress: Progress | None = None) -> ShopFiles:
    cut_list = CutList(parts=tuple(p for n in nests for p in n.group.parts), bars=(), uses=())
    return shop_files(job, cut_list, nests, FURTHER, progress or Progress())


def test_the_map_of_a_sheet_shows_what_is_left_and_what_may_come_loose(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By hand: above both lies 615 (5 + 600 + 10) to 1205 over the whole length, 10 to 2420; right
    of the strip lies 1254 (1220 + 24 + 10) to 2420, as high as the board: 5 to 605. The strip has
    72 cm2, which is less than the 500 that hold.
    """
    drawn = {}
    draw = sheet_stage.sheet_map_svg

    def kept(*drawing: object, **marks: object) -> str:
        drawn.update(marks)
        return draw(*drawing, **marks)  # type: ignore[arg-type]

    monkeypatch.setattr(sheet_stage, "sheet_map_svg", kept)
    (sheet,) = files_of(job, nest(job, parts_of(OAK, "P001", "P002"))).sheets
    assert drawn == {
        "title": "Sheet 1",
        "runs": 3,
        "units": Units.MM,
        "offcuts": (Bounds(10.0, 615.0, 2420.0, 1205.0), Bounds(1254.0, 5.0, 2420.0, 605.0)),
        "at_risk": (Bounds(1220.0, 5.0, 1244.0, 305.0),),
    }
    svg = sheet.sheet_map.svg
    for words in (
        "Sheet 1: cut 3 sheets like this",
        "offcut 2410 mm x 590 mm",
        "offcut 1166 mm x 600 mm",
        "small or narrow part: hold it down",
    ):
        assert f">{words}</text>" in svg, words
    assert svg.count('class="risk"') == 2  # in the part, and in the line that explains it
    assert (sheet.sheet_map.material, sheet.sheet_map.file) == (
        OAK.description,
        "shop/sheets/oak/001.dxf",
    )


def test_each_layout_is_told_whole(job: Job) -> None:
    """The same rectangles as on the map, by corner and sides. Used: 1200 x 600 + 300 x 24."""
    (sheet,) = files_of(job, nest(job, parts_of(OAK, "P001", "P002"))).sheets
    assert str(sheet.path) == "shop/sheets/oak/001.dxf"
    assert sheet.entry == LayoutEntry(
        file="shop/sheets/oak/001.dxf",
        stock="board 2440",
        length_mm=2440.0,
        width_mm=1220.0,
        trim_mm=TrimEntry(left=10.0, right=20.0, bottom=5.0, top=15.0),
        gap_mm=10.0,
        runs=3,
        share_used=pytest.approx(727_200 / 2_976_800),
        offcuts=(
            OffcutEntry(x_mm=10.0, y_mm=615.0, length_mm=2410.0, width_mm=590.0),
            OffcutEntry(x_mm=1254.0, y_mm=5.0, length_mm=1166.0, width_mm=600.0),
        ),
    )


def test_only_a_nest_that_was_searched_on_tells_of_more_seconds(job: Job) -> None:
    """Rule: seed and effort give the same answer again unless a clock ended the search, and only
    then are there seconds. A nest proven best, or stopped before, was not searched further.
    """
    first = nest(job, parts_of(OAK, "P001", "P002"))
    second = nest(job, parts_of(ELM, "P003", "P004"))
    searched = replace(second, before=replace(second.solution, price=200.0))
    told = [
        (each.material, each.extra_seconds, each.seed, each.effort)
        for each in files_of(job, first, searched).nests
    ]
    assert told == [("oak", 0.0, 7, "thorough"), ("elm wood", 90.0, 7, "thorough")]


def test_each_nest_is_told_whole(job: Job) -> None:
    """By hand: of 184.50 at most 61.50 could be saved, a third."""
    files = files_of(job, nest(job, parts_of(OAK, "P001", "P002")))
    (entry,) = files.nests
    assert (entry.thickness_mm, entry.sheets, entry.lower_bound) == (18.0, 3, 2)
    assert (entry.bound_kind, entry.price, entry.gap) == ("area", 184.5, 0.333333)
    assert (entry.stop, entry.face_up) == ("the work allowed was done", FaceUp.EITHER)
    assert entry.layouts == tuple(sheet.entry for sheet in files.sheets)
    assert [(each.part, str(each.path)) for each in files.parts] == [
        ("P001", "shop/parts/P001.dxf"),
        ("P002", "shop/parts/P002.dxf"),
    ]


def test_each_file_is_a_step_of_the_work(job: Job) -> None:
    """Two parts and one layout of each material make six steps."""
    told = Told()
    nests = nest(job, parts_of(OAK, "P001", "P002")), nest(job, parts_of(ELM, "P003", "P004"))
    files_of(job, *nests, progress=Progress(told))
    assert told.lines == [
        ("cut files", 6),
        *("P001", "P002", "P003", "P004"),
        *("oak 1, 2440 mm", "elm-wood 1, 2440 mm"),
    ]


@pytest.mark.parametrize(
    ("face_up", "folder", "words"),
    [
        (FaceUp.FRONT, "oak/good-face-up", ", good face up"),
        (FaceUp.BACK, "oak", ", good face down"),
        (FaceUp.EITHER, "oak", ""),
    ],
)
def test_how_a_sheet_lies_is_told_where_it_matters(
    job: Job, face_up: FaceUp, folder: str, words: str
) -> None:
    """Sheets with the good face up have a folder of their own: common practice, no source."""
    group = NestGroup(material=OAK, face_up=face_up, parts=parts_of(OAK, "P001", "P002"))
    laid = replace(nest(job, parts_of(OAK, "P001", "P002")), group=group)
    assert nest_folder(laid, {"oak": "oak"}) == folder
    assert lying(face_up) == words
