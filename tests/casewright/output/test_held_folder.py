"""A held folder is what was asked for: no link leads elsewhere, and no file passes for a folder."""

import os
import runpy
from pathlib import Path

import pytest

from casewright.output import held_folder
from casewright.output.held_folder import HANDLES, HeldFolder


def with_links(room: Path) -> None:
    """A folder with a letter in it, and a link to each."""
    (room / "far").mkdir()
    (room / "far" / "letter.txt").write_text("dear")
    (room / "folder").symlink_to("far")
    (room / "file").symlink_to("far/letter.txt")


def test_no_link_is_followed(room: Path) -> None:
    """Rule of the class: none of its methods ever follows a link. A link that somebody puts into
    the place of a folder or file would have another one written, or taken away.
    """
    with_links(room)
    with HeldFolder.at(room) as held:
        with pytest.raises(OSError), held.inside("folder"):
            pytest.fail("the link was followed")
        for name in ("folder", "file"):
            assert held.digest(name) is None
            assert held.read(name, 100) is None
            with pytest.raises(OSError):
                held.write_new(name, b"other words")
            with pytest.raises(OSError):
                os.close(held.open_lock(name))
        for name in ("folder", "file"):
            held.remove(name)
    assert os.listdir(room) == ["far"]
    assert (room / "far" / "letter.txt").read_text() == "dear"


@pytest.mark.skipif(not HANDLES, reason="this system has no handles of folders")
def test_only_a_folder_is_held(below_temporary: Path) -> None:
    """open(2): O_DIRECTORY refuses anything but a folder, O_NOFOLLOW a link at the end of the path.

    What is then done in it is done there, whatever it is called by then.
    """
    with_links(below_temporary)
    for name in ("far/letter.txt", "file", "folder"):
        with pytest.raises(OSError), HeldFolder.at(below_temporary / name):
            pytest.fail(f"{name} was held")
    with HeldFolder.at(below_temporary / "far") as held:
        with pytest.raises(NotADirectoryError), held.inside("letter.txt"):
            pytest.fail("a file was held")
        assert held.names() == ["letter.txt"]
        os.rename(below_temporary / "far", below_temporary / "moved")
        held.write_new("note.txt", b"here")
    assert (below_temporary / "moved" / "note.txt").read_bytes() == b"here"


def test_systems_without_some_ways_to_open_files_open_them_all_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As the documentation of `os` says: O_DIRECTORY, O_NOFOLLOW and O_NONBLOCK are not on Windows,
    and O_BINARY, without which line ends would be changed, is nowhere else.
    """
    for name in ("O_DIRECTORY", "O_NOFOLLOW", "O_NONBLOCK"):
        monkeypatch.delattr(os, name)
    monkeypatch.setattr(os, "O_BINARY", 0x8000, raising=False)
    loaded = runpy.run_path(held_folder.__file__)
    assert loaded["HANDLES"] is False
    assert (loaded["_FOLDER"], loaded["_FILE"]) == (0, 0x8000)


@pytest.mark.skipif(not HANDLES, reason="this system has no handles of folders")
def test_here_no_link_is_followed_and_nothing_is_waited_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """open(2): a pipe is opened at once with O_NONBLOCK, though nobody is at its other end."""
    monkeypatch.delattr(os, "O_BINARY", raising=False)
    loaded = runpy.run_path(held_folder.__file__)
    assert loaded["HANDLES"] is True
    assert loaded["_FOLDER"] == os.O_DIRECTORY | os.O_NOFOLLOW
    assert loaded["_FILE"] == os.O_NOFOLLOW | os.O_NONBLOCK
