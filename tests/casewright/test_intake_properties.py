"""Whatever is done to a valid job: it is read, or its faults are located. Nothing else happens."""

import copy
import io
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from casewright.errors import Fault, InputErrors
from casewright.intake.read_job import read_job
from casewright.intake.template import template_files
from casewright.job import Job
from parametric.stock.lengths import Units
from tests.casewright.intake_folder import CONFIGS, KEEPER

KeyPath = tuple[str, ...]

FILES = {name: text.encode() for name, text in template_files(Units.MM).items()}
JOB: Any = YAML(typ="safe", pure=True).load(FILES["job.yaml"])

# Maps whose keys are names that the user gives: any other name may be as good.
SHELVES = {"materials", "bands", "bars", "screws", "angles", "legs", "wall_plates", "caps"}
PARTS_OF_A_SET = {"head_wall", "ties", "hung"}
BY_NAME = {"sets", "stock", *PARTS_OF_A_SET, *SHELVES}
# What a schema can do without, though a job may not.
TOLERANCES = {"thickness_tolerance", "leg_tolerance"}
OPTIONAL = {
    "libraries",
    "formaldehyde",
    "sorting",
    "cut_in_order_of",
    "labels",
    "label_stocks",
    "dxf_version",
    "shelf_height",
    "countersink_angle",
    "made_for",
    "head",
    "drive",
    "countersunk",
    *TOLERANCES,
    *SHELVES,
    *PARTS_OF_A_SET,
}
DEFAULTED = {
    *(("machine", key) for key in ("saw", "offcut", "small_parts")),
    ("loads",),
    ("walls",),
    *(("walls", key) for key in ("every",)),
    *(("loads", key) for key in ("blocking", "lining", "climate", "use")),
}
quickly = settings(max_examples=60, deadline=None)


def schema_keys(value: Any, at: KeyPath = ()) -> Iterator[KeyPath]:
    """Yield the paths of all keys that the schema names."""
    for key, inner in value.items() if isinstance(value, dict) else ():
        if not (at and at[-1] in BY_NAME):
            yield (*at, key)
        yield from schema_keys(inner, (*at, key))


def at(path: KeyPath) -> Any:
    value: Any = JOB
    for key in path:
        value = value[key]
    return value


KEYS = list(schema_keys(JOB))
NEEDED = [path for path in KEYS if path[-1] not in OPTIONAL and path[:2] not in DEFAULTED]
NUMBERS = [path for path in KEYS if isinstance(at(path), int | float)]


def changed(path: KeyPath, *, key: str | None, value: Any) -> dict[str, bytes]:
    """Return the job's files with one entry changed: its key (None: dropped) and its value."""
    job: Any = copy.deepcopy(JOB)
    holder = job
    for step in path[:-1]:
        holder = holder[step]
    entries = [
        (key if name == path[-1] else name, value if name == path[-1] else old)
        for name, old in holder.items()
    ]
    holder.clear()
    holder.update({name: entry for name, entry in entries if name is not None})
    stream = io.StringIO()
    yaml: Any = YAML(typ="safe", pure=True)
    yaml.default_flow_style = False
    yaml.sort_base_mapping_type_on_output = False
    yaml.dump(job, stream)
    return {**FILES, "job.yaml": stream.getvalue().encode("utf-8", "surrogatepass")}


def outcome(files: dict[str, bytes]) -> tuple[Job | None, tuple[Fault, ...]]:
    """Return the job or its faults; every fault is one line, about a line that its file has."""
    with tempfile.TemporaryDirectory() as folder:
        for name, content in files.items():
            (Path(folder) / name).write_bytes(content)
        try:
            return read_job(Path(folder) / "job.yaml"), ()
        except InputErrors as told:
            faults = told.faults
    assert faults
    for fault in faults:
        lines = files[Path(fault.file).name].decode("utf-8", "replace").splitlines()
        assert 1 <= fault.line <= len(lines) + 1, str(fault)
        assert len(str(fault).splitlines()) == 1
        str(fault).encode("utf-8")
    return None, faults


def line_of(files: dict[str, bytes], fault: Fault) -> str:
    return files["job.yaml"].decode().splitlines()[fault.line - 1]


def test_the_job_that_is_changed_below_is_valid() -> None:
    assert outcome(changed(KEYS[0], key=KEYS[0][-1], value=at(KEYS[0])))[0] is not None
    assert len(NEEDED) > 130
    assert len(NUMBERS) > 70


@quickly
@given(st.sampled_from(NEEDED))
def test_a_key_that_is_dropped_is_missed(path: KeyPath) -> None:
    _, faults = outcome(changed(path, key=None, value=None))
    (fault,) = [fault for fault in faults if fault.key_path == ".".join(path)]
    assert fault.found == "nothing"
    assert fault.allowed.endswith("(must be given)")


@pytest.mark.parametrize("shelf", sorted(SHELVES))
def test_a_shelf_that_is_dropped_is_missed_by_those_who_name_its_entries(shelf: str) -> None:
    _, faults = outcome(changed((shelf,), key=None, value=None))
    assert {fault.allowed for fault in faults} == {f"nothing, for there are no {shelf}"}


