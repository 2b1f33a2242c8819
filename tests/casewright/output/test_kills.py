"""One writer at a time, and nothing left of one that was killed."""

import errno
import itertools
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path, PurePosixPath

import portalocker
import pytest

from casewright.errors import OutputFolderError
from casewright.output.folder import OutputFolder, Request, claimed, write_folder
from casewright.output.held_folder import HeldFolder
from casewright.output.workroom import Plan
from tests.casewright.output.small_output import files, read

ROOT = Path(__file__).parents[3]
WRITER = """
import sys
from pathlib import Path
from casewright.output.folder import Request, claimed
from tests.casewright.output.small_output import files
with claimed(Request(folder=Path(sys.argv[1]))) as output:
    print("claimed", flush=True)
    sys.stdin.readline()
    output.write(files("other"))
"""
DYING = """
import os, sys
from pathlib import Path
from casewright.output.folder import write_folder
from tests.casewright.output.small_output import files
steps = int(sys.argv[2])
if "no exchange" in sys.argv:
    from casewright.output.held_folder import HeldFolder
    HeldFolder._renamed_by_linux = lambda *_: False
def watch(event, arguments):
    global steps
    if event in ("open", "ctypes.dlsym") or event.startswith("os."):
        steps -= 1
        if steps < 0:
            os._exit(9)
sys.addaudithook(watch)
write_folder(Path(sys.argv[1]), files("b", 2))
"""


def writer(out: Path) -> subprocess.Popen[str]:
    process = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(out)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "claimed\n"
    return process


@pytest.mark.parametrize("way", ["exchange", "no exchange"])
def test_killed_at_every_step(below_temporary: Path, way: str) -> None:
    """A writer dies before each of its calls to the system in turn: what stands is the old output
    or the new one, and the next build leaves nothing but its own.
    """
    out = below_temporary / "out"
    seen: list[str] = []
    for steps in itertools.count(0, 5 if way == "exchange" else 9):
        write_folder(out, files("a", 2))
        command = [sys.executable, "-c", DYING, str(out), str(steps), way]
        done = subprocess.run(command, cwd=ROOT, check=False)
        if done.returncode == 0:
            break
        assert done.returncode == 9
        if out.exists() or way == "exchange":
            found = read(out)
            assert found in (files("a", 2), files("b", 2)), steps
            seen.append(found[PurePosixPath("summary.html")].decode())
        write_folder(out, files("c", 2))
        assert read(out) == files("c", 2)
        assert os.listdir(below_temporary) == ["out"], steps
    assert seen == sorted(seen)
    assert set(seen) == {"a", "b"}, "no kill came after the exchange, or none before"


def test_the_second_of_two_writers_is_told(below_temporary: Path) -> None:
    out = below_temporary / "out"
    with writer(out) as first:
        with pytest.raises(OutputFolderError, match="is being written by another command"):
            write_folder(out, files("a"))
        other = below_temporary / "another"
        write_folder(other, files("a"))
        first.communicate("go\n")
    assert read(out) == files("other")
    write_folder(out, files("a"))
    assert read(out) == files("a")


def test_the_second_of_two_writers_waits_if_asked(below_temporary: Path) -> None:
    out = below_temporary / "out"
    asked = threading.Event()
    with writer(out) as first:
        told: list[None] = []

        def wait() -> None:
            told.append(None)
            asked.set()

        def second() -> None:
            with claimed(Request(folder=out, on_busy=wait)) as output:
                assert read(out) == files("other")
                output.write(files("mine"))

        thread = threading.Thread(target=second)
        thread.start()
        assert asked.wait(60)
        first.communicate("go\n")
        thread.join()
    assert read(out) == files("mine")
    assert told == [None]
    assert os.listdir(below_temporary) == ["out"]


