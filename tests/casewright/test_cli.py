"""The command line as a person meets it: what it prints, its exit codes, what it leaves behind."""

import csv
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from casewright.errors import DoesNotFit
from casewright.intake.read_job import read_job
from casewright.stages.sets.used_sets import placed_sets
from tests.casewright.build_fixtures import CONFIGS

ROOT = Path(__file__).parents[2]


def run(
    *arguments: object, seed: str = "0", columns: int = 120
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "casewright.cli", *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env=os.environ | {"PYTHONHASHSEED": seed, "COLUMNS": str(columns)},
    )


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def copied(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    """The keeper's room with its job text changed."""
    for path in CONFIGS.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    job = tmp_path / "keepers-room.yaml"
    text = job.read_text()
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    job.write_text(text)
    return job


def test_same_input_same_bytes_and_the_closing_table(tmp_path: Path) -> None:
    """Two builds in different folders with different hash seeds are byte-identical.

    On the narrowest terminal that is usual nothing of the table is cut off.
    """
    job = CONFIGS / "keepers-room.yaml"
    for name, seed in (("one", "1"), ("two", "4711")):
        done = run("build", job, "--out", tmp_path / name / "out", seed=seed, columns=80)
        assert done.returncode == 0, done.stderr
    one, two = tree(tmp_path / "one" / "out"), tree(tmp_path / "two" / "out")
    assert one.keys() == two.keys()
    assert [name for name in one if one[name] != two[name]] == []
    assert len(one) > 20
    for word in ("1 room,", "different parts", "sheets", "least", "yield", "Findings"):
        assert word in done.stdout, word
    assert "…" not in done.stdout
    lines = [line.rstrip() for line in done.stdout.splitlines()]
    rows = [line.split() for line in lines if line.endswith(" %")]
    assert len(rows) == 4 + 2  # three sheet materials with their sum, two kinds of bar
    assert rows[3][:6] == ["all", "materials", "15", "3", "3", "nothing"]
    headings = [line.split() for line in lines if line.endswith("yield")]
    assert headings == [
        [
            "material",
            "pieces",
            "sheets",
            "least",
            "proven",
            "by",
            "save",
            "layouts",
            "yield",
        ],
        ["bars", "pieces", "length", "to", "buy", "at", "least", "patterns", "yield"],
    ]


def test_check_writes_nothing(tmp_path: Path) -> None:
    job = copied(tmp_path)
    before = tree(tmp_path)
    done = run("check", job)
    assert done.returncode == 0
    assert "0 fail" in done.stdout
    assert re.search(
        r"^[1-9]\d* things are not checked \(--verbose shows each\)\.$", done.stdout, re.M
    )
    assert tree(tmp_path) == before


def test_a_failed_finding_keeps_cut_files_back(tmp_path: Path) -> None:
    """A leg 5 mm too long: the deck would rock."""
    job = copied(tmp_path)
    hardware = tmp_path / "hardware-metric.yaml"
    hardware.write_text(hardware.read_text().replace("height: 340", "height: 345"))
    done = run("build", job, "--out", tmp_path / "out")
    assert done.returncode == 1
    assert "FAIL" in done.stdout
    assert not list((tmp_path / "out").rglob("*.dxf"))
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text())
    assert manifest["findings"]["fail"] >= 1
    assert manifest["nests"] == []
    told = run("build", job, "--out", tmp_path / "out", "--despite-failures")
    assert told.returncode == 1
    assert list((tmp_path / "out").rglob("*.dxf"))


def test_wrong_input_is_located_and_leaves_nothing(tmp_path: Path) -> None:
    job = copied(tmp_path, ("base_height:", "base_hieght:"))
    done = run("build", job, "--out", tmp_path / "out")
    assert done.returncode == 2
    assert "keepers-room.yaml:" in done.stderr
    assert "base_hieght" in done.stderr
    assert "base_height" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()


def test_missing_job(tmp_path: Path) -> None:
    done = run("build", tmp_path / "none.yaml", "--out", tmp_path / "out")
    assert done.returncode == 2
    assert "none.yaml" in done.stderr
    assert "Traceback" not in done.stderr


