"""Where an output may stand, before anything is written or deleted."""

import errno
import os
import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest

from casewright.errors import OutputFolderError
from casewright.output import place
from casewright.output.folder import Request, _made_folders, claimed, write_folder
from casewright.output.place import resolved_place
from tests.casewright.output.small_output import files, read


def test_a_missing_part_before_two_dots_hides_nothing(room: Path) -> None:
    """The system would make the missing part first, and the path then leads to the victim."""
    (room / "victim").mkdir()
    (room / "victim" / "letters.txt").write_text("dear")
    for typed in ("nosuch/../victim", "a/b/../../victim", "./nosuch/.././victim/."):
        with pytest.raises(OutputFolderError, match=r"letters\.txt"):
            write_folder(Path(typed), files("a"))
        with pytest.raises(OutputFolderError, match=r"letters\.txt"):
            write_folder(room / typed, files("a"))
    assert (room / "victim" / "letters.txt").read_text() == "dear"
    assert os.listdir(room) == ["victim"]


def test_links_before_two_dots_are_followed(room: Path) -> None:
    """`link/..` is the parent of where the link leads, not of where it stands."""
    (room / "far" / "inner").mkdir(parents=True)
    (room / "far" / "out").mkdir()
    (room / "far" / "out" / "letters.txt").write_text("dear")
    (room / "link").symlink_to(room / "far" / "inner")
    with pytest.raises(OutputFolderError, match=r"letters\.txt"):
        write_folder(room / "link" / ".." / "out", files("a"))
    assert sorted(os.listdir(room)) == ["far", "link"]


