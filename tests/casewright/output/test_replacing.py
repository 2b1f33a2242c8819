"""What may be replaced, and what never is: nobody's byte is lost."""

import ctypes
import errno
import importlib.util
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path, PurePosixPath
from types import SimpleNamespace

import pytest

from casewright.errors import OutputFolderError
from casewright.output import held_folder
from casewright.output.folder import OutputFolder, Replace, Request, claimed, write_folder
from casewright.output.held_folder import Digest, HeldFolder
from casewright.output.workroom import Workroom
from export.manifest import listed_files
from export.seal import sealed_json
from tests.casewright.output.small_output import files, read, with_manifest


def test_new_and_replaced(room: Path) -> None:
    out = room / "deep" / "out"
    write_folder(out, files("a", 5))
    assert read(out) == files("a", 5)
    write_folder(out, files("b", 2))
    assert read(out) == files("b", 2)
    assert os.listdir(out.parent) == ["out"]


@pytest.mark.skipif(not held_folder.HANDLES, reason="this system has no handles of folders")
def test_only_a_folder_itself_is_held(below_temporary: Path) -> None:
    """What is done in a held folder is never done where a link leads, nor in what is no folder."""
    (below_temporary / "folder").mkdir()
    (below_temporary / "link").symlink_to("folder")
    (below_temporary / "file").touch()
    with HeldFolder.at(below_temporary) as held:
        with held.inside("folder") as inner:
            assert inner.names() == []
        for name in ("link", "file"):
            with pytest.raises(OSError, match=name), held.inside(name):
                pass
            with pytest.raises(OSError, match=name), HeldFolder.at(below_temporary / name):
                pass


@pytest.mark.parametrize("lacking", ["O_DIRECTORY", "O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"])
def test_a_system_may_lack_each_way_to_open_a_file(
    monkeypatch: pytest.MonkeyPatch, lacking: str
) -> None:
    """Windows has none of the first three, and is alone in having the last."""
    monkeypatch.delattr(os, lacking, raising=False)
    name = "held_folder_of_another_system"
    spec = importlib.util.spec_from_file_location(name, held_folder.__file__)
    assert spec is not None
    assert spec.loader is not None
    loaded = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, name, loaded)
    spec.loader.exec_module(loaded)
    assert loaded.HANDLES is (held_folder.HANDLES and lacking != "O_DIRECTORY")


def test_an_empty_folder_is_taken(room: Path) -> None:
    (room / "out").mkdir()
    write_folder(room / "out", files("a"))
    assert read(room / "out") == files("a")


def foreign_at_the_top(out: Path) -> None:
    (out / "notes.txt").write_text("mine")


def foreign_far_below(out: Path) -> None:
    (out / "shop" / "sheets" / "notes.txt").write_text("mine")


def a_folder_with_a_file(out: Path) -> None:
    (out / "mine").mkdir()
    (out / "mine" / "notes.txt").write_text("mine")


def an_empty_folder(out: Path) -> None:
    (out / "shop" / "mine").mkdir()


def a_link(out: Path) -> None:
    (out / "link").symlink_to(out.parent / "nowhere")


def a_link_in_place_of_a_file(out: Path) -> None:
    """Even one that leads to the very bytes that were written."""
    sheet = out / "shop" / "sheets" / "0.txt"
    sheet.replace(out.parent / "kept.txt")
    sheet.symlink_to(out.parent / "kept.txt")


def a_link_in_place_of_a_folder(out: Path) -> None:
    (out / "shop").replace(out.parent / "kept")
    (out / "shop").symlink_to(out.parent / "kept")


def a_pipe(out: Path) -> None:
    os.mkfifo(out / "pipe")


def a_pipe_in_place_of_a_file(out: Path) -> None:
    (out / "summary.html").unlink()
    os.mkfifo(out / "summary.html")


def another_manifest(out: Path) -> None:
    """It lists all there is, in the same words, but nobody sealed it."""
    names = ("summary.html", *(f"shop/sheets/{i}.txt" for i in range(3)))
    listed = ", ".join(f'{{"path": "{name}"}}' for name in names)
    (out / "manifest.json").write_text(f'{{"files": [{listed}]}}')


