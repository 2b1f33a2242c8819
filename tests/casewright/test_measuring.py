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
from export.store.measuring import WHERE, measuring_source, measuring_svg
from export.store.sign_off import ALWAYS, PieceChecks, SignOff, sign_off_source
from parametric.geometry.hand import Hand
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
    assert set(WHERE) >= set(MEANINGS) and len(set(WHERE.values())) == len(WHERE)
    drawn = measuring_svg(Hand.LEFT)
    assert all(f">{WHERE[column]}</text>" in drawn for column in MEANINGS)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("demo", ["avalanche-centre", "field-station", "keepers-room"])
def test_no_sheet_runs_over_its_page(demo: str, paper: Paper) -> None:
    of = job(demo)
    sheets = tuple(measuring_sheets(of.rooms, of.units))
    assert len(texts(pdf_bytes(measuring_source(of.name, sheets, "units", paper)))) == len(of.rooms)


@pytest.mark.parametrize("paper", Paper)
def test_each_room_has_a_sheet_on_one_page(paper: Paper) -> None:
    of = job("survey-ship")
    sheets = tuple(measuring_sheets(of.rooms, of.units))
    pages = texts(pdf_bytes(measuring_source(of.name, sheets, "millimetres", paper)))
    assert len(pages) == len(of.rooms)
    for room, text in zip(of.rooms, pages, strict=True):
        assert f"Measure room {room.number}" in text
        assert all(column in text for column in MEANINGS)
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
