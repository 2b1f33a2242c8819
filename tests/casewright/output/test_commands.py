"""Every command that writes goes through the one door."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.casewright.build_fixtures import CONFIGS

ROOT = Path(__file__).parents[3]
JOB = CONFIGS / "keepers-room.yaml"
PIECES = "piece,length,width,quantity,turn\nside,800,330,2,no\n"
STOCK = "stock,length,width,quantity,price\nfull,2440,1220,,49.90\n"


def run(*arguments: object) -> subprocess.CompletedProcess[str]:
    """Run the command in the working folder of the test."""
    return subprocess.run(
        [sys.executable, "-m", "casewright.cli", *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | {"PYTHONPATH": str(ROOT), "COLUMNS": "200"},
    )


def build(out: str) -> list[object]:
    return ["build", JOB, "--out", out]


def nest(out: str) -> list[object]:
    Path("pieces.csv").write_text(PIECES)
    Path("stock.csv").write_text(STOCK)
    return ["nest", "pieces.csv", "stock.csv", "--gap", "10", "--effort", "quick", "--out", out]


def openings(out: str) -> list[object]:
    return ["openings", JOB, "--effort", "quick", "--out", out]


def new(out: str) -> list[object]:
    return ["new", out]


@pytest.mark.parametrize("command", [build, nest, openings, new])
def test_a_typed_path_costs_nobody_a_folder(
    below_temporary: Path, command: Callable[[str], list[object]]
) -> None:
    victim = below_temporary / "victim"
    (victim / "deep").mkdir(parents=True)
    (victim / "deep" / "letters.txt").write_text("dear")
    for typed in ("nosuch/../victim", "victim", "."):
        done = run(*command(typed))
        assert done.returncode == 2, done.stderr
        assert typed in done.stderr
        assert "Traceback" not in done.stderr
    assert (victim / "deep" / "letters.txt").read_text() == "dear"
    assert not (below_temporary / "nosuch").exists()


def test_a_nest_replaces_its_own_folder_and_edited_files_if_asked(below_temporary: Path) -> None:
    assert run(*nest("out")).returncode == 0
    assert run(*nest("out")).returncode == 0
    (below_temporary / "out" / "placements.csv").write_text("my own")
    refused = run(*nest("out"))
    assert refused.returncode == 2
    assert "placements.csv, edited since" in refused.stderr
    assert run(*nest("out"), "--replace-edited").returncode == 0
    assert (below_temporary / "out" / "placements.csv").read_text() != "my own"
    assert sorted(os.listdir(below_temporary)) == ["out", "pieces.csv", "stock.csv"]


def test_a_nest_in_the_folder_of_its_list_is_refused_by_name(below_temporary: Path) -> None:
    lists = below_temporary / "lists"
    lists.mkdir()
    (lists / "pieces.csv").write_text(PIECES)
    Path("stock.csv").write_text(STOCK)
    done = run("nest", "lists/pieces.csv", "stock.csv", "--gap", "0", "--out", "lists")
    assert done.returncode == 2
    assert "is the folder of pieces.csv" in done.stderr


def test_a_new_job_builds_where_it_was_started(below_temporary: Path) -> None:
    assert run("new", "job").returncode == 0
    assert sorted(os.listdir(below_temporary / "job")) == ["job.yaml", "rooms.csv"]
    again = run("new", "job")
    assert again.returncode == 2
    assert "is not empty" in again.stderr
