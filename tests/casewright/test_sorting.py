"""Which part goes on which cart, counted again from cut list, rooms and labels."""

import csv
import io
import shutil
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import pypdfium2
import pytest

from casewright.entries.registry import ENTRIES, files_of
from casewright.intake.read_job import read_job
from casewright.job import CartFor, CutInOrderOf
from casewright.progress import Progress
from casewright.stages.models.piece_stage import part_places
from casewright.stages.shop.sorting_stage import sorting_plan
from export.manifest import FileRole
from export.papers.pdf import pdf_bytes
from export.shop.sorting import (
    SortedPart,
    SortedSheet,
    SortingPlan,
    sorting_csv,
    sorting_source,
)
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS, built_demo, outcome_of


@pytest.fixture(scope="module")
def plans() -> dict[CartFor | None, SortingPlan]:
    built = built_demo("survey-ship")
    return {
        by: sorting_plan(
            replace(built.job, sorting=by), built.sets, built.pieces, built.nested.nests
        )
        for by in (None, *CartFor)
    }


def test_every_room_gets_each_of_its_parts_once(plans: dict[CartFor | None, SortingPlan]) -> None:
    built = built_demo("survey-ship")
    job, sets, pieces = built.job, built.sets, built.pieces
    made = {part.number for part in sets.cut_list.parts}
    wanted: Counter[tuple[str, str]] = Counter()
    rooms = {(r.set_name, r.hand): [] for r in job.rooms}
    for room in job.rooms:
        rooms[room.set_name, room.hand].append(room.number)
    for place in part_places(sets, pieces):
        if place.number in made:
            for room in rooms[place.set_name, place.hand]:
                wanted[room, place.number] += 1
    plan = plans[CartFor.ROOM]
    sorted_parts = [part for sheet in plan.sheets for part in sheet.parts]
    assert Counter((p.room, p.number) for p in sorted_parts) == wanted
    assert all(part.cart == f"room {part.room}" for part in sorted_parts)


def test_carts_are_what_the_job_says(plans: dict[CartFor | None, SortingPlan]) -> None:
    assert plans[None] == plans[CartFor.FLOOR]  # the schedule names floors
    floors = {p.cart for s in plans[CartFor.FLOOR].sheets for p in s.parts}
    assert floors == {"floor A", "floor B"} or all(f.startswith("floor ") for f in floors)
    units = {(p.cart, p.unit) for s in plans[CartFor.UNIT].sheets for p in s.parts}
    assert all(cart == unit for cart, unit in units)


def part(room: str) -> SortedPart:
    return SortedPart(number="P1", cart="", room=room, unit="", name="", piece="")


def sheets(*rooms: str) -> list[SortedSheet]:
    """A sheet for each text, a part for each of its letters."""
    return [
        SortedSheet(sheet="board/001", run=n, parts=tuple(map(part, text)))
        for n, text in enumerate(rooms, start=1)
    ]


def rooms_begun(sheets: Iterable[SortedSheet]) -> tuple[int, int]:
    """Return at most how many rooms are begun and not whole after a sheet, and how many there are;
    both count only what is on these sheets.
    """
    listed = tuple(sheets)
    left = Counter(part.room for sheet in listed for part in sheet.parts if part.room)
    rooms, most, begun = len(left), 0, set[str]()
    for sheet in listed:
        for part in sheet.parts:
            if part.room:
                begun.add(part.room)
                left[part.room] -= 1
        begun = {room for room in begun if left[room]}
        most = max(most, len(begun))
    return most, rooms


def test_rooms_begun_and_not_whole_are_counted_by_hand() -> None:
    assert rooms_begun(sheets("aab", "bc", "c")) == (1, 3)
    assert rooms_begun(sheets("abc", "abc")) == (3, 3)
    assert rooms_begun(sheets("aa", "bb")) == (0, 2)


