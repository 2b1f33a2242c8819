"""The output folder is the old one or the new one, whenever the build is stopped."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path, PurePosixPath

import pytest

from casewright.errors import OutputFolderError
from casewright.output_folder import replace_file, write_folder, write_new_folder


def files(mark: str, count: int = 3) -> dict[PurePosixPath, bytes]:
    """A small output: every file, and the manifest, carries the mark."""
    names = [f"shop/{i}.txt" for i in range(count)]
    found = {PurePosixPath(name): mark.encode() * 1000 for name in names}
    manifest = {"mark": mark, "files": [{"path": name} for name in names]}
    found[PurePosixPath("manifest.json")] = json.dumps(manifest).encode()
    return found


def read(folder: Path) -> dict[PurePosixPath, bytes]:
    return {
        PurePosixPath(path.relative_to(folder).as_posix()): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_new_and_replaced(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "out"
    write_folder(out, files("a", 5))
    assert read(out) == files("a", 5)
    write_folder(out, files("b", 2))
    assert read(out) == files("b", 2)
    assert os.listdir(out.parent) == ["out"]


def test_a_folder_with_other_files_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, files("a"))
    (out / "notes.txt").write_text("mine")
    with pytest.raises(OutputFolderError, match=r"notes\.txt"):
        write_folder(out, files("b"))
    assert (out / "notes.txt").read_text() == "mine"
    assert (out / "shop" / "0.txt").read_bytes() == b"a" * 1000


def test_a_file_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(OutputFolderError, match="is a file"):
        write_folder(tmp_path / "out", files("a"))


def test_what_cannot_be_written_leaves_the_old_folder(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, files("a"))
    broken = files("b") | {PurePosixPath("shop/0.txt/below-a-file"): b""}
    with pytest.raises(OutputFolderError, match="cannot be written"):
        write_folder(out, broken)
    assert read(out) == files("a")
    assert os.listdir(tmp_path) == ["out"]


def test_a_new_job_wants_an_empty_folder(tmp_path: Path) -> None:
    write_new_folder(tmp_path / "job", {"job.yaml": b"x"})
    with pytest.raises(OutputFolderError, match="not empty"):
        write_new_folder(tmp_path / "job", {"job.yaml": b"y"})


WRITER = """
import itertools, sys
from pathlib import Path
from casewright.output_folder import write_folder
from tests.casewright.test_output_folder import files
print("ready", flush=True)
for mark in itertools.cycle("xy"):
    write_folder(Path(sys.argv[1]), files(mark, 40))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="one-step exchange of folders is Linux only")
def test_killed_at_any_moment(tmp_path: Path) -> None:
    """Kills a process that rewrites one folder again and again, at ever later moments."""
    out = tmp_path / "out"
    write_folder(out, files("x", 40))
    seen: set[str] = set()
    for attempt in range(80):
        if seen == {"x", "y"} and attempt >= 12 and len(os.listdir(tmp_path)) > 1:
            break
        with subprocess.Popen(
            [sys.executable, "-c", WRITER, str(out)],
            stdout=subprocess.PIPE,
            cwd=Path(__file__).parents[2],
        ) as process:
            assert process.stdout is not None
            process.stdout.readline()
            time.sleep(0.013 * attempt)
            process.send_signal(signal.SIGKILL)
        found = read(out)
        assert found in (files("x", 40), files("y", 40))
        seen.add(json.loads(found[PurePosixPath("manifest.json")])["mark"])
    assert seen == {"x", "y"}, "no kill came after an exchange: the test saw too little"
    assert len(os.listdir(tmp_path)) > 1, "no kill came while a folder was being written"


def test_a_file_is_replaced_whole_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    table = tmp_path / "sizes.csv"
    replace_file(table, b"old")

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        replace_file(table, b"new")
    assert read(tmp_path) == {PurePosixPath("sizes.csv"): b"old"}
    monkeypatch.undo()
    replace_file(table, b"new")
    assert read(tmp_path) == {PurePosixPath("sizes.csv"): b"new"}
