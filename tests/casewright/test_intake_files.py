"""Only regular files of a size that can be are read; nothing else is waited for."""

import os
import socket
from pathlib import Path

import pytest

from casewright.commands.nest_command.options import read_options
from casewright.commands.nest_command.question import read_questions
from casewright.errors import Fault, InputErrors
from casewright.intake import text_file
from casewright.intake.csv_table import SIZE as CSV_SIZE
from casewright.intake.read_document import SIZE as YAML_SIZE
from casewright.intake.read_job import read_job
from casewright.intake.read_kit_list import read_kit_list
from casewright.intake.text_file import FileSize, read_text
from tests.casewright.intake_folder import KEEPER, JobFolder, place
from tests.casewright.nest_lists import PIECES, STOCK, quick, written

FILES_OF_A_JOB = {
    f"{KEEPER}.yaml": "",
    "hardware-metric.yaml": "libraries.1",
    "router-metric.yaml": "machine",
    f"{KEEPER}-rooms.csv": "schedule",
}
SMALL = FileSize(kind="a note", most_bytes=10)
DEFECTS = "stock,x,y,length,width\nfull,100,100,30,20\n"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def read(path: Path, size: FileSize = SMALL) -> str | tuple[str, str]:
    """The text of a file, or what was found and what is allowed."""
    faults: list[Fault] = []
    text = read_text(path, faults, size)
    if text is not None:
        assert not faults
        return text
    (fault,) = faults
    assert (fault.file, fault.line) == (path.as_posix(), 1)
    return fault.found, fault.allowed


@pytest.mark.parametrize(("name", "blamed"), FILES_OF_A_JOB.items())
def test_a_pipe_that_nobody_writes_to_is_told_and_not_waited_for(
    folder: JobFolder, name: str, blamed: str
) -> None:
    folder.path(name).unlink()
    os.mkfifo(folder.path(name))
    fault = folder.fault(KEEPER)
    assert place(fault)[2] == blamed
    assert fault.found.endswith("a pipe")
    assert "a text file" in fault.allowed


@pytest.mark.parametrize("name", ["pieces", "stock", "defects"])
def test_a_pipe_for_a_nest_list_is_told(tmp_path: Path, name: str) -> None:
    files = written(tmp_path, PIECES, STOCK, DEFECTS)
    (tmp_path / f"{name}.csv").unlink()
    os.mkfifo(tmp_path / f"{name}.csv")
    with pytest.raises(InputErrors) as told:
        read_questions(files, read_options(quick(), cores=1))
    assert ("a pipe", f"{name}.csv") in {(f.found, Path(f.file).name) for f in told.value.faults}


def test_a_pipe_for_a_kit_list_is_told(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "kit.csv")
    with pytest.raises(InputErrors, match="found a pipe"):
        read_kit_list(tmp_path / "kit.csv")


def test_what_is_no_regular_file_is_called_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "zero").symlink_to("/dev/zero")
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "socket").touch()
    (tmp_path / "socket").unlink()
    with socket.socket(socket.AF_UNIX) as end:
        end.bind(os.fspath(tmp_path / "socket"))
    assert read(tmp_path / "folder") == ("a folder", "a text file")
    assert read(tmp_path / "zero") == ("a device", "a text file")
    assert "link" in read(tmp_path / "loop")[0]
    assert "socket" in read(tmp_path / "socket")[0]
    assert read(tmp_path / "nothing") == ("no such file", "a text file")


def test_a_link_to_a_file_is_followed(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("text")
    (tmp_path / "link").symlink_to("file")
    assert read(tmp_path / "link") == "text"


def test_the_limit_of_a_file_is_told_and_is_itself_allowed(tmp_path: Path) -> None:
    (tmp_path / "note").write_bytes(b"0123456789")
    assert read(tmp_path / "note") == "0123456789"
    (tmp_path / "note").write_bytes(b"0123456789A")
    assert read(tmp_path / "note") == ("11 bytes", "a note of at most 10 bytes")


@pytest.mark.parametrize(
    ("name", "size"), [("router-metric.yaml", YAML_SIZE), (f"{KEEPER}-rooms.csv", CSV_SIZE)]
)
def test_a_file_of_a_terabyte_is_told_unread(folder: JobFolder, name: str, size: FileSize) -> None:
    with folder.path(name).open("r+b") as stream:
        stream.truncate(1 << 40)
    fault = folder.fault(KEEPER)
    assert fault.found.endswith(f"{1 << 40} bytes")
    assert f"{size.kind} of at most {size.most_bytes} bytes" in fault.allowed


@pytest.mark.parametrize("later", [b"short", b"as long as it likes"])
def test_a_file_that_changes_while_it_is_read_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, later: bytes
) -> None:
    path = tmp_path / "note"
    path.write_bytes(b"0123456789")

    class Changing:
        """The system's calls; the file changes after its size was asked for."""

        def __getattr__(self, name: str) -> object:
            return getattr(os, name)

        def fstat(self, descriptor: int) -> os.stat_result:
            status = os.fstat(descriptor)
            path.write_bytes(later)
            return status

    monkeypatch.setattr(text_file, "os", Changing())
    assert read(path) == ("a file that changed while it was read", "a text file that stands still")


def test_the_job_that_is_read_above_is_good(folder: JobFolder) -> None:
    assert read_job(folder.path(f"{KEEPER}.yaml")).rooms
