"""A job made wrong in one place yields exactly the findings that it should, and no others."""

from dataclasses import replace
from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.stages.sets.check_stage import check
from casewright.stages.sets.job_findings import use_findings
from parametric.findings.finding import Severity
from tests.casewright.test_cli import CONFIGS, copied
from tests.told import said

ROOMS = "keepers-room-rooms.csv"
HEAD = (
    "room,set,hand,opening_at_floor,opening_at_seat,floor_width,floor_depth,wall_base_height,"
    "wall_base_thickness"
)
JOB = "keepers-room.yaml"
ROW = "keeper,keeper,left,1840,1838,1840,3600,80,15"
TOO_HEAVY = {("board-mass", Severity.WARN), ("unit-lift", Severity.WARN)}
# Further into the boxes it carries more of their decks.
TOO_LONG = {("notch-bearing", Severity.FAIL)}
TURNED_OVER = "deck_length: 2800\n        deck_held: screwed"
NO_BLOCKING = f"{HEAD},blocking\n{ROW},none"


def amiss(job: Path) -> set[tuple[str, Severity]]:
    findings = check(read_job(job)).findings
    return {(f.code, f.severity) for f in findings if f.severity is not Severity.OK}


@pytest.mark.parametrize(
    ("file", "old", "new", "expected"),
    [
        (ROOMS, ROW, ROW, set()),
        (ROOMS, "1840,1838", "1840,1500", {("room-fit", Severity.FAIL)}),
        (ROOMS, f"{HEAD}\n{ROW}", NO_BLOCKING, {("wall-fixing-missed", Severity.WARN)}),
        ("hardware-metric.yaml", "height: 340", "height: 338", {("seat-height", Severity.FAIL)}),
        ("hardware-metric.yaml", "length: 30", "length: 42", {("screw-skin", Severity.FAIL)}),
        (JOB, "bearing: 80", "bearing: 190", TOO_LONG),
        ("materials-metric.yaml", "density_kg_m3: 680", "density_kg_m3: 1200", TOO_HEAVY),
        (JOB, "deck_length: 1920", TURNED_OVER, {("unit-lift", Severity.WARN)}),
        ("keepers-room.yaml", "butt_gap: 2", "butt_gap: 0.5", set()),
    ],
    ids=[
        "as it is",
        "opening too narrow",
        "blocking missing",
        "leg 2 mm too short",
        "screw too long",
        "angle that carries too much of the decks",
        "deck too heavy for two people",
        "bed too heavy for two people",
        "a bed laid against a table that it hardly leaves free",
    ],
)
def test_exactly_what_is_wrong_is_told(tmp_path: Path, file: str, old: str, new: str, expected):
    job = copied(tmp_path)
    text = (tmp_path / file).read_text()
    assert old in text
    (tmp_path / file).write_text(text.replace(old, new))
    assert amiss(job) == expected


def test_a_set_that_no_room_has_is_a_warning() -> None:
    """`set-in-use` has no failure: the set is not built, and nobody misses it."""
    job = read_job(CONFIGS / "keepers-room.yaml")
    (used,), (unused,) = use_findings(job), use_findings(replace(job, rooms=()))
    assert (used.code, used.severity) == ("set-in-use", Severity.OK)
    assert said(used) == "used in 1 room"
    assert (unused.severity, said(unused)) == (Severity.WARN, "used in 0 rooms")
