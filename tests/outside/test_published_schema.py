"""The published JSON Schema, used by an independent validator (the package jsonschema)."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]
from ruamel.yaml import YAML

from casewright.intake.job_schema import job_json_schema
from casewright.intake.template import template_text
from parametric.stock.lengths import Units
from tests.outside.built_demo import CONFIGS, DEMOS

SCHEMA = job_json_schema()
VALIDATOR = Draft202012Validator(SCHEMA)


def plain(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text)


def faults(value: Any) -> list[str]:
    return [f"{error.json_path}: {error.message}" for error in VALIDATOR.iter_errors(value)]


def test_the_schema_is_one() -> None:
    """Valid against the 2020-12 meta-schema, and it says which draft it follows."""
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA.get("$schema") == Draft202012Validator.META_SCHEMA["$id"]


@pytest.mark.parametrize("name", DEMOS)
def test_the_demo_jobs_follow_it(name: str) -> None:
    assert faults(plain((CONFIGS / f"{name}.yaml").read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("units", list(Units))
def test_the_templates_follow_it(units: Units) -> None:
    assert faults(plain(template_text(units))) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("units: mm", "units: cubit"),
        ("base_height: 340", "base_hight: 340"),
        ("base_height: 340", "base_height: about 340"),
        ("schedule: keepers-room-rooms.csv", ""),
        ("deck_width: 450", "deck_width: [450]"),
        ("deck_width: 450", "deck_width: 450 furlongs"),
    ],
)
def test_it_refuses_what_is_no_job(old: str, new: str) -> None:
    text = (CONFIGS / "keepers-room.yaml").read_text(encoding="utf-8")
    assert old in text
    assert faults(plain(text.replace(old, new, 1)))
