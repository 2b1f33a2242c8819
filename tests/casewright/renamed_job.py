"""A demo job with other names in place of those that a person chooses."""

import csv
import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from tests.casewright.intake_folder import JobFolder

SHELVES = (
    *("materials", "stock", "bands", "bars", "screws"),
    *("angles", "legs", "wall_plates", "caps", "sets"),
)
RUNS = ("head_wall", "side_wall", "foot_wall", "far_wall", "free", "hung", "ties")
SINGLE = "abcdefghijklmnopqrstuvwxyz0123456789"
MOST, MOST_OF_ROOM = 60, 20  # characters

Naming = Callable[[str, int], str]
"""Says a new name, from the old one and how many of its kind come before it."""


def of_one_letter(_: str, before: int) -> str:
    return SINGLE[before]


def of_many_words(name: str, _: int) -> str:
    return (
        f"{name} or what else it may be called where names are as long as may be"[: MOST - 1] + "n"
    )


def in_one_word(name: str, _: int) -> str:
    """Nowhere may such a name be broken but where it must be, and no letter is wider."""
    plain = name.replace(" ", "").replace("-", "")
    return plain + "w" * (MOST - len(plain))


def renamed(folder: Path, job: str, naming: Naming) -> JobFolder:
    """Return a copy of the demos in which sets, units, all on the shelves of the job and its
    libraries, rooms, floors and the job itself have new names.
    """
    copied = JobFolder(folder)
    path = copied.path(f"{job}.yaml")
    top = _loaded(path)
    libraries = map(copied.path, top["libraries"])
    files = {path: top, **{each: _loaded(each) for each in libraries}}
    kinds: dict[str, dict[str, str]] = {}
    for data in files.values():
        for kind, name in _names(data):
            names = kinds.setdefault(kind, {})
            given = naming(name, len(names))
            names.setdefault(name, given if kind == "units" else given.replace(" ", "-"))
    new = {name: given for names in kinds.values() for name, given in names.items()}
    for each, data in files.items():
        _write(each, _given(data, "", new))
    _rename_rooms(copied.path(top["schedule"]), kinds["sets"], naming)
    called = copied.path(f"{job}.yaml").read_text(encoding="utf-8")
    old = f"job: {top['job']}"
    assert old in called
    path.write_text(called.replace(old, f"job: {naming(top['job'], 0)}"), encoding="utf-8")
    return copied


def _names(data: Any) -> Iterator[tuple[str, str]]:
    """Yield the kind and the name of what has one in a file."""
    for key, inner in data.items() if isinstance(data, dict) else ():
        if (key in SHELVES or key in RUNS) and isinstance(inner, dict):
            yield from (("units" if key in RUNS else key, name) for name in inner)
        yield from _names(inner)


def _given(value: Any, key: str, new: dict[str, str]) -> Any:
    """Return a value of a file, and all in it, with new names where they are given and used."""
    if isinstance(value, dict):
        named = key in SHELVES or key in RUNS
        return {new[k] if named else k: _given(inner, k, new) for k, inner in value.items()}
    if isinstance(value, list):
        return [_given(each, key, new) for each in value]
    used = isinstance(value, str) and key != "family"
    return new.get(value, value) if used else value


def _rename_rooms(path: Path, sets: dict[str, str], naming: Naming) -> None:
    rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))
    floors = list(dict.fromkeys(row.get("floor", "") for row in rows))
    for at, row in enumerate(rows):
        row["room"] = naming(row["room"], at)[:MOST_OF_ROOM]
        row["set"] = sets[row["set"]]
        if floor := row.get("floor"):
            row["floor"] = naming(floor, floors.index(floor))[:MOST_OF_ROOM]
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def _loaded(path: Path) -> Any:
    return YAML(typ="safe", pure=True).load(path)


def _write(path: Path, data: Any) -> None:
    yaml: Any = YAML(typ="safe", pure=True)
    yaml.sort_base_mapping_type_on_output = False
    yaml.default_flow_style = False
    with path.open("w", encoding="utf-8") as file:
        yaml.dump(data, file)
