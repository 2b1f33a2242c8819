"""What is told of each error: one line for each thing that is wrong, with where to put it right."""

from pathlib import Path

import pytest

from casewright.errors import (
    CannotBeMade,
    CasewrightError,
    DoesNotFit,
    Fault,
    InputErrors,
    NoTemporaryFolder,
    OptionErrors,
    OptionFault,
    OutputFolderError,
)


@pytest.mark.parametrize("kind", [CasewrightError, DoesNotFit, CannotBeMade])
def test_each_thing_that_is_wrong_has_a_line(kind: type[CasewrightError]) -> None:
    assert kind("one thing").lines == ("one thing",)
    assert kind("one thing\nanother\na third").lines == ("one thing", "another", "a third")


def test_a_fault_says_where_what_and_what_is_allowed() -> None:
    """In the form that editors follow: file, line, then the key if one is to blame."""
    fault = Fault(file="job.yaml", line=7, column=3, key_path="units", found="'cm'", allowed="'mm'")
    other = Fault(
        file="rooms.csv", line=1, column=None, key_path="", found="no header", allowed="a header"
    )
    told = (
        "job.yaml:7: units: found 'cm'; allowed: 'mm'",
        "rooms.csv:1: found no header; allowed: a header",
    )
    errors = InputErrors((fault, other))
    assert errors.lines == told
    assert str(errors) == "\n".join(told)
    assert errors.faults == (fault, other)


def test_a_fault_of_an_option_says_which() -> None:
    fault = OptionFault(option="--gap", found="'ten'", allowed="a length")
    other = OptionFault(option="--seed", found="-1", allowed="a number from 0")
    errors = OptionErrors((fault, other))
    assert errors.lines == (
        "--gap: found 'ten'; allowed: a length",
        "--seed: found -1; allowed: a number from 0",
    )
    assert str(errors) == "\n".join(errors.lines)


def test_a_folder_is_one_line_whatever_its_name_holds() -> None:
    error = OutputFolderError(Path("out\nside"), "is read-only")
    assert error.lines == ("out\nside: is read-only",)
    assert (error.folder, error.reason) == (Path("out\nside"), "is read-only")


def test_without_a_temporary_folder_it_is_said_how_to_name_one() -> None:
    assert NoTemporaryFolder("none of /a and /b").lines == (
        "none of /a and /b; set TMPDIR to a folder that can be written, with room in it",
    )