@pytest.mark.parametrize("order", CutInOrderOf)
def test_either_order_has_the_same_sheets_and_tells_what_is_begun(order: CutInOrderOf) -> None:
    built = built_demo("avalanche-centre")
    made = {
        each: sorting_plan(
            replace(built.job, cut_in_order_of=each),
            built.sets,
            built.pieces,
            built.nested.nests,
        )
        for each in CutInOrderOf
    }
    plan = made[order]
    cut = Counter((sheet.sheet, sheet.run) for sheet in plan.sheets)
    assert cut == Counter((s.sheet, s.run) for s in made[CutInOrderOf.LAYOUTS].sheets)
    dealt = Counter((p.room, p.number) for sheet in plan.sheets for p in sheet.parts)
    assert dealt == Counter(
        (p.room, p.number) for s in made[CutInOrderOf.LAYOUTS].sheets for p in s.parts
    )
    for material, of in groupby(plan.sheets, key=lambda each: each.sheet.rpartition("/")[0]):
        listed = list(of)
        (told,) = (each for each in plan.scattered if each.material == material and each.used)
        assert (told.begun, told.rooms) == rooms_begun(listed), material
        assert told.loaded == len(list(groupby(each.sheet for each in listed)))
        assert told.sheets == len(listed)


def test_in_order_of_rooms_far_fewer_are_begun_at_once() -> None:
    built = built_demo("avalanche-centre")
    by = {(e.material, e.order): e.begun for e in built.sorting.scattered}
    for material in {material for material, _ in by}:
        assert by[material, "rooms"] <= by[material, "layouts"]
    assert by["oak-one-face", "rooms"] * 3 <= by["oak-one-face", "layouts"]


@pytest.mark.parametrize("paper", Paper)
def test_paper_and_table_agree(plans: dict[CartFor | None, SortingPlan], paper: Paper) -> None:
    plan = plans[CartFor.FLOOR]
    rows = list(csv.DictReader(io.StringIO(sorting_csv(plan))))
    pdf = pypdfium2.PdfDocument(pdf_bytes(sorting_source(plan, Units.MM, paper)))
    text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
    for cart, count in Counter(row["cart"] for row in rows).items():
        rooms = len({row["room"] for row in rows if row["cart"] == cart})
        assert f"{cart} {rooms} {count} " in text


def test_the_sorting_plan_and_the_labels_send_a_part_to_the_same_room() -> None:
    files = {str(path): content for path, content in outcome_of("keepers-room").files.items()}
    sorted_rows = list(csv.DictReader(io.StringIO(files["shop/sorting.csv"].decode())))
    labels = list(csv.DictReader(io.StringIO(files["shop/labels.csv"].decode())))
    of_parts = [row for row in labels if row["kind"] == "part"]
    assert [(r["part"], r["room"]) for r in sorted_rows] == [
        (r["number"], r["room"]) for r in of_parts
    ]


def test_there_is_no_plan_without_cut_files() -> None:
    kept_back = replace(built_demo("keepers-room"), shop=None, router=None)
    of_carts = {FileRole.SORTING, FileRole.SORTING_PLAN}
    entries = [entry for entry in ENTRIES if entry.role in of_carts]
    assert len(entries) == 2
    assert files_of(kept_back, Progress(), entries) == ()


def test_what_is_more_than_a_cart_holds_is_said() -> None:
    """Twelve parts of 10 kg on one cart, three on another: by hand 3 carts and 1 of 50 kg."""
    part = SortedPart(number="P1", cart="floor 1", room="1", unit="bed", name="rail", piece="")
    parts = (*[part] * 12, *[replace(part, cart="floor 2")] * 3)
    plan = SortingPlan(
        job="job",
        by="floor",
        sheets=(SortedSheet(sheet="birch/001", run=1, parts=parts),),
        scattered=(),
        masses_kg={"P1": 10.0},
    )

    def told(holds_kg: float | None) -> str:
        source = sorting_source(replace(plan, cart_holds_kg=holds_kg), Units.MM, Paper.A4)
        (page,) = pypdfium2.PdfDocument(pdf_bytes(source))
        return " ".join(page.get_textpage().get_text_range().split())

    assert "A cart holds" not in told(None) and "A cart holds" not in told(120.0)
    assert "A cart holds 50 kg. More than that is for floor 1 (3 carts), counted" in told(50.0)
    assert "120 kg" in told(None) and "30 kg" in told(None)


def test_a_job_may_say_what_a_cart_holds(tmp_path: Path) -> None:
    folder = shutil.copytree(CONFIGS, tmp_path / "configs")
    path = folder / "survey-ship.yaml"
    assert read_job(path).cart_holds_kg is None
    path.write_text(f"{path.read_text(encoding='utf-8')}\ncart_holds_kg: 300\n", encoding="utf-8")
    job = read_job(path)
    built = built_demo("survey-ship")
    plan = sorting_plan(job, built.sets, built.pieces, built.nested.nests)
    assert job.cart_holds_kg == plan.cart_holds_kg == 300.0