def an_edited_manifest(out: Path) -> None:
    manifest = out / "manifest.json"
    manifest.write_text(manifest.read_text().replace("sheet", "piece"))


def no_manifest(out: Path) -> None:
    (out / "manifest.json").unlink()


def nested_manifest(out: Path) -> None:
    (out / "manifest.json").write_text("[" * 100_000)


FOREIGN: dict[Callable[[Path], None], str] = {
    foreign_at_the_top: "notes.txt",
    foreign_far_below: "shop/sheets/notes.txt",
    a_folder_with_a_file: "mine",
    an_empty_folder: "shop/mine",
    a_link: "link",
    a_link_in_place_of_a_file: "shop/sheets/0.txt",
    a_link_in_place_of_a_folder: "shop",
    a_pipe: "pipe",
    a_pipe_in_place_of_a_file: "summary.html",
    another_manifest: "manifest.json",
    an_edited_manifest: "manifest.json",
    no_manifest: "shop",
    nested_manifest: "manifest.json",
}


@pytest.mark.parametrize("put", FOREIGN, ids=lambda put: put.__name__)
@pytest.mark.parametrize("replace", [Replace.OUTPUT, Replace.EDITED])
def test_nothing_foreign_is_ever_replaced(
    room: Path, put: Callable[[Path], None], replace: Replace
) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    put(out)
    before, names = read(room), sorted(map(str, room.rglob("*")))
    with (
        pytest.raises(OutputFolderError) as refused,
        claimed(Request(folder=out, replace=replace)),
    ):
        pytest.fail("the work was begun")
    assert f"holds {FOREIGN[put]}" in str(refused.value).replace("holds a ", "holds ")
    assert read(room) == before
    assert sorted(map(str, room.rglob("*"))) == names


def test_an_edited_file_stops_the_build_unless_it_may_be_lost(room: Path) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    (out / "shop" / "sheets" / "1.txt").write_text("my notes")
    with pytest.raises(OutputFolderError, match=r"shop/sheets/1\.txt, edited since.*--replace-ed"):
        write_folder(out, files("b"))
    assert (out / "shop" / "sheets" / "1.txt").read_text() == "my notes"
    with claimed(Request(folder=out, replace=Replace.EDITED)) as output:
        (out / "shop" / "sheets" / "2.txt").write_text("edited while it works")
        output.write(files("b"))
    assert read(out) == files("b")
    assert os.listdir(room) == ["out"]


def test_files_that_somebody_took_away_do_not_matter(room: Path) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    (out / "summary.html").unlink()
    write_folder(out, files("b"))
    assert read(out) == files("b")


@pytest.mark.parametrize("put", FOREIGN, ids=lambda put: put.__name__)
def test_what_is_put_there_while_it_works_stops_it(room: Path, put: Callable[[Path], None]) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    with pytest.raises(OutputFolderError), claimed(Request(folder=out)) as output:
        put(out)
        before = read(out)
        output.write(files("b"))
    assert read(out) == before
    assert not list(room.glob(".*"))


def test_an_edit_while_it_works_stops_it(room: Path) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    with pytest.raises(OutputFolderError, match="edited"), claimed(Request(folder=out)) as output:
        (out / "summary.html").write_text("edited")
        output.write(files("b"))
    assert (out / "summary.html").read_text() == "edited"


def test_a_folder_that_takes_its_place_while_it_works(room: Path) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    with (
        pytest.raises(OutputFolderError, match="moved or replaced"),
        claimed(Request(folder=out)) as output,
    ):
        out.rename(room / "away")
        out.mkdir()
        (out / "notes.txt").write_text("mine")
        output.write(files("b"))
    assert (out / "notes.txt").read_text() == "mine"
    assert read(room / "away") == files("a")


def test_a_folder_that_is_taken_away_while_it_works(room: Path) -> None:
    """Hours of work are not thrown away for it: nothing is in the way any more."""
    out = room / "out"
    write_folder(out, files("a"))
    with claimed(Request(folder=out)) as output:
        (out / "summary.html").unlink()
        output.write(files("b"))
    assert read(out) == files("b")
    with claimed(Request(folder=out)) as output:
        out.rename(room / "away")
        output.write(files("c"))
    assert read(out) == files("c")
    assert read(room / "away") == files("b")
    assert sorted(os.listdir(room)) == ["away", "out"]


