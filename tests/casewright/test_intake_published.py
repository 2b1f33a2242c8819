"""What the intake publishes: the JSON Schema of the job file, and the job to start from."""

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from casewright.errors import InputErrors
from casewright.intake.job_schema import job_json_schema
from casewright.intake.read_job import read_job
from casewright.intake.template import template_files, template_text
from parametric.hand import Hand
from parametric.lengths import Units
from tests.casewright.intake_folder import CENTRE, CONFIGS, KEEPER, SHIP

SCHEMA = job_json_schema()
JOBS = [CONFIGS / f"{name}.yaml" for name in (CENTRE, SHIP, KEEPER)]


def problems(value: Any, schema: dict[str, Any], at: str = "$") -> list[str]:
    """Return where a value departs from a schema: a validator of the few words used here, written
    from the JSON Schema specification (2020-12), sharing nothing with the intake."""
    if "$ref" in schema:
        return problems(value, SCHEMA["$defs"][schema["$ref"].removeprefix("#/$defs/")], at)
    found: list[str] = []
    for word, most in (("anyOf", 1000), ("oneOf", 1)):
        options = schema.get(word, ())
        if options and not 1 <= sum(not problems(value, s, at) for s in options) <= most:
            found.append(f"{at} {word}")
    if "enum" in schema and value not in schema["enum"]:
        found.append(f"{at} enum")
    if "type" in schema and not is_type(value, schema["type"]):
        return [*found, f"{at} type"]
    if isinstance(value, str) and not re.search(schema.get("pattern", ""), value):
        found.append(f"{at} pattern")
    low, high = schema.get("minimum", value), schema.get("maximum", value)
    if isinstance(value, int | float) and not low <= value <= high:
        found.append(f"{at} range")
    if isinstance(value, list):
        for index, item in enumerate(value):
            found += problems(item, schema.get("items", {}), f"{at}.{index}")
    if isinstance(value, dict):
        found += [f"{at}.{key} required" for key in schema.get("required", ()) if key not in value]
        for key, item in value.items():
            found += entry_problems(key, item, schema, f"{at}.{key}")
    return found


def entry_problems(key: str, value: Any, schema: dict[str, Any], at: str) -> list[str]:
    if key in schema.get("properties", {}):
        return problems(value, schema["properties"][key], at)
    for pattern, inner in schema.get("patternProperties", {}).items():
        if re.search(pattern, key):
            return problems(value, inner, at)
    return [f"{at} unknown"] if schema.get("additionalProperties") is False else []


def is_type(value: Any, name: str) -> bool:
    if isinstance(value, bool):
        return name == "boolean"
    kinds: dict[str, Any] = {
        "object": dict,
        "array": list,
        "string": str,
        "number": (int, float),
        "integer": int,
    }
    return value is None if name == "null" else isinstance(value, kinds.get(name, ()))


def loaded(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_demo_jobs_follow_the_published_schema(path: Path) -> None:
    assert problems(loaded(path.read_text(encoding="utf-8")), SCHEMA) == []


@pytest.mark.parametrize("units", list(Units))
def test_the_template_follows_the_published_schema(units: Units) -> None:
    assert problems(loaded(template_text(units)), SCHEMA) == []


@pytest.mark.parametrize(
    ("old", "new", "at"),
    [
        ("base_height: 340", "base_height: 340 m", "$.sets.standard.base_height anyOf"),
        ("base_height: 340", "base_hight: 340", "$.sets.standard.base_hight unknown"),
        ("plates: 2", "plates: 1", "$.sets.standard.wall_panel anyOf"),
        ("grain: none", "grain: some", "$.materials.white-board.grain enum"),
        ("  standard:", "  Standard:", "$.sets.Standard unknown"),
        ("currency: EUR", "currency: euro", "$.currency pattern"),
        ("schedule: rooms.csv", "", "$.schedule required"),
    ],
)
def test_the_published_schema_refuses_what_the_reader_refuses(
    tmp_path: Path, old: str, new: str, at: str
) -> None:
    files = template_files(Units.MM)
    broken = files["job.yaml"].replace(old, new, 1)
    found = problems(loaded(broken), SCHEMA)
    assert any(problem == at or at.startswith(problem) for problem in found), found
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
    assert all(
        None not in (sizes.bench, sizes.table, sizes.bed, sizes.wall_panel, sizes.angle)
        for sizes in job.sets
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
