"""What a file may hold is said in plain words, whatever kind of thing stands there instead."""

from pathlib import Path
from typing import Annotated

import pytest
from pydantic import Field

from casewright.errors import Fault
from casewright.intake.entry import Entry, Name
from casewright.intake.read_document import read_document
from casewright.intake.schema_faults import schema_faults
from parametric.stock.lengths import Units


class Inner(Entry):
    """A map in a map."""

    number: float = 1.0


class Sample(Entry):
    """A key of each kind."""

    words: Annotated[str, Field(min_length=1)] = "a"
    number: float = 1.0
    whole: int = 1
    listed: Annotated[list[int] | None, Field(min_length=1)] = None
    mapped: Annotated[dict[Name, Inner] | None, Field(min_length=1)] = None
    inner: Inner = Inner()


def faults_of(folder: Path, text: str) -> list[Fault]:
    path = folder / "sample.yaml"
    path.write_text(text, encoding="utf-8")
    faults: list[Fault] = []
    document = read_document(path, faults)
    assert document is not None
    assert not faults
    return schema_faults(document, Sample, Units.MM)


@pytest.mark.parametrize(
    ("text", "key_path", "found", "allowed"),
    [
        ("mapped: 3", "mapped", "3", "a map of keys and values"),
        ("inner: [1]", "inner", "a list", "a map of keys and values"),
        ("listed: 3", "listed", "3", "a list"),
        ("words: 3", "words", "3", "a text, in quotes if it looks like a number"),
        ("number: heavy", "number", "'heavy'", "a number"),
        ("inner: {number: heavy}", "inner.number", "'heavy'", "a number"),
        ("whole: 1.5", "whole", "1.5", "a whole number"),
        ("number: .inf", "number", "inf", "a finite number"),
        ("number: .nan", "number", "nan", "a finite number"),
        ("listed: []", "listed", "a list", "at least one entry"),
        ("mapped: {}", "mapped", "an empty map", "at least one entry"),
        ("words: ''", "words", "''", "a text that is not empty"),
        # Half of a surrogate pair stands for no character (The Unicode Standard, chapter 3.8).
        ('words: "\\uD800"', "words", "'\\ud800'", "a text of characters that can be written"),
        ("word: b", "word", "an unknown key", "one of inner, listed, mapped, number, whole, words"),
        ("mapped: {Oak: {}}", "mapped.Oak", "the name 'Oak'", "small letters, digits, - and _"),
    ],
)
def test_each_kind_of_value_is_asked_for_in_words(
    tmp_path: Path, text: str, key_path: str, found: str, allowed: str
) -> None:
    (fault,) = faults_of(tmp_path, f"# a comment\n{text}\n")
    assert (fault.line, fault.key_path, fault.found) == (2, key_path, found)
    assert fault.allowed.startswith(allowed)
    rest = fault.allowed.removeprefix(allowed)
    assert rest in ("", " (nearest: words)", ", at most 60 characters")