def test_a_folder_that_appears_while_it_works(room: Path) -> None:
    out = room / "out"
    with (
        pytest.raises(OutputFolderError, match="has appeared"),
        claimed(Request(folder=out)) as output,
    ):
        out.mkdir()
        output.write(files("b"))
    assert os.listdir(room) == ["out"]


def test_what_comes_in_the_last_moment_is_seen_after_the_exchange(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that is dropped between the last look and the exchange brings the old folder back."""
    out = room / "out"
    write_folder(out, files("a"))
    exchange = OutputFolder._exchange

    def late(output: OutputFolder) -> str:
        (out / "late.txt").write_text("mine")
        return exchange(output)

    monkeypatch.setattr(OutputFolder, "_exchange", late)
    with pytest.raises(OutputFolderError, match=r"late\.txt was put into it"):
        write_folder(out, files("b"))
    assert read(out) == files("a") | {PurePosixPath("late.txt"): b"mine"}
    assert os.listdir(room) == ["out"]


@pytest.mark.parametrize("kind", ["file", "link", "another output"])
def test_what_takes_its_place_in_the_last_moment_gets_it_back(
    room: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    write_folder(room / "other", files("o"))
    exchange = OutputFolder._exchange

    def swapped(output: OutputFolder) -> str:
        out.rename(room / "away")
        if kind == "file":
            out.write_text("mine")
        elif kind == "link":
            out.symlink_to(room / "other")
        else:
            (room / "other").rename(out)
        return exchange(output)

    monkeypatch.setattr(OutputFolder, "_exchange", swapped)
    with pytest.raises(OutputFolderError, match="while this was built; it is left as it is"):
        write_folder(out, files("b"))
    if kind == "file":
        assert out.read_text() == "mine"
    else:
        assert out.is_symlink() is (kind == "link")
        assert read(out) == files("o")
    assert read(room / "away") == files("a")
    assert not list(room.glob(".*"))


def test_what_comes_later_still_is_kept_and_told(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    replace = OutputFolder._replace

    def then_dropped(output: OutputFolder, earlier: HeldFolder) -> None:
        replace(output, earlier)
        aside = next(room.glob(".out.unfinished/*/summary.html")).parent
        (aside / "late.txt").write_text("mine")

    monkeypatch.setattr(OutputFolder, "_replace", then_dropped)
    with pytest.raises(OutputFolderError, match=r"was written; .*late\.txt .* is kept"):
        write_folder(out, files("b"))
    assert read(out) == files("b")
    (kept,) = room.glob(".out.unfinished/*/late.txt")
    assert kept.read_text() == "mine"
    monkeypatch.undo()
    with pytest.raises(OutputFolderError, match=r"late\.txt: was put there by another"):
        write_folder(out, files("c"))
    kept.unlink()
    write_folder(out, files("c"))
    assert os.listdir(room) == ["out"]


def test_an_edit_between_the_last_look_and_the_removal_is_kept(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even one of the same length whose writer puts the time of the file back."""
    write_folder(below_temporary / "out", files("a"))
    digest, looks = HeldFolder.digest, []

    def then_edited(folder: HeldFolder, name: str) -> Digest | None:
        found = digest(folder, name)
        path = folder.path / name
        if name == "summary.html" and ".out.unfinished" in path.parts:
            looks.append(path)
            if len(looks) == 3:  # where it is made, after the exchange, and to remove it
                before = path.stat()
                path.write_text("A")
                os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
        return found

    monkeypatch.setattr(HeldFolder, "digest", then_edited)
    with pytest.raises(OutputFolderError, match=r"was written; .*summary\.html .* is kept"):
        write_folder(below_temporary / "out", files("b"))
    (kept,) = below_temporary.glob(".out.unfinished/new/summary.html")
    assert kept.read_text() == "A"
    assert read(below_temporary / "out") == files("b")


@pytest.mark.parametrize("step", ["sync", "remove_folder"])
def test_what_fails_after_the_exchange_is_told_as_that(
    room: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    write_folder(room / "out", files("a"))
    rightly = getattr(HeldFolder, step)

    def broken(folder: HeldFolder, *names: str) -> None:
        if read(room / "out") == files("b"):
            raise OSError(errno.EIO, "Input/output error")
        rightly(folder, *names)

    monkeypatch.setattr(HeldFolder, step, broken)
    with pytest.raises(OutputFolderError, match="was written, but then: Input/output error"):
        write_folder(room / "out", files("b"))
    monkeypatch.undo()
    os.chdir(room)
    assert read(room / "out") == files("b")
    write_folder(room / "out", files("c"))
    assert os.listdir(room) == ["out"]


def test_a_disk_that_knows_neither_rights_nor_syncing_of_folders(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As many sticks and network drives: all files have the same rights, and none can be set."""

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    sync = os.fsync

    def of_files(handle: int) -> None:
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "Invalid argument")
        sync(handle)

    monkeypatch.setattr(os, "chmod", refused)
    monkeypatch.setattr(os, "fchmod", refused)
    monkeypatch.setattr(os, "fsync", of_files)
    write_folder(below_temporary / "out", files("a"))
    write_folder(below_temporary / "out", files("b"))
    assert read(below_temporary / "out") == files("b")


@pytest.mark.parametrize("number", [errno.EBUSY, errno.EXDEV, errno.EIO])
def test_an_exchange_that_is_refused_is_not_tried_in_two_steps(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """Only where a disk does not know how to exchange names are they given one after the other."""
    out = below_temporary / "out"
    write_folder(out, files("a"))
    monkeypatch.setattr(ctypes, "CDLL", lambda *_, **__: SimpleNamespace(renameat2=lambda *_: -1))
    monkeypatch.setattr(ctypes, "get_errno", lambda: number)
    with pytest.raises(OutputFolderError, match=os.strerror(number)):
        write_folder(out, files("b"))
    assert read(out) == files("a")
    assert os.listdir(below_temporary) == ["out"]
    monkeypatch.setattr(ctypes, "get_errno", lambda: errno.EINVAL)
    write_folder(out, files("b"))
    assert read(out) == files("b")


def test_rights_are_given_to_no_file_that_a_link_leads_to(
    below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    victim = below_temporary / "victim"
    victim.write_text("dear")
    victim.chmod(0o600)
    write_folder(below_temporary / "out", files("a"))
    (below_temporary / "out" / "summary.html").chmod(0o666)
    finish = OutputFolder._finish

    def linked(output: OutputFolder, folder: HeldFolder, above: str, made: frozenset[str]) -> None:
        if not above:
            (folder.path / "summary.html").unlink()
            (folder.path / "summary.html").symlink_to(victim)
        finish(output, folder, above, made)

    monkeypatch.setattr(OutputFolder, "_finish", linked)
    with pytest.raises(OutputFolderError):
        write_folder(below_temporary / "out", files("b"))
    assert stat.S_IMODE(victim.stat().st_mode) == 0o600


def test_what_is_put_where_it_is_made_stops_it(room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    strange = room / ".out.unfinished" / "new" / "strange"
    write = Workroom.write

    def and_a_stranger(workroom: Workroom, folder: HeldFolder, name: str, content: bytes) -> None:
        write(workroom, folder, name, content)
        if strange.parent.is_dir():
            strange.write_text("mine")

    monkeypatch.setattr(Workroom, "write", and_a_stranger)
    with pytest.raises(OutputFolderError, match="strange: was put there"):
        write_folder(room / "out", files("b"))
    assert strange.read_text() == "mine"
    assert not (room / "out").exists()


def test_a_file_that_is_changed_where_it_is_made_is_named(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    finish = OutputFolder._finish

    def edited(output: OutputFolder, folder: HeldFolder, above: str, made: frozenset[str]) -> None:
        if not above:
            (folder.path / "summary.html").write_text("mine")
        finish(output, folder, above, made)

    monkeypatch.setattr(OutputFolder, "_finish", edited)
    with pytest.raises(OutputFolderError, match=r"summary\.html: was put there, or changed"):
        write_folder(room / "out", files("b"))


def test_a_file_in_the_way(room: Path) -> None:
    (room / "out").write_text("a file")
    with pytest.raises(OutputFolderError, match="is a file"):
        write_folder(room / "out", files("a"))
    assert (room / "out").read_text() == "a file"
    with pytest.raises(OutputFolderError, match="cannot be written"):
        write_folder(room / "out" / "below", files("a"))
    assert os.listdir(room) == ["out"]


def test_what_cannot_be_written_leaves_the_old_folder(room: Path) -> None:
    out = room / "out"
    write_folder(out, files("a"))
    broken = files("b") | {PurePosixPath("summary.html/below-a-file"): b""}
    with pytest.raises(OutputFolderError, match="cannot be written"):
        write_folder(out, broken)
    assert read(out) == files("a")
    assert os.listdir(room) == ["out"]


def test_a_new_job_wants_a_new_or_empty_folder(room: Path) -> None:
    request = Request(folder=room / "job", replace=Replace.NOTHING)
    with claimed(request) as output:
        output.write({PurePosixPath("job.yaml"): b"x"})
    with pytest.raises(OutputFolderError, match="not empty"), claimed(request):
        pytest.fail("an earlier job would be replaced")
    assert (room / "job" / "job.yaml").read_bytes() == b"x"


def test_nothing_is_left_of_folders_that_were_made_for_nothing(room: Path) -> None:
    with claimed(Request(folder=room / "a" / "b" / "out")):
        assert (room / "a" / "b").is_dir()
    assert os.listdir(room) == []


def test_a_link_is_followed_and_stays_one(room: Path) -> None:
    (room / "real").mkdir()
    for target in (room / "real" / "there", room / "real" / "missing"):
        link = room / f"link-to-{target.name}"
        link.symlink_to(target)
        if target.name == "there":
            target.mkdir()
        write_folder(link, files("a"))
        write_folder(link, files("b"))
        assert link.is_symlink()
        assert not target.is_symlink()
        assert read(target) == files("b")


def test_rights_stay_and_the_mask_holds(room: Path) -> None:
    before = os.umask(0o027)
    try:
        out = room / "out"
        write_folder(out, files("a"))
        assert stat.S_IMODE(out.stat().st_mode) == 0o750
        assert stat.S_IMODE((out / "shop").stat().st_mode) == 0o750
        assert stat.S_IMODE((out / "summary.html").stat().st_mode) == 0o640
        out.chmod(0o2770)
        (out / "shop").chmod(0o711)
        (out / "summary.html").chmod(0o600)
        write_folder(out, files("b", 4))
    finally:
        os.umask(before)
    assert read(out) == files("b", 4)
    assert stat.S_IMODE(out.stat().st_mode) == 0o2770
    assert stat.S_IMODE((out / "shop").stat().st_mode) == 0o711
    assert stat.S_IMODE((out / "summary.html").stat().st_mode) == 0o600
    assert stat.S_IMODE((out / "shop" / "sheets" / "3.txt").stat().st_mode) == 0o640


def test_only_a_sealed_manifest_lists_files() -> None:
    manifest = with_manifest({PurePosixPath("a"): b"1"})[PurePosixPath("manifest.json")]
    assert list(listed_files(manifest) or ()) == ["a"]
    for other in (
        manifest + b" ",
        manifest.replace(b'"a"', b'"b"'),
        manifest.replace(b"casewright", b"another"),
        b"",
        b"null",
        b"[]",
        b'{"files": []}',
        b"\xff",
        sealed_json({"job": "none"}).encode(),
        sealed_json({"files": 1}).encode(),
        sealed_json({"files": [{"path": "a", "sha256": ["b"]}]}).encode(),
        sealed_json({"files": [{"path": "a/" * 1500 + "b", "sha256": "c"}]}).encode(),
    ):
        assert other != manifest
        assert listed_files(other) is None


def test_no_path_leads_out_of_the_folder(room: Path) -> None:
    for path in ("../out", "/out", "a/../../out"):
        with pytest.raises(ValueError, match="below"):
            write_folder(room / "out", {PurePosixPath(path): b""})
    assert os.listdir(room) == []
