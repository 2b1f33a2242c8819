"""A slice of the spoilt jobs and tables of the benchmark: read, or refused with file and line."""

import tempfile
from pathlib import Path

import pytest

from casewright.errors import Fault, InputErrors
from tests.bench import hostile_jobs
from tests.bench.hostile_jobs import Ending, mutated_inputs
from tests.bench.temporary_room import refuse_unless_fresh


def test_spoilt_inputs_are_read_or_told(tmp_path: Path) -> None:
    counts = mutated_inputs(150, seed=2, folder=fresh(tmp_path), seconds=None)
    assert counts.amiss == 0, "\n".join(counts.examples)
    assert counts.endings[Ending.REFUSED] > 100  # most of what is spoilt is noticed
    assert sum(counts.endings.values()) == 150


def fresh(tmp_path: Path) -> Path:
    folder = tmp_path / "fresh"
    folder.mkdir()
    return folder


def test_the_same_seed_spoils_the_same(tmp_path: Path) -> None:
    first = mutated_inputs(12, seed=3, folder=fresh(tmp_path), seconds=None)
    assert first == mutated_inputs(12, seed=3, folder=fresh(tmp_path), seconds=None)


@pytest.mark.parametrize(
    ("error", "ending"),
    [
        (ValueError("any"), Ending.TRACEBACK),
        (InputErrors(()), Ending.UNLOCATED),
        (
            InputErrors((Fault(file="", line=1, column=None, key_path="", found="", allowed=""),)),
            Ending.UNLOCATED,
        ),
    ],
)
def test_what_must_not_be_is_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: Exception, ending: Ending
) -> None:
    def raising(*_: object) -> None:
        raise error

    for reader in ("read_job", "read_questions", "read_kit_list"):
        monkeypatch.setattr(hostile_jobs, reader, raising)
    counts = mutated_inputs(3, seed=1, folder=fresh(tmp_path), seconds=None)
    assert (counts.endings[ending], counts.amiss, len(counts.examples)) == (3, 3, 3)


def test_it_starts_in_a_fresh_temporary_folder_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = fresh(tmp_path)
    refuse_unless_fresh(folder)
    (tmp_path / "link").symlink_to(folder)
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "file").touch()
    for other in (tmp_path / "link", tmp_path / "full", tmp_path / "none", Path("/"), Path.home()):
        with pytest.raises(ValueError, match=r"does not lie below|is not an empty folder"):
            refuse_unless_fresh(other)
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    with pytest.raises(ValueError, match="does not lie below"):
        mutated_inputs(1, seed=1, folder=tmp_path / "full")
    assert (tmp_path / "full" / "file").exists()