@pytest.mark.parametrize("typed", [".", "", "..", "x/..", "here/.."])
def test_the_working_folder_is_refused(
    below_temporary: Path, typed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    work = below_temporary / "work"
    (work / "here").mkdir(parents=True)
    monkeypatch.chdir(work)
    words = "holds the working folder" if typed == ".." else "is the working folder"
    with pytest.raises(OutputFolderError, match=words):
        resolved_place(Path(typed))


def test_the_home_folder_is_refused(below_temporary: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home = below_temporary / "people" / "ann"
    home.mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    with pytest.raises(OutputFolderError, match="is the home folder"):
        resolved_place(home)
    with pytest.raises(OutputFolderError, match="holds the home folder"):
        resolved_place(home.parent)
    (below_temporary / "link").symlink_to(home)
    with pytest.raises(OutputFolderError, match="is the home folder"):
        resolved_place(below_temporary / "link")
    assert resolved_place(home / "out") == home / "out"
    monkeypatch.delenv("HOME")
    resolved_place(below_temporary / "out")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("/", "is the root of the file system"),
        ("/../..", "is the root of the file system"),
        ("/etc", "is a folder of the system"),
        ("/etc/casewright", "lies in /etc"),
        ("/usr/bin/out", "lies in /usr/bin"),
        ("/proc/self/out", "lies in /proc"),
        ("/tmp", "is a folder of the system"),
        ("/usr", "is a folder of the system"),
        ("/home", "is a folder of the system"),
        ("/var", "is a folder of the system"),
        ("nosuch/../../../../../../../../../../../../../etc", "is a folder of the system"),
    ],
)
def test_folders_of_the_system_are_refused(
    below_temporary: Path, typed: str, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only asked, never claimed: nothing is written even if this fails."""
    monkeypatch.setattr(place, "_homes", lambda: iter(()))
    work = below_temporary / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    with pytest.raises(OutputFolderError, match=words):
        resolved_place(Path(typed))


def test_a_folder_of_the_system_may_be_a_link(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As `/tmp` and `/home` are on some systems."""
    (below_temporary / "private" / "shared").mkdir(parents=True)
    (below_temporary / "shared").symlink_to("private/shared")
    monkeypatch.setattr(place, "SHARED", (str(below_temporary / "shared"),))
    for typed in ("shared", "private/shared"):
        with pytest.raises(OutputFolderError, match="is a folder of the system"):
            resolved_place(Path(typed))
    assert resolved_place(Path("shared/out")) == below_temporary / "private" / "shared" / "out"


def test_folders_of_inputs_are_refused(below_temporary: Path) -> None:
    jobs, libraries = below_temporary / "jobs", below_temporary / "libraries"
    jobs.mkdir()
    libraries.mkdir()
    (libraries / "boards.yaml").write_text("")
    (jobs / "boards.yaml").symlink_to(libraries / "boards.yaml")
    inputs = (jobs / "job.yaml", jobs / "boards.yaml")
    with pytest.raises(OutputFolderError, match=r"is the folder of job\.yaml"):
        resolved_place(jobs, inputs)
    with pytest.raises(OutputFolderError, match=r"is the folder of boards\.yaml"):
        resolved_place(libraries, inputs)
    assert resolved_place(jobs / "out", inputs) == jobs / "out"


def test_a_mounted_folder_is_refused(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os.path, "ismount", lambda path: Path(path).name == "stick")
    with pytest.raises(OutputFolderError, match="mounted"):
        resolved_place(below_temporary / "stick")


def test_a_folder_of_the_same_disk_that_is_mounted_is_refused(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The form of the list is that of proc_pid_mountinfo(5)."""
    point = below_temporary / "all outputs"
    mounts = below_temporary / "mountinfo"
    escaped = str(point).replace(" ", "\\040")
    mounts.write_text(f"36 35 98:0 /mnt1 {escaped} rw,noatime master:1 - ext3 /dev/root rw\n")
    monkeypatch.setattr(place, "MOUNTS", mounts)
    with pytest.raises(OutputFolderError, match="mounted"):
        resolved_place(point)
    assert resolved_place(point / "out") == point / "out"
    monkeypatch.setattr(place, "MOUNTS", below_temporary / "none")
    assert resolved_place(point) == point


def test_names_as_long_as_they_may_be(room: Path) -> None:
    longest = room / ("n" * 255)
    write_folder(longest, files("a"))
    write_folder(longest, files("b"))
    assert read(longest) == files("b")
    assert len(os.listdir(room)) == 1
    for typed in (room / ("n" * 256), Path(*(["deep"] * 1200), "out")):
        with pytest.raises(OutputFolderError, match="cannot be written"):
            write_folder(typed, files("a"))
    with pytest.raises(OutputFolderError, match="not a path"):
        write_folder(room / "zero\0", files("a"))
    assert len(os.listdir(room)) == 1


def test_a_ring_of_links_is_told(room: Path) -> None:
    (room / "one").symlink_to(room / "two")
    (room / "two").symlink_to(room / "one")
    with pytest.raises(OutputFolderError):
        write_folder(room / "one", files("a"))
    with pytest.raises(OutputFolderError):
        write_folder(room / "one" / "out", files("a"))
    assert sorted(os.listdir(room)) == ["one", "two"]


def disk(*, free: int, total: int = 10_000_000) -> SimpleNamespace:
    return SimpleNamespace(total=total, free=free)


def test_a_full_disk_is_told_before_the_work(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "disk_usage", lambda _: disk(free=5_000_000))
    with (
        pytest.raises(OutputFolderError, match=r"5\.0 MB free .* about 6\.0 MB are needed"),
        claimed(Request(folder=room / "out", expected_bytes=6_000_000)),
    ):
        pytest.fail("the work was begun")
    with claimed(Request(folder=room / "out", expected_bytes=4_000_000)) as output:
        monkeypatch.setattr(shutil, "disk_usage", lambda _: disk(free=10))
        with pytest.raises(OutputFolderError, match="are needed"):
            output.write(files("a"))
    assert os.listdir(room) == []


def test_a_disk_that_does_not_tell_its_size_is_written(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some network file systems answer 0 for all of it, some do not answer."""
    monkeypatch.setattr(shutil, "disk_usage", lambda _: disk(total=0, free=0))
    write_folder(room / "out", files("a"))

    def unknown(_: object) -> None:
        raise OSError(errno.ENOSYS, "Function not implemented")

    monkeypatch.setattr(shutil, "disk_usage", unknown)
    write_folder(room / "out", files("b"))
    assert read(room / "out") == files("b")


def test_a_disk_that_fills_up_leaves_the_old_folder(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_folder(room / "out", files("a"))

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with claimed(Request(folder=room / "out")) as output:
        monkeypatch.setattr(os, "fsync", full)
        with pytest.raises(OutputFolderError, match="No space left"):
            output.write(files("b"))
        monkeypatch.undo()
        os.chdir(room)
    assert read(room / "out") == files("a")
    assert os.listdir(room) == ["out"]


def test_a_folder_that_cannot_be_written_is_told_before_the_work(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As of a disk that is read-only; rights do not hold a system's manager back."""

    def read_only(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, "Read-only file system")

    write_folder(room / "out", files("a"))
    with monkeypatch.context() as patched:
        patched.setattr(os, "mkdir", read_only)
        with (
            pytest.raises(OutputFolderError, match="Read-only"),
            claimed(Request(folder=room / "out")),
        ):
            pytest.fail("the work was begun")
    with monkeypatch.context() as patched:
        patched.setattr(os, "access", lambda *_, **__: False)
        with (
            pytest.raises(OutputFolderError, match="read-only"),
            claimed(Request(folder=room / "out")),
        ):
            pytest.fail("the work was begun")
    assert read(room / "out") == files("a")


def test_a_read_only_folder_in_an_earlier_output_is_told_before_the_work(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its files could not be taken away once the new output is in place."""
    write_folder(room / "out", files("a"))
    monkeypatch.setattr(os, "access", lambda name, *_, **__: Path(name).name != "sheets")
    with (
        pytest.raises(OutputFolderError, match="shop/sheets in it is read-only"),
        claimed(Request(folder=room / "out")),
    ):
        pytest.fail("the work was begun")
    assert os.listdir(room) == ["out"]


def test_a_drive_that_is_missing_does_not_hang(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As of a letter without a disk: then not even the topmost folder is there."""
    asked: list[Path] = []

    def nowhere(folder: Path) -> bool:
        asked.append(folder)
        assert len(asked) < 100, "no end"
        return False

    monkeypatch.setattr(Path, "is_dir", nowhere)
    list(_made_folders(below_temporary))
    assert asked


def test_a_working_folder_that_is_gone_is_told(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = below_temporary / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    with pytest.raises(OutputFolderError):
        resolved_place(Path("out"))
    with pytest.raises(OutputFolderError):
        resolved_place(below_temporary / "out")