@pytest.mark.parametrize("unit", [("head_wall", "bench"), ("head_wall", "bed"), ("ties", "tie")])
def test_a_unit_that_is_dropped_is_missed_by_those_that_need_it(unit: KeyPath) -> None:
    _, faults = outcome(changed(("sets", "standard", *unit), key=None, value=None))
    table = "sets.standard.head_wall.bedside table"
    assert table in {fault.key_path for fault in faults}


@quickly
@given(
    # Without its family nobody knows what a unit's keys are: that is told, and nothing else of it.
    st.sampled_from([path for path in KEYS if path[-1] != "family"]),
    st.sampled_from(["x", "_", "s"]),
)
def test_a_key_that_is_misspelt_is_told_with_the_nearest(path: KeyPath, slip: str) -> None:
    files = changed(path, key=path[-1] + slip, value=at(path))
    _, faults = outcome(files)
    (fault,) = [f for f in faults if f.key_path == ".".join(path) + slip]
    assert fault.found == "an unknown key"
    assert f"(nearest: {path[-1]})" in fault.allowed
    assert line_of(files, fault).strip().startswith(f"{path[-1]}{slip}:")


@quickly
@given(
    # Of a key that is yes or no, True is the right kind.
    st.sampled_from([path for path in KEYS if path != ("libraries",) and at(path) is not True]),
    st.sampled_from([[], ["a"], True]),
)
def test_a_value_of_another_kind_is_told_in_its_line(path: KeyPath, value: Any) -> None:
    files = changed(path, key=path[-1], value=value)
    _, faults = outcome(files)
    told = [fault for fault in faults if fault.key_path == ".".join(path)]
    assert told
    assert line_of(files, told[0]).strip().startswith(f"{path[-1]}:")


GARBAGE = st.one_of(
    st.sampled_from(
        ["", "60 inn", "1/0 in", "1 2", "٣", "-", "mm", '"', "1'", "1e2", "nan", "0x1F", "12 mm mm"]
    ),
    st.floats(allow_nan=True, allow_infinity=True).filter(lambda x: not 0 <= x < 1e6),
    st.integers(max_value=-1),
    st.integers(min_value=10**7),
    st.booleans(),
)


@quickly
@given(st.sampled_from(NUMBERS), GARBAGE)
def test_garbage_instead_of_a_number_is_told_in_its_line(path: KeyPath, value: Any) -> None:
    files = changed(path, key=path[-1], value=value)
    _, faults = outcome(files)
    told = [fault for fault in faults if fault.key_path == ".".join(path)]
    assert told
    assert line_of(files, told[0]).strip().startswith(f"{path[-1]}:")


@quickly
@given(st.sampled_from(KEYS), st.text(max_size=20))
def test_any_text_anywhere_is_read_or_told(path: KeyPath, text: str) -> None:
    outcome(changed(path, key=path[-1], value=text))


PIECES = st.one_of(
    st.binary(max_size=3),
    st.sampled_from(
        [b"&a ", b"*a", b"[", b"{", b"}", b"- ", b": ", b"\t", b"!!int ", b'"', b"'", b"=", b",",
         b"%YAML 1.1\n", b"---\n", b"|\n", b"?", b"<<: ", b"!!set ", b"1e999", b".nan", b"~",
         b"\n", b"\r", b'"\\ud800"', b"1:30:30", b"9" * 5000, b"\xef\xbb\xbf", b"\xe2\x80\xa8"]
    ),
)  # fmt: skip
EDITS = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 20), PIECES), min_size=1, max_size=3)
SMALL = {
    "job.yaml": (CONFIGS / f"{KEEPER}.yaml").read_bytes(),
    **{path.name: path.read_bytes() for path in CONFIGS.glob("*-metric.yaml")},
    **{path.name: path.read_bytes() for path in CONFIGS.glob(f"{KEEPER}-rooms.csv")},
}


@quickly
@given(st.sampled_from(sorted(SMALL)), EDITS)
def test_any_bytes_anywhere_are_read_or_told(
    name: str, edits: list[tuple[float, int, bytes]]
) -> None:
    content = SMALL[name]
    for where, length, piece in edits:
        start = round(where * len(content))
        content = content[:start] + piece + content[start + length :]
    outcome({**SMALL, name: content})


CELLS = st.one_of(
    st.text(max_size=8), st.sampled_from(["", "keeper", "left", "right", "1838", "-3", "1/8 in"])
)


@quickly
@given(st.lists(st.lists(CELLS, min_size=3, max_size=7), min_size=1, max_size=4))
def test_any_schedule_is_read_or_told(rows: list[list[str]]) -> None:
    head = SMALL[f"{KEEPER}-rooms.csv"].splitlines()[0]
    lines = [head, *(",".join(row).encode("utf-8", "surrogatepass") for row in rows)]
    outcome({**SMALL, f"{KEEPER}-rooms.csv": b"\n".join(lines)})
