"""Cells of CSV tables: texts stay texts in a spreadsheet, numbers stay numbers, all reads back."""

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from export.tables.csv_cell import read_cell
from export.tables.csv_text import csv_text, fixed
from export.visible_text import STEERS
from tests.hostile_texts import HOSTILE

README = Path(__file__).parents[2] / "README.md"
# OWASP, "CSV Injection": cells that begin with one of these are read as formulas.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def cells(text: str) -> list[str]:
    header, row = csv.reader(io.StringIO(text), strict=True)
    assert header[0] == "a"
    return row


def written(*values: object) -> list[str]:
    return cells(csv_text("abcdefgh"[: len(values)], [values]))


@pytest.mark.parametrize("start", FORMULA_STARTS)
@pytest.mark.parametrize("before", ["", " ", "\xa0", "'", "''", " ' "])
def test_a_text_that_begins_like_a_formula_is_none(start: str, before: str) -> None:
    text = f"{before}{start}1+1"
    (cell,) = written(text)
    assert not cell.lstrip().startswith(FORMULA_STARTS)
    assert read_cell(cell) == text


def test_the_guard_is_one_apostrophe() -> None:
    texts = ("=1+1", "-2", "'-2", "''@x", "plain", "'tis", "12'", "a=b", "'")
    guarded = ["'=1+1", "'-2", "''-2", "'''@x", "plain", "'tis", "12'", "a=b", "'"]
    assert written(*texts[:8]) + written(texts[8]) == guarded


def test_numbers_stay_numbers() -> None:
    assert written(-3.5, -2, fixed(-0.25, 2), fixed(-1e-9)) == ["-3.5", "-2", "-0.25", "0.000"]


@given(st.floats(-1e9, 1e9), st.integers(0, 4))
def test_every_number_that_we_write_is_read_as_one(value: float, decimals: int) -> None:
    (cell,) = written(fixed(value, decimals))
    assert float(cell) == float(f"{value:.{decimals}f}")


@given(HOSTILE)
@example("=1+1")
@example("'=1+1")
@example(" \u202e=1+1")
@example("\\u202e")
def test_every_text_reads_back(text: str) -> None:
    (cell, beside) = written(text, "x")
    assert beside == "x"
    assert STEERS.search(cell) is None
    assert not cell.lstrip().startswith(FORMULA_STARTS)
    assert read_cell(cell) == text


def from_readme() -> Callable[[str], str]:
    """The rule as the README tells it to programs that are not ours."""
    blocks = re.findall("^```python\n(.*?)^```", README.read_text(encoding="utf-8"), re.M | re.S)
    (block,) = [block for block in blocks if "def text_of" in block]
    names: dict[str, Callable[[str], str]] = {}
    exec(block, names)
    return names["text_of"]


@given(HOSTILE)
@example("\\u00e9")
@example("\\Uffffffff")
def test_a_program_undoes_it_as_the_readme_says(text: str) -> None:
    assert from_readme()(written(text, "x")[0]) == text


@given(st.text(st.characters(categories=("L", "N", "P", "S", "Zs"), exclude_characters="\\")))
def test_what_people_write_reads_as_it_stands(text: str) -> None:
    """Unless it begins with apostrophes and the sign of a formula."""
    if not text.startswith("'") or text.lstrip("' \xa0")[:1] not in FORMULA_STARTS:
        assert read_cell(text) == text
