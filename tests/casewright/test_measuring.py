"""Sheets to measure rooms on, and the schedule that comes back from them."""

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from casewright import Session
from casewright.errors import Fault
from casewright.intake.read_job import read_job
from casewright.intake.read_schedule import COLUMNS, NEEDED, read_schedule
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.store.checks_by_piece import checks_by_piece
from casewright.stages.store.measuring_stage import MEANINGS, measuring_csv, measuring_sheets
from export.papers.pdf import pdf_bytes
from export.store.measuring import measuring_source, measuring_svg
from export.store.sign_off import ALWAYS, PieceChecks, SignOff, sign_off_source
from parametric.geometry.hand import Hand
from parametric.rooms.measured import Measured
from parametric.steps.order import steps_of
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS, DEMOS


def job(name: str) -> Job:
    return read_job(CONFIGS / f"{name}.yaml")


def texts(content: bytes) -> list[str]:
    pages = pypdfium2.PdfDocument(content)
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pages]


@pytest.mark.parametrize("name", DEMOS)
def test_the_schedule_comes_back_as_it_was(name: str, tmp_path: Path) -> None:
    of = job(name)
    path, faults = tmp_path / "rooms.csv", list[Fault]()
    path.write_text(measuring_csv(of.rooms, of.units), encoding="utf-8")
    names = [each.name for each in of.sets]
    assert read_schedule(path, of.units, names, faults, never) == of.rooms and not faults


def never(found: str, allowed: str) -> Fault:
    raise AssertionError(found)


def test_every_column_has_its_row_and_its_letter() -> None:
    assert {*NEEDED, "floor", *MEANINGS} == set(COLUMNS)
    columns = tuple(MEANINGS)
    drawn = measuring_svg(Hand.LEFT, columns)
    for at, letter in enumerate("abcdefghijklmnop"[: len(columns)]):
        assert drawn.count(f">{letter}</text>") == 1
        without = measuring_svg(Hand.LEFT, columns[:at])
        assert f">{letter}</text>" not in without


def test_a_sheet_asks_for_what_its_set_wants_alone() -> None:
    """By hand: the keeper has no panel and nothing along the side wall; the station has planks,
    with nothing over them, and beds and a desk along two walls; the centre has a panel and studs.
    """
    asked = {name: columns_of(name) for name in DEMOS}
    keeper = asked["keepers-room"]
    assert {"opening_at_seat", "first_stud", "wall_lining", "blocking", "side_blocking"} <= keeper
    assert keeper.isdisjoint({"opening_at_panel", "side_opening"})
    studs = {"first_stud", "stud_spacing", "blocking", "side_blocking", "wall_lining"}
    assert studs.isdisjoint(asked["field-station"]) and "side_opening" in asked["field-station"]
    assert (studs - {"wall_lining"}).isdisjoint(asked["survey-ship"])
    assert {"opening_at_panel", "first_stud", "blocking"} <= asked["avalanche-centre"]


def columns_of(name: str) -> set[str]:
    """The columns that sheets of a job ask for, of rooms of which nothing is known."""
    of = job(name)
    rooms = tuple(replace(room, measured=Measured()) for room in of.rooms)
    sheets = measuring_sheets(replace(of, rooms=rooms))
    return {column for sheet in sheets for column in sheet.columns}


def test_what_was_measured_stands_on_the_sheet_though_no_one_asks() -> None:
    of = job("keepers-room")
    (room,) = of.rooms
    known = replace(room, measured=replace(room.measured, side_opening_mm=2000.0))
    (sheet,) = measuring_sheets(replace(of, rooms=(known,)))
    assert "side_opening" in sheet.columns


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("demo", ["avalanche-centre", "field-station", "keepers-room"])
def test_no_sheet_runs_over_its_page(demo: str, paper: Paper) -> None:
    of = job(demo)
    sheets = tuple(measuring_sheets(of))
    assert len(texts(pdf_bytes(measuring_source(of.name, sheets, "units", paper)))) == len(of.rooms)


@pytest.mark.parametrize("paper", Paper)
def test_each_room_has_a_sheet_on_one_page(paper: Paper) -> None:
    of = job("survey-ship")
    sheets = tuple(measuring_sheets(of))
    pages = texts(pdf_bytes(measuring_source(of.name, sheets, "millimetres", paper)))
    assert len(pages) == len(of.rooms)
    for room, text in zip(of.rooms, pages, strict=True):
        assert f"Measure room {room.number}" in text
        assert "opening_at_seat" in text and "first_stud" not in text
        opening_mm = room.measured.opening_at_floor_mm
        assert opening_mm is None or f"{opening_mm:g}" in text


@pytest.mark.parametrize("paper", Paper)
def test_each_room_has_a_page_to_sign(paper: Paper) -> None:
    checks = (PieceChecks("bench", ("Gap even",) * 4), PieceChecks("bed, shelf", ("Level",) * 4))
    rooms = [SignOff(room=str(n), set_name="twin", hand=Hand.LEFT, checks=checks) for n in range(3)]
    pages = texts(pdf_bytes(sign_off_source("job", rooms, paper)))
    assert len(pages) == 3
    for number, text in enumerate(pages):
        assert f"Room {number}" in text and "Gap even" in text
        assert all(each.split()[0] in text for each in ALWAYS)
    one = replace(rooms[0], room="x" * 20)
    assert len(texts(pdf_bytes(sign_off_source("j" * 60, [one], paper)))) == 1
    many = tuple(PieceChecks(f"piece {n}", ("Level both ways " * 5,) * 4) for n in range(7))
    assert len(texts(pdf_bytes(sign_off_source("j", [replace(one, checks=many)], paper)))) == 1


@pytest.mark.parametrize("demo", DEMOS)
def test_each_check_stands_beside_its_piece_on_one_page(demo: str) -> None:
    session = Session.from_file(CONFIGS / f"{demo}.yaml")
    sets = session._sets(Progress()).sets
    pages = []
    for each in sets:
        room_set = each.model.room_set
        steps = steps_of(room_set.assembly, lambda mm: f"{mm:.0f}", room_set.outwards)
        listed = checks_by_piece(room_set.assembly, steps)
        lines = {check: piece.piece for piece in listed for check in piece.checks}
        assert lines["Still level and square after the last screw"]
        assert lines["Back on its marks"].split(" ")[-1].startswith(("deck", "1", "2"))
        for step in steps:
            if step.title.startswith(("Fix the", "Glue down the")):
                named = [p for p in listed if set(step.checks) <= set(p.checks)]
                assert any(name in step.title for p in named for name in p.piece.split(", ")), (
                    step.title
                )
        pages.append(SignOff(room="1", set_name=room_set.name, hand=room_set.hand, checks=listed))
    for paper in Paper:
        found = texts(pdf_bytes(sign_off_source(session.job.name, pages, paper)))
        assert len(found) == len(pages)
        for text, page in zip(found, pages, strict=True):
            for piece in page.checks:
                assert piece.piece in text and piece.checks[0][:40] in text
