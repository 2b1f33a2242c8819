"""The kit command as a person meets it."""

import csv
import io
import re
from math import fsum
from pathlib import Path

import pytest

from casewright.commands.kit_command import difference_table, kit_table
from casewright.intake.read_job import read_job
from casewright.stages.site.kit_stage import kits_of
from casewright.terminal.terminal_text import TextTable
from parametric.kit.compare import Difference
from parametric.kit.kit import Kit, KitLine, KitUnit
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.test_cli import copied, run

ROOT = CONFIGS.parent
JOB = CONFIGS / "keepers-room.yaml"


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "list.csv"
    path.write_text(text)
    return path


def test_the_kit_of_a_job():
    done = run("kit", JOB)
    assert done.returncode == 0, done.stderr
    assert "Board screw, countersunk, 4.0 x 50" in done.stdout
    assert "packed" in done.stdout


def test_the_readme_counts_the_screws_of_the_demo_as_its_kit_does() -> None:
    """Those of legs and those of walls are articles of their own in its job file."""
    job = read_job(CONFIGS / "avalanche-centre.yaml")
    kit = next(each.kit for each in kits_of(job) if each.set_name == "twin")
    counts = {line.key: line.needed for line in kit.lines if line.description.startswith("Wood")}
    text = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    told = re.findall(
        r"twin set (\d+) screws, of which (\d+) under .*? and (\d+) in the wall", text
    )
    wall = counts["no10-3"] + counts["no10-3-washer"]
    in_all, leg = fsum(counts.values()), counts["no10-5-8"]
    assert told == [(f"{in_all:.0f}", f"{leg:.0f}", f"{wall:.0f}")]


def shown(table: TextTable, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """The lines of a table, each run of blanks as one."""
    table.tell()
    return [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]


def test_each_article_of_a_kit_has_a_whole_row(capsys: pytest.CaptureFixture[str]) -> None:
    """Packed is what is needed and what is spare: 40 + 4 pieces, 12.2 + 3.5 ml."""
    screw = KitLine(
        key="4-0x30",
        description="Board screw",
        unit=KitUnit.PIECES,
        needed=40.0,
        spare=4.0,
        joints=(0, 1),
    )
    glue = KitLine(
        key="glue",
        description="Adhesive",
        unit=KitUnit.MILLILITRES,
        needed=12.2,
        spare=3.5,
        joints=(),
        supplied=False,
    )
    assert shown(kit_table(Kit(lines=(screw, glue))), capsys) == [
        "article description needed spare packed unit",
        "4-0x30 Board screw 40 4 44 pieces",
        "glue Adhesive 12.2 3.5 15.7 ml not supplied",
    ]


def test_each_article_of_a_comparison_has_a_whole_row(capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: 40 - 38 = 2 short, 12 - 10.5 = 1.5 short, 9 - 8 = 1 over; equal is neither."""

    def difference(key: str, description: str, needed: float, listed: float) -> Difference:
        return Difference(
            key=key, description=description, needed=needed, listed=listed, runs_out_at=""
        )

    differences = (
        difference("screw", "Board screw", 40.0, 38.0),
        difference("glue", "Adhesive", 12.0, 10.5),
        difference("cap", "Cap", 8.0, 9.0),
        difference("leg", "Leg", 4.0, 4.0),
        difference("washer", "", 0.0, 9.0),
    )
    assert shown(difference_table(differences), capsys) == [
        "article description needed listed short over",
        "screw Board screw 40 38 2",
        "glue Adhesive 12 10.5 1.5",
        "cap Cap 8 9 1",
        "leg Leg 4 4",
        "washer not needed 0 9 9",
    ]


def test_a_list_that_is_short_and_over(tmp_path: Path):
    short = written(tmp_path, "article,quantity\n4-0x50,10\n6-0x80,40\nwashers,9\n")
    done = run("kit", JOB, "--set", "keeper", "--hand", "left", "--compare", short)
    assert done.returncode == 1, done.stderr
    rows = {line.split()[0]: line for line in done.stdout.splitlines() if line.strip()}
    said = " ".join(done.stdout.split())
    assert "4-0x50 runs out in step 4, Put the bed together" in said
    assert "6-0x80 runs out" not in said
    assert "not needed" in rows["washers"]


def test_a_list_that_holds_all(tmp_path: Path):
    build = run("build", JOB, "--effort", "quick", "--out", tmp_path / "out")
    assert build.returncode == 0, build.stderr
    packed = (tmp_path / "out" / "site" / "pick-list.csv").read_text()
    lines = [f"{row['article']},{row['packed']}" for row in csv.DictReader(io.StringIO(packed))]
    done = run("kit", JOB, "--compare", written(tmp_path, "\n".join(("article,quantity", *lines))))
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("article,quantity\n4-0x30,many\n", "list.csv:2: quantity: found 'many'"),
        ("article,quantity\n4-0x30,-1\n", "list.csv:2: quantity: found '-1'"),
        ("article,quantity\n,4\n", "list.csv:2: article: found nothing"),
        ("article,number\n4-0x30,4\n", "list.csv:1: quantity: found no such column"),
    ],
)
def test_a_list_that_cannot_be_read_is_located(tmp_path: Path, text: str, told: str):
    done = run("kit", JOB, "--compare", written(tmp_path, text))
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr


def test_a_set_that_no_room_has():
    done = run("kit", JOB, "--set", "keper")
    assert done.returncode == 2
    assert "keeper" in done.stderr


def test_an_article_that_the_job_does_not_have_is_located(tmp_path: Path):
    job = copied(tmp_path, ("  bought:", "  not_supplied: [adhesve]\n  bought:"))
    done = run("kit", job)
    assert done.returncode == 2
    assert "kit.not_supplied" in done.stderr
    assert "adhesive" in done.stderr


def test_what_is_not_supplied_is_marked(tmp_path: Path):
    job = copied(
        tmp_path,
        (
            "  bought:",
            "  not_supplied: [adhesive]\n  spare_screws_percent: 0\n  bought:",
        ),
    )
    done = run("kit", job)
    assert done.returncode == 0, done.stderr
    rows = {line.split()[0]: line for line in done.stdout.splitlines() if line.strip()}
    assert "not supplied" in rows["adhesive"]
    assert rows["4-0x50"].split()[-4:-1] == ["18", "0", "18"]
