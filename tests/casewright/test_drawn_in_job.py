"""Panels that other programs drew in a job of its own furniture."""

import csv
from io import StringIO
from pathlib import Path, PurePosixPath

import cadquery as cq
import pytest

from casewright.errors import InputErrors
from casewright.intake.read_job import read_job
from casewright.output.folder import write_folder
from casewright.pipeline import build
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.sets.check_stage import check
from nesting.question.settings import Effort
from tests import drawn_shapes as drawn
from tests.casewright.build_fixtures import outcome_of
from tests.casewright.dxf_to_solid import best_difference, manifest_of, solid_from_dxf
from tests.casewright.test_cli import copied
from tests.drawn_shapes import anywhere, step_of

CUT_LIST = PurePosixPath("shop/cutlist.csv")


def keeper_with(folder: Path, table: str, **shapes: cq.Shape) -> Path:
    """The keeper's room with a table of panels, its STEP files beside it."""
    job = copied(
        folder, ("machine: router-metric.yaml", "machine: router-metric.yaml\npanels: p.csv")
    )
    (folder / "p.csv").write_text("file,quantity,name,material\n" + table, encoding="utf-8")
    for name, shape in shapes.items():
        (folder / f"{name}.step").write_bytes(step_of(shape))
    return job


def cut_list(files: dict[PurePosixPath, bytes]) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(files[CUT_LIST].decode())))


def test_they_stand_behind_the_job_s_own_parts_and_are_cut_with_them(tmp_path: Path) -> None:
    """All that the job had stays as it was, number by number; the door comes behind it, is nested
    with the parts of its board, and its cut file makes the solid that was drawn.
    """
    table = "door.step,3,door,raw-particleboard\n"
    job = read_job(keeper_with(tmp_path, table, door=anywhere(drawn.door())))
    assert tmp_path / "door.step" in job.files
    outcome = build(job, settings=NestSettings(effort=Effort.QUICK))
    before, after = cut_list(outcome_of("keepers-room").files), cut_list(outcome.files)
    assert after[:-1] == before
    assert (after[-1]["description"], after[-1]["quantity"]) == ("door", "3")
    assert after[-1]["part"] == f"P{len(after):03d}"
    write_folder(tmp_path / "out", outcome.files)
    manifest = manifest_of(tmp_path / "out")
    made = solid_from_dxf(tmp_path / "out", manifest, after[-1]["part"], 18.0)
    assert best_difference(made, drawn.door()) < 0.1
    placed = sum(
        layout.runs
        for nest in outcome.nests
        for layout in nest.solution.layouts
        for placement in layout.placements
        if placement.piece == after[-1]["part"]
    )
    assert placed == 3
    assert b"door.step" in outcome.files[PurePosixPath("shop/panels.csv")]
    labels = csv.DictReader(StringIO(outcome.files[PurePosixPath("shop/labels.csv")].decode()))
    doors = [row for row in labels if row["number"] == after[-1]["part"]]
    assert [(row["room"], row["unit"], row["piece"]) for row in doors] == [("", "door", "")] * 3


def test_without_a_table_nothing_is_said_of_panels() -> None:
    assert PurePosixPath("shop/panels.csv") not in outcome_of("keepers-room").files


def test_what_is_no_panel_is_told_by_the_table_s_line(tmp_path: Path) -> None:
    cube = cq.Solid.makeBox(18, 18, 18)
    job = read_job(keeper_with(tmp_path, "cube.step,1,,\n", cube=cube))
    with pytest.raises(InputErrors, match=r"p\.csv:2: file: found cube\.step: 18 x 18 x 18 mm"):
        check(job)


def test_faults_of_the_table_are_told_with_those_of_the_job(tmp_path: Path) -> None:
    job = keeper_with(tmp_path, "door.step,many,,oak\n")
    with pytest.raises(InputErrors) as told:
        read_job(job)
    assert [(fault.line, fault.key_path) for fault in told.value.faults] == [
        (2, "quantity"),
        (2, "material"),
    ]
    (tmp_path / "p.csv").unlink()
    with pytest.raises(
        InputErrors, match=r"keepers-room\.yaml:\d+: panels: found 'p\.csv', no such"
    ):
        read_job(job)
