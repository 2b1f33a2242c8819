"""Changes written back into files: nothing but the change, and it reads as what was meant."""

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casewright.errors import InputErrors
from casewright.intake.document import Absent, Document, KeyPath
from casewright.intake.read_document import document_of
from casewright.intake.read_job import read_job
from casewright.intake.write_back import REMOVED, Added, Change, written_back
from casewright.intake.write_value import Length
from parametric.geometry.space import SAME_MM
from parametric.stock.lengths import LengthError, Sign, Units, exact_length

CONFIGS = Path(__file__).parents[2] / "configs"
FILES = sorted(f for f in CONFIGS.glob("*.yaml") if "\nunits:" in f.read_text("utf-8"))
HERE = Path("job.yaml")


def read(text: str) -> Document:
    document = document_of(HERE, text, [])
    assert document is not None
    return document


def changed(text: str, key_path: KeyPath, change: Change, units: Units = Units.INCH) -> str:
    return written_back(HERE, text, {key_path: change}, units)


def told(text: str, key_path: KeyPath, change: Change) -> str:
    with pytest.raises(InputErrors) as caught:
        changed(text, key_path, change)
    (fault,) = caught.value.faults
    return str(fault)


def differing(before: str, after: str) -> list[tuple[str, str]]:
    """The lines that differ between texts of as many lines, breaks included."""
    old, new = before.splitlines(keepends=True), after.splitlines(keepends=True)
    assert len(old) == len(new)
    return [(a, b) for a, b in zip(old, new, strict=True) if a != b]


def scalars(value: object, key_path: KeyPath = ()) -> Iterator[tuple[KeyPath, object]]:
    if isinstance(value, dict):
        for key, each in value.items():
            yield from scalars(each, (*key_path, key))
    elif isinstance(value, list):
        for index, each in enumerate(value):
            yield from scalars(each, (*key_path, index))
    else:
        yield key_path, value


def length_mm(value: object, units: Units) -> Fraction | None:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return None
    try:
        return exact_length(value, units, Sign.ANY)
    except LengthError:
        return None


@cache
def lengths_of(file: Path) -> tuple[str, Units, tuple[KeyPath, ...]]:
    """A demo file with the paths of all that reads as a length."""
    text = file.read_text(encoding="utf-8")
    document = read(text)
    units = Units(str(document.data["units"]))
    found = (path for path, value in scalars(document.data) if length_mm(value, units) is not None)
    return text, units, tuple(found)