def test_who_waits_goes_on_though_the_first_takes_its_folders_away(
    below_temporary: Path,
) -> None:
    """The first made the folders above and ends without writing, so they go with it."""
    out = below_temporary / "deep" / "deeper" / "out"
    asked = threading.Event()

    def second() -> None:
        with claimed(Request(folder=out, on_busy=asked.set)) as output:
            output.write(files("mine"))

    thread = threading.Thread(target=second)
    with claimed(Request(folder=out)):
        thread.start()
        assert asked.wait(60)
    thread.join()
    assert read(out) == files("mine")
    assert os.listdir(out.parent) == ["out"]


def test_many_writers_follow_each_other(below_temporary: Path) -> None:
    out = below_temporary / "out"
    ended: list[str] = []

    def write(mark: str) -> None:
        with claimed(Request(folder=out, on_busy=lambda: None)) as output:
            output.write(files(mark))
            ended.append(mark)

    threads = [threading.Thread(target=write, args=(str(i),)) for i in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(ended) == [str(i) for i in range(8)]
    assert read(out) == files(ended[-1])
    assert os.listdir(below_temporary) == ["out"]


def test_what_a_killed_writer_left_is_removed_and_nothing_else(below_temporary: Path) -> None:
    out = below_temporary / "out"
    others = (below_temporary / ".out.unfinished2", below_temporary / ".another.unfinished")
    for other in others:
        other.mkdir()
        (other / "new").mkdir()
    with writer(out) as first:
        first.send_signal(signal.SIGKILL)
    assert (below_temporary / ".out.unfinished").is_dir()
    write_folder(out, files("a"))
    assert not (below_temporary / ".out.unfinished").exists()
    assert all((other / "new").is_dir() for other in others)


def test_a_folder_of_that_name_that_no_writer_made(room: Path) -> None:
    mine = room / ".out.unfinished"
    mine.mkdir()
    (mine / "letters.txt").write_text("dear")
    with pytest.raises(OutputFolderError, match=r"holds letters\.txt"):
        write_folder(room / "out", files("a"))
    (mine / "letters.txt").unlink()
    for name in ("partial", "plan.json", "old"):
        (mine / name).write_text("dear")
        with pytest.raises(OutputFolderError, match=f"holds {name}"):
            write_folder(room / "out", files("a"))
        (mine / name).unlink()
    (mine / "lock").touch()
    (mine / "new").mkdir()
    (mine / "new" / "letters.txt").write_text("dear")
    with pytest.raises(OutputFolderError, match=r"letters\.txt: was put there"):
        write_folder(room / "out", files("a"))
    assert (mine / "new" / "letters.txt").read_text() == "dear"
    (mine / "plan.json").write_text('{"new": 1}')
    with pytest.raises(OutputFolderError, match=r"letters\.txt: was put there"):
        write_folder(room / "out", files("a"))
    assert (mine / "new" / "letters.txt").read_text() == "dear"


def test_links_where_a_writer_works_lead_nowhere(room: Path) -> None:
    target = room / "target"
    target.mkdir()
    (target / "new").mkdir()
    (room / ".out.unfinished").symlink_to(target)
    with pytest.raises(OutputFolderError):
        write_folder(room / "out", files("a"))
    (room / ".out.unfinished").unlink()
    (room / ".out.unfinished").mkdir()
    (room / ".out.unfinished" / "lock").touch()
    (room / ".out.unfinished" / "new").symlink_to(target)
    with pytest.raises(OutputFolderError, match="new: was put there"):
        write_folder(room / "out", files("a"))
    assert (target / "new").is_dir()


def test_a_writer_that_died_between_two_renames(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where names cannot be exchanged in one step, the next build brings the old output back."""
    out = below_temporary / "out"
    write_folder(out, files("a"))
    monkeypatch.setattr(HeldFolder, "_renamed_by_linux", lambda *_: False)
    room = below_temporary / ".out.unfinished"
    (room / "new").mkdir(parents=True)
    (room / "lock").touch()
    (room / "plan.json").write_bytes(Plan(old=hashes(out)).text())
    out.rename(room / "old")
    with claimed(Request(folder=out)):
        assert read(out) == files("a")
    assert os.listdir(below_temporary) == ["out"]


@pytest.mark.parametrize("renames", [1, 3])
def test_ctrl_c_between_two_renames(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch, renames: int
) -> None:
    """The first two renames put the new output in place, the others take that back again, since a
    letter came in the last moment: between any two the earlier output is in the workroom.
    """
    out = below_temporary / "out"
    write_folder(out, files("a"))
    monkeypatch.setattr(HeldFolder, "_renamed_by_linux", lambda *_: False)
    move, exchange = HeldFolder.move_folder, OutputFolder._exchange
    done: list[str] = []

    def interrupted(folder: HeldFolder, name: str, target: HeldFolder, new_name: str) -> None:
        move(folder, name, target, new_name)
        done.append(name)
        if len(done) == renames:
            raise KeyboardInterrupt

    def late(output: OutputFolder) -> str:
        (out / "late.txt").write_text("mine")
        return exchange(output)

    monkeypatch.setattr(HeldFolder, "move_folder", interrupted)
    monkeypatch.setattr(OutputFolder, "_exchange", late)
    with pytest.raises(KeyboardInterrupt):
        write_folder(out, files("b"))
    assert read(out) == files("a") | {PurePosixPath("late.txt"): b"mine"}
    assert os.listdir(below_temporary) == ["out"]


def test_a_folder_that_appears_between_two_renames(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Then neither output has its place, and the earlier one is kept until somebody decides."""
    out = below_temporary / "out"
    write_folder(out, files("a"))
    monkeypatch.setattr(HeldFolder, "_renamed_by_linux", lambda *_: False)
    move = HeldFolder.move_folder

    def then_appears(folder: HeldFolder, name: str, target: HeldFolder, new_name: str) -> None:
        move(folder, name, target, new_name)
        if new_name == "old":
            out.mkdir()

    monkeypatch.setattr(HeldFolder, "move_folder", then_appears)
    with pytest.raises(OutputFolderError, match=r"old: is the earlier output; .* has appeared"):
        write_folder(out, files("b"))
    monkeypatch.undo()
    with pytest.raises(OutputFolderError, match=r"old: is the earlier output; .* has appeared"):
        write_folder(out, files("b"))
    assert read(below_temporary / ".out.unfinished" / "old") == files("a")
    out.rmdir()
    with claimed(Request(folder=out)):
        assert read(out) == files("a")
    assert os.listdir(below_temporary) == ["out"]


def test_a_disk_without_locks_is_told_and_nothing_is_left(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unknown(*_: object) -> None:
        raise portalocker.LockException(OSError(errno.ENOSYS, "Function not implemented"))

    monkeypatch.setattr(portalocker, "lock", unknown)
    with pytest.raises(OutputFolderError, match="cannot be locked"):
        write_folder(room / "out", files("a"))
    assert os.listdir(room) == []


def hashes(folder: Path) -> dict[str, str]:
    from export.manifest import sha256_of

    return {str(path): sha256_of(content) for path, content in read(folder).items()}


def test_a_rename_that_fails_is_taken_back(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = below_temporary / "out"
    write_folder(out, files("a"))
    monkeypatch.setattr(HeldFolder, "_renamed_by_linux", lambda *_: False)
    move = HeldFolder.move_folder

    def refused(folder: HeldFolder, name: str, target: HeldFolder, new_name: str) -> None:
        if name == "new":
            raise OSError(errno.EIO, "Input/output error")
        move(folder, name, target, new_name)

    monkeypatch.setattr(HeldFolder, "move_folder", refused)
    with pytest.raises(OutputFolderError, match="Input/output"):
        write_folder(out, files("b"))
    assert read(out) == files("a")
    assert os.listdir(below_temporary) == ["out"]
