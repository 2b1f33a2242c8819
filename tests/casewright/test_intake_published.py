"""What the intake publishes: the JSON Schema of the job file, and the job to start from."""

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]
from ruamel.yaml import YAML

from casewright.errors import InputErrors
from casewright.intake.job_schema import job_json_schema
from casewright.intake.read_job import read_job
from casewright.intake.template import template_files, template_text
from parametric.geometry.hand import Hand
from parametric.stock.lengths import Units
from tests.casewright.intake_folder import CONFIGS
from tests.row import row_of

SCHEMA = job_json_schema()


def loaded(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("base_height: 340", "base_height: 340 m"),
        ("base_height: 340", "base_hight: 340"),
        ("plates: 2", "plates: 1"),
        ("grain: none", "grain: some"),
        ("  standard:", "  Standard:"),
        ("currency: EUR", "currency: euro"),
        ("schedule: rooms.csv", ""),
    ],
)
def test_the_published_schema_refuses_what_the_reader_refuses(
    tmp_path: Path, old: str, new: str
) -> None:
    files = template_files(Units.MM)
    broken = files["job.yaml"].replace(old, new, 1)
    assert broken != files["job.yaml"]
    assert not Draft202012Validator(SCHEMA).is_valid(loaded(broken))
    for name, text in {**files, "job.yaml": broken}.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    with pytest.raises(InputErrors):
        read_job(tmp_path / "job.yaml")


def test_every_length_of_the_schema_says_its_range() -> None:
    lengths = [
        field
        for entry in SCHEMA["$defs"].values()
        for field in entry.get("properties", {}).values()
        if "13 1/4 in" in json.dumps(field)
    ]
    assert len(lengths) > 50
    for field in lengths:
        assert re.search(r"A length from [0-9.]+ mm to [0-9.]+ mm\.", json.dumps(field))


@pytest.mark.parametrize("units", list(Units))
def test_the_template_can_be_read_as_it_is(tmp_path: Path, units: Units) -> None:
    for name, text in template_files(units).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    job = read_job(tmp_path / "job.yaml")
    assert job.units is units
    assert {room.hand for room in job.rooms} == set(Hand)
    rows = [row_of(sizes) for sizes in job.sets]
    assert all(
        None not in (row.bench, row.table, row.bed, row.wall_panel, row.angle) for row in rows
    )


@pytest.mark.parametrize("units", list(Units))
def test_the_template_explains_itself(units: Units) -> None:
    text = template_text(units)
    assert text.startswith("# A job to start from")
    assert text.count("#") > 40


def test_the_intake_loads_neither_kernel_nor_packer_nor_dxf() -> None:
    code = (
        "import sys, casewright.intake.read_job, casewright.intake.template\n"
        "print(sorted({name.split('.')[0] for name in sys.modules}\n"
        "             & {'cadquery', 'OCP', 'ezdxf', 'rectpack', 'shapely', 'numpy'}))"
    )
    root = CONFIGS.parent
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=root
    )
    assert done.stdout.strip() == "[]"