# Lengths as people choose them: on 1/32 in, on 0.1 mm, and anything.
CHOSEN = st.one_of(
    st.integers(0, 4000).map(lambda steps: steps * 25.4 / 32),
    st.integers(0, 40000).map(lambda tenths: tenths / 10),
    st.floats(0, 5000, allow_nan=False),
)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_no_change_leaves_every_byte(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    values: dict[KeyPath, Any] = dict(list(scalars(read(text).data))[::7])
    assert written_back(file, text, {}) == text
    assert written_back(file, text, values) == text


@given(st.data(), st.sampled_from(FILES), CHOSEN)
def test_a_new_length_changes_its_line_alone_and_reads_back(
    data: st.DataObject, file: Path, mm: float
) -> None:
    text, units, paths = lengths_of(file)
    path = data.draw(st.sampled_from(paths))
    after = changed(text, path, Length(mm))
    lines = differing(text, after)
    assert len(lines) <= 1
    for old, new in lines:
        assert old.partition("#")[2] == new.partition("#")[2]
    found = length_mm(read(after).at(path), units)
    assert found is not None and abs(found - Fraction(mm)) <= SAME_MM
    assert changed(after, path, Length(mm)) == after


@pytest.mark.parametrize(
    ("written", "mm", "wanted"),
    [
        ("13 1/4 in", 13.5 * 25.4, "13 1/2 in"),
        ("13 1/4 in", 13 * 25.4, "13 in"),
        ("13 in", 13.25 * 25.4, "13 1/4 in"),
        ("3/4 in", 1.25 * 25.4, "1 1/4 in"),
        ("3/4", 25.4 / 32, "1/32"),
        ("13 1/4 in", 0.0, "0 in"),
        ('13-1/4"', 13.5 * 25.4, '13-1/2"'),
        ("13.25 in", 13.5 * 25.4, "13.5 in"),
        ("13 1/4 inches", 13.27 * 25.4, "13.27 inches"),
        ("24", 24.5 * 25.4, "24.5"),
        ("24.0", 25 * 25.4, "25"),
        ("336.5 mm", 337.0, "337 mm"),
        ("336.5mm", 0.1 + 0.2, "0.3mm"),
        ("10 mm", 25.4 / 64, "0.396875 mm"),
        ("-1/2 in", -19.05, "-3/4 in"),
        ("'13 1/4 in'", 13.5 * 25.4, "'13 1/2 in'"),
        ('"13 1/4\\""', 13.5 * 25.4, '"13 1/2\\""'),
        ("0x18", 25.4, "1"),
        ("auto", 13.5 * 25.4, "13 1/2 in"),
        ("auto", 13 * 25.4, "13"),
    ],
)
def test_lengths_stay_written_as_the_person_writes_them(
    written: str, mm: float, wanted: str
) -> None:
    for text in ("units: inch\nheight: {} # why\n", "{{units: inch, height: {}, depth: 3}}\n"):
        before = text.format(written)
        assert changed(before, ("height",), Length(mm)) == text.format(wanted)


def test_bare_lengths_count_in_the_units_of_the_file() -> None:
    assert changed("units: mm\nheight: 300\n", ("height",), Length(12.5)).endswith("height: 12.5\n")
    assert changed("height: 3\n", ("height",), Length(12.7), Units.INCH) == "height: 0.5\n"
    assert changed("height: 3\n", ("height",), Length(12.7), Units.MM) == "height: 12.7\n"


@pytest.mark.parametrize(
    ("before", "key_path", "change", "after"),
    [
        ("a: {b: 24, c: 4} # d\n", ("a", "b"), 25, "a: {b: 25, c: 4} # d\n"),
        ("a: {b: 24, c: 4} # d\n", ("a", "b"), REMOVED, "a: {c: 4} # d\n"),
        ("a: {b: 24, c: 4} # d\n", ("a", "c"), REMOVED, "a: {b: 24} # d\n"),
        ("a: {b: 24}\n", ("a", "b"), REMOVED, "a: {}\n"),
        ("a: {b: 24}\n", ("a", "c"), Added(Length(6.35)), "a: {b: 24, c: 1/4 in}\n"),
        ("a: {}\n", ("a", "c"), Added(True), "a: {c: true}\n"),
        ("a: [1, 2]\n", ("a", 2), Added("x, y"), "a: [1, 2, 'x, y']\n"),
        ("a: [1, 2]\n", ("a", 0), REMOVED, "a: [2]\n"),
        ("a: []\n", ("a", 0), Added(None), "a: [null]\n"),
        ("a: 1\n", ("b",), Added({"c": 1, "d": [2]}), "a: 1\nb:\n  c: 1\n  d: [2]\n"),
        ("a: 1", ("b",), Added(2), "a: 1\nb: 2"),
        ("a: # x\n# y\nb: 1\n", ("a", "c"), Added(2), "a: # x\n  c: 2\n# y\nb: 1\n"),
        ("a: # x\nb: 1\n", ("a",), "text", "a: text # x\nb: 1\n"),
        ("a: 'it''s'\n", ("a",), "o'clock", "a: 'o''clock'\n"),
        ('a: "x"\n', ("a",), 'say "y"\n', 'a: "say \\"y\\"\\u000a"\n'),
        ("a: x\n", ("a",), "yes", "a: 'yes'\n"),
        ("a: x\n", ("a",), "12", "a: '12'\n"),
        ("a: x\n", ("a",), 1e-7, "a: 0.0000001\n"),
        ("a: |\n  two\n  lines\n\n# b\n", ("a",), "one", "a: one\n\n# b\n"),
        ("a:\n  b: 1 # c\n  # d\n  e: 2\n", ("a", "b"), REMOVED, "a:\n  # d\n  e: 2\n"),
        ("a:\n  b: 1\n  # d\n  e: 2\n", ("a", "e"), REMOVED, "a:\n  b: 1\n  # d\n"),
        ("a:\n  # d\n  b: 1 # c\n", ("a", "b"), REMOVED, "a:\n  # d\n  {} # c\n"),
        ("a:\n  - b: 1\n    c: 2\n", ("a", 0, "b"), REMOVED, "a:\n  - c: 2\n"),
        ("a:\n  - b: 1\n  - c: 2\n", ("a", 0), REMOVED, "a:\n  - c: 2\n"),
        ("a:\n- 1\n", ("a", 0), REMOVED, "a:\n  []\n"),
        ("a: &x # c\n", ("a",), 1, "a: &x 1 # c\n"),
        ("a:\n- b: 1\n# c\n", ("a", 1), Added({"d": 2}), "a:\n- b: 1\n- {d: 2}\n# c\n"),
        ("a: &x 1\nb: *x\n", ("b",), 2, "a: &x 1\nb: 2\n"),
        ("a: &x 1\n", ("a",), 2, "a: &x 2\n"),
        ('{\n  "a": 1,\n  "b": "x"\n}\n', ("b",), "y", '{\n  "a": 1,\n  "b": "y"\n}\n'),
        ('{\n  "a": 1\n}\n', ("b",), Added("x"), '{\n  "a": 1,\n  "b": "x"\n}\n'),
        ('{\n  "a": 1, # c\n  "b": 2\n}\n', ("a",), REMOVED, '{\n   # c\n  "b": 2\n}\n'),
        ('{\n  "a": 1,\n  "b": 2\n}\n', ("a",), REMOVED, '{\n  "b": 2\n}\n'),
    ],
)
def test_only_the_change_is_written(
    before: str, key_path: KeyPath, change: Change, after: str
) -> None:
    assert changed(before, key_path, change) == after
    with_returns = before.replace("\n", "\r\n")
    if "\n" not in before:
        return
    assert changed(with_returns, key_path, change) == after.replace("\n", "\r\n")


def test_changes_are_made_one_after_the_other() -> None:
    changes: dict[KeyPath, Change] = {
        ("units",): "inch",
        ("new",): Added({"wide": 1}),
        ("new", "wide"): Length(50.8),
        ("old",): REMOVED,
    }
    assert written_back(HERE, "units: mm\nold: 1\n", changes) == "units: inch\nnew:\n  wide: 2\n"


@pytest.mark.parametrize(
    ("text", "key_path", "change", "words"),
    [
        ("a:\n  bench: 1\n", ("a", "benhc"), 2, "job.yaml:1: a.benhc: found nothing; allowed"),
        ("a:\n  bench: 1\n", ("a", "benhc"), REMOVED, "(nearest: bench)"),
        (
            "a:\n  b: 1\n",
            ("a", "b"),
            Added(2),
            "job.yaml:2: a.b: found 1; allowed: a key that is n",
        ),
        ("a:\n  b: 1\n", ("c", "d"), Added(2), "c.d: found nothing; allowed: one of a"),
        ("a: [1]\n", ("a", 3), Added(2), "a.3: found nothing"),
        ("a: [1]\n", ("a", "b"), Added(2), "a.b: found nothing"),
        ("a: 1\n", ("a", "b"), Added(2), "a.b: found nothing"),
        ("a: 1\n", (), 2, "found nothing"),
        ("a: 1\n", ("a",), Length(1e9), "a: found a number out of all bounds"),
        ("a: 1\n", ("a",), Length(float("nan")), "a: found a number out of all bounds"),
        ("a: 1\n", ("a",), float("inf"), "a: found a number that is not finite"),
        ("a: &x 1\nb: *x\n", ("a",), 2, "a: found 1, in a place"),
        (
            "a: &x {b: 1}\nc: *x\n",
            ("c", "b"),
            2,
            "c.b: found 1, in a place",
        ),
        (
            "a: &x 1\nb: *x\n",
            ("a",),
            REMOVED,
            "a: found 1, in a place",
        ),
        ("a:\n  b: 1\n", ("a",), 2, "a: found a map, in a place"),
        ("a: {b}\n", ("a", "b"), 2, "a.b: found nothing, in a place"),
    ],
)
def test_what_cannot_be_changed_is_told_with_its_place(
    text: str, key_path: KeyPath, change: Change, words: str
) -> None:
    assert words in told(text, key_path, change)


def test_a_text_that_cannot_be_read_is_refused() -> None:
    assert "job.yaml:2" in told("a: 1\na: 2\n", ("a",), 3)
    assert "job.yaml:2" in told("a: [\n", ("a",), 3)


def test_a_changed_job_is_read_with_the_change(tmp_path: Path) -> None:
    for file in CONFIGS.iterdir():
        if file.is_file():
            (tmp_path / file.name).write_bytes(file.read_bytes())
    job = tmp_path / "keepers-room.yaml"
    before = job.read_text(encoding="utf-8")
    after = written_back(
        job, before, {("sets", "keeper", "head_wall", "bench", "deck_width"): Length(500.0)}
    )
    job.write_text(after, encoding="utf-8")
    assert [old.strip() for old, _ in differing(before, after)] == [
        "deck_width: 450 # a chair's depth"
    ]
    (sizes,) = read_job(job).sets
    bench, *_ = sizes.units()
    assert bench.sizes.deck_width_mm == 500.0


NAMES = st.text("abcdefgh", min_size=1, max_size=4)
TEXTS = st.one_of(
    st.text(max_size=8),
    st.sampled_from(["yes", "~", "12", "- x", "a: b", "x # y", "*a", "{", "\u2028", "\x00"]),
)
SCALARS = st.one_of(st.integers(-999, 999), st.booleans(), TEXTS, st.none(), st.floats(-9e5, 9e5))


@given(TEXTS, st.sampled_from(["a: x\n", "a: 'x'\n", 'a: "x"\n', "{b: 1, a: x}\n", "a:\n"]))
def test_any_text_reads_back_as_itself(new: str, text: str) -> None:
    after = changed(text, ("a",), new)
    assert read(after).at(("a",)) == new


class Made:
    """A file put together at random: its text, and what it holds."""

    def __init__(self, draw: Any) -> None:
        self._draw = draw
        self._comments = 0
        self.lines: list[str] = []
        self.data = self._map("", 0)
        self.text = draw(st.sampled_from(["\n", "\r\n"])).join([*self.lines, ""])

    def _comment(self) -> str:
        self._comments += 1
        return f" # comment {self._comments}." if self._draw(st.booleans()) else ""

    def _map(self, indent: str, depth: int) -> dict[str, object]:
        data: dict[str, object] = {}
        for key in self._draw(st.lists(NAMES, min_size=1, max_size=4, unique=True)):
            if self._draw(st.booleans()):
                self._comments += 1
                self.lines.append(f"{indent}# comment {self._comments}.")
            kind = self._draw(st.sampled_from(["block", "flow", "scalar", "list"]))
            if kind == "block" and depth < 3:
                self.lines.append(f"{indent}{key}:{self._comment()}")
                data[key] = self._map(indent + "  ", depth + 1)
            elif kind == "flow":
                inner = self._draw(st.dictionaries(NAMES, st.integers(0, 99), max_size=3))
                pairs = ", ".join(f"{name}: {value}" for name, value in inner.items())
                self.lines.append(f"{indent}{key}: {{{pairs}}}{self._comment()}")
                data[key] = inner
            elif kind == "list":
                data[key] = items = self._draw(st.lists(st.integers(0, 99), min_size=1, max_size=3))
                self.lines.append(f"{indent}{key}:{self._comment()}")
                self.lines += [f"{indent}- {item}{self._comment()}" for item in items]
            else:
                data[key] = value = self._draw(st.integers(0, 99))
                self.lines.append(f"{indent}{key}: {value}{self._comment()}")
        return data


def holders(value: object, key_path: KeyPath = ()) -> Iterator[KeyPath]:
    if isinstance(value, dict | list):
        yield key_path
        pairs = value.items() if isinstance(value, dict) else enumerate(value)
        for key, each in pairs:
            yield from holders(each, (*key_path, key))


def comments_of(text: str) -> list[str]:
    return re.findall(r"# comment \d+\.", text)


@st.composite
def files(draw: Any) -> Made:
    return Made(draw)


@given(files(), st.data())
def test_one_changed_value_changes_one_line(made: Made, data: st.DataObject) -> None:
    path, _ = data.draw(st.sampled_from([*scalars(made.data)] or [((), None)]))
    if not path:
        return
    after = changed(made.text, path, 1000)
    ((old, new),) = differing(made.text, after)
    assert comments_of(old) == comments_of(new)
    assert read(after).at(path) == 1000


@given(files(), st.data(), SCALARS)
def test_one_new_entry_leaves_all_others_and_all_comments(
    made: Made, data: st.DataObject, value: Any
) -> None:
    holder = data.draw(st.sampled_from([*holders(made.data)]))
    at = read(made.text).at(holder)
    key = len(at) if isinstance(at, list) else "zz"
    after = changed(made.text, (*holder, key), Added(value))
    assert comments_of(after) == comments_of(made.text)
    assert read(after).at((*holder, key)) == value
    if at:
        assert changed(after, (*holder, key), REMOVED) == made.text


@given(files(), st.data())
def test_what_is_removed_takes_nothing_along(made: Made, data: st.DataObject) -> None:
    paths = [(*holder, key) for holder in holders(made.data) for key in keys(made.data, holder)]
    path = data.draw(st.sampled_from(paths))
    after = changed(made.text, path, REMOVED)
    places = read(made.text).places
    its_lines = [place.line for below, place in places.items() if below[: len(path)] == path]
    inside = "\n".join(made.text.splitlines()[min(its_lines) - 1 : max(its_lines)])
    gone = set(comments_of(made.text)) - set(comments_of(after))
    assert gone <= set(comments_of(inside))
    assert read(after).at(path) is Absent or isinstance(path[-1], int)


def keys(data: Any, holder: KeyPath) -> list[str | int]:
    for key in holder:
        data = data[key]
    return list(data) if isinstance(data, dict) else list(range(len(data)))