def test_too_little_stock(tmp_path: Path) -> None:
    job = copied(tmp_path)
    materials = tmp_path / "materials-metric.yaml"
    text = materials.read_text()
    materials.write_text(text.replace("price: 118.00}", "price: 118.00, on_hand: 0}"))
    line = text[: text.index("price: 118.00}")].count("\n") + 1
    told = f"{materials.as_posix()}:{line}: materials.ash-one-face.stock.2800x2070.on_hand: "
    done = run("build", job, "--out", tmp_path / "out")
    assert done.returncode == 3, done.stderr
    assert told in done.stderr
    assert "buy at least 1 more of 2800x2070 (2800 mm x 2070 mm)" in done.stderr
    assert "--despite-shortage" in done.stderr
    assert "sets" not in done.stderr  # told before anything is made
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()
    checked = run("check", job)
    assert checked.returncode == 1
    assert told in checked.stderr
    assert "1 fail" in checked.stdout


def test_what_the_stock_holds_is_built_if_asked_and_the_rest_is_missed(tmp_path: Path) -> None:
    job = copied(tmp_path)
    materials = tmp_path / "materials-metric.yaml"
    text = materials.read_text().replace("price: 118.00}", "price: 118.00, on_hand: 0}")
    materials.write_text(text)
    out = tmp_path / "out"
    done = run("build", job, "--out", out, "--effort", "quick", "--despite-shortage")
    assert done.returncode == 1, done.stderr  # nobody takes it for complete
    assert "Not complete, ash-one-face is left out" in done.stdout
    manifest = json.loads((out / "manifest.json").read_text())
    nested = {nest["material"] for nest in manifest["nests"]}
    assert nested == {"raw-particleboard", "ash-both-faces"}
    (left_out,) = manifest["left_out"]
    assert (left_out["material"], left_out["form"]) == ("ash-one-face", "sheets")
    row = text[: text.index("118.00, on_hand")].count("\n") + 1
    assert left_out["why"].startswith(f"materials-metric.yaml:{row}: ")
    assert {path.name for path in (out / "shop" / "sheets").iterdir()} == nested
    with (out / "shop" / "yield.csv").open(newline="") as stream:
        rows = {row["material"]: row["left_out"] for row in csv.DictReader(stream)}
    assert rows == dict.fromkeys(nested, "") | {"ash-one-face": left_out["why"]}
    with (out / "findings.csv").open(newline="") as stream:
        failed = [row for row in csv.DictReader(stream) if row["result"] == "fail"]
    assert [row["check"] for row in failed] == ["stock-on-hand"]
    assert "Not complete" in (out / "summary.html").read_text()
    materials.write_text(re.sub(r"price: ([0-9.]+)}", r"price: \1, on_hand: 0}", text))
    none = run("build", job, "--out", tmp_path / "none", "--despite-shortage")
    assert none.returncode == 3
    assert not (tmp_path / "none").exists()


def test_a_deck_that_no_sheet_holds_is_told_with_its_place(tmp_path: Path) -> None:
    job = copied(tmp_path)
    materials = tmp_path / "materials-metric.yaml"
    small = "length: 700, width: 400, price: 118.00}"
    materials.write_text(
        materials.read_text().replace("length: 2800, width: 2070, price: 118.00}", small)
    )
    with pytest.raises(DoesNotFit) as told:
        placed_sets(read_job(job))
    row = materials.read_text().split(small)[0].count("\n")  # of `stock:`, one above
    place = f"{materials.as_posix()}:{row}: materials.ash-one-face.stock: set keeper, left hand: "
    assert str(told.value).startswith(place)
    assert "deck of" in str(told.value)


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_a_new_job_builds_as_it_is(tmp_path: Path, units: str) -> None:
    started = run("new", tmp_path / "job", "--units", units)
    assert started.returncode == 0, started.stderr
    done = run("build", tmp_path / "job" / "job.yaml", "--out", tmp_path / "out")
    assert done.returncode == 0, done.stderr + done.stdout
    assert (tmp_path / "out" / "summary.html").exists()
    again = run("new", tmp_path / "job")
    assert again.returncode == 2
    assert "not empty" in again.stderr


def test_schema_is_json_schema() -> None:
    done = run("schema")
    assert done.returncode == 0
    schema = json.loads(done.stdout)
    assert schema["$schema"].startswith("https://json-schema.org/")
    assert "sets" in schema["properties"]


def test_help_documents_exit_codes() -> None:
    done = run("--help")
    assert done.returncode == 0
    assert "Exit codes" in done.stdout
    for command in ("build", "check", "schema", "new"):
        assert command in done.stdout
