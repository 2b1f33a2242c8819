"""An output folder, claimed before the work and put in place whole: the old one or the new one.

Nothing is removed but what this program wrote and nobody has touched since; a person may ask for
edited files of an earlier output to be replaced, too. Files that it did not write are never
removed: with one of them in the way, the folder is left as it is and the file is named.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path, PurePosixPath

from casewright.errors import OutputFolderError
from casewright.output.contents import Contents, contents, parents
from casewright.output.disk import reason, refuse_too_little_room, told
from casewright.output.held_folder import HeldFolder
from casewright.output.left_file import MANIFEST
from casewright.output.place import resolved_place
from casewright.output.workroom import NEW, OLD, Gone, Plan, Workroom, locked_workroom
from export.manifest import listed_files, sha256_of

LARGEST_MANIFEST_BYTES = 1 << 28


class Replace(Enum):
    """What of an existing folder may be replaced."""

    NOTHING = "nothing: it is new or empty"
    OUTPUT = "an earlier output that nobody has edited"
    EDITED = "an earlier output, edited or not"


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """An output folder as a person asks for it.

    `inputs` are the files that the work reads: their folders are not replaced. `expected_bytes` is
    about how much will be written. Another writer in the same folder is waited for when there is an
    `on_busy` to be told of it.
    """

    folder: Path
    inputs: tuple[Path, ...] = ()
    expected_bytes: int = 0
    replace: Replace = Replace.OUTPUT
    on_busy: Callable[[], object] | None = None


@dataclass(frozen=True, slots=True)
class OutputFolder:
    """A claimed folder: nobody else writes it, and it can be written as far as can be known."""

    request: Request
    parent: HeldFolder
    name: str
    workroom: Workroom
    earlier: HeldFolder | None
    found: Contents = field(default_factory=Contents)

    def write(self, files: Mapping[PurePosixPath, bytes]) -> None:
        """Write the files in place of what was there, in one step.

        Raises:
            OutputFolderError: something was put into the folder, or edited in it, since it was
                claimed, or it cannot be written; it is left as it was.
        """
        with told(self.request.folder):
            self._write({_inner_path(path): content for path, content in files.items()})

    def _write(self, files: Mapping[str, bytes]) -> None:
        refuse_too_little_room(self.parent, sum(map(len, files.values())))
        hashes = {path: sha256_of(content) for path, content in files.items()}
        self.workroom.keep_plan(Plan(new=hashes, old=self.found.hashes()))
        self.workroom.folder.make_folder(NEW)
        with self.workroom.folder.inside(NEW) as new:
            for path, content in files.items():
                self._write_below(new, path.split("/"), content)
            self._finish(new, "", frozenset(p for path in files for p in parents(path)))
            _refuse_other_than(hashes, new)
        earlier = self._still_there()
        if earlier is None:
            self.workroom.folder.move_folder(NEW, self.parent, self.name)
        else:
            self._plan_to_replace(earlier, hashes)
            self._replace(earlier)
        self._settle()

    def _settle(self) -> None:
        """Bring the exchange to the disk, and remove what stood there before.

        Raises:
            OutputFolderError: the new output is in its place, and one of these could not be done.
        """
        try:
            self.parent.sync()
            left = self.workroom.clear()
        except OSError as error:
            raise OutputFolderError(
                self.request.folder, f"was written, but then: {reason(error)}"
            ) from error
        if left:
            raise OutputFolderError(
                self.request.folder,
                f"was written; {self.workroom.folder.path / left[0]} was put into the earlier "
                "output meanwhile and is kept: move it away",
            )

    def _write_below(self, folder: HeldFolder, parts: list[str], content: bytes) -> None:
        if len(parts) == 1:
            self.workroom.write(folder, parts[0], content)
            return
        with suppress(FileExistsError):
            folder.make_folder(parts[0])
        with folder.inside(parts[0]) as inner:
            self._write_below(inner, parts[1:], content)

    def _finish(self, folder: HeldFolder, above: str, folders: frozenset[str]) -> None:
        """Give files and folders the rights that those before them had; bring names to the disk."""
        for name in folder.names():
            path = above + name
            if path in folders:
                with folder.inside(name) as inner:
                    self._finish(inner, f"{path}/", folders)
            if path in self.found.modes:
                folder.set_mode(name, self.found.modes[path])
        folder.sync()

    def _still_there(self) -> HeldFolder | None:
        """Return the earlier output; None if nothing is there to be replaced, or nothing any more.

        Raises:
            OutputFolderError: another folder has taken its place.
        """
        if self.parent.status(self.name) is None:
            return None  # whoever took it away wants none of it, or has it elsewhere
        if self.earlier is None:
            raise self._refused("has appeared while this was built")
        if not self.earlier.is_under(self.parent, self.name):
            raise self._refused("was moved or replaced while this was built")
        return self.earlier

    def _plan_to_replace(self, earlier: HeldFolder, hashes: Mapping[str, str]) -> None:
        """Look once more, just before the exchange, at what is replaced, and plan for that.

        Raises:
            OutputFolderError: somebody has put a file into it, or edited one.
        """
        now = examined(earlier, self.request)
        if now.hashes() != self.workroom.plan.old:
            self.workroom.keep_plan(Plan(new=hashes, old=now.hashes()))
        self.workroom.folder.set_mode(NEW, stat.S_IMODE(earlier.opened.st_mode))

    def _replace(self, earlier: HeldFolder) -> None:
        """Exchange the new folder and the earlier one; back again if that has changed until then.

        Raises:
            OutputFolderError: it has changed in the last moment.
        """
        room = self.workroom.folder
        aside = self._exchange()
        change = self._change_in(aside, earlier)
        if change is None:
            return
        if aside == OLD:
            self.parent.move_folder(self.name, room, NEW)
            self.workroom.bring_back()
        elif not room.exchange(NEW, self.parent, self.name):
            raise OSError(errno.EINVAL, "the earlier output cannot be put back")
        raise self._refused(f"{change} while this was built")

    def _change_in(self, aside: str, earlier: HeldFolder) -> str | None:
        """Return what is different in what now stands aside; None if it is what is to go."""
        try:
            with self.workroom.folder.inside(aside) as old:
                now = contents(old, self.workroom.plan.old)
                same = os.path.samestat(old.opened, earlier.opened)
        except OSError:
            return "was replaced or made unreadable"
        if now.strangers:
            return f"{now.strangers[0]} was put into it"
        return None if same and now.hashes() == self.workroom.plan.old else "was changed"

    def _exchange(self) -> str:
        """Put the new folder in place; return under which name the earlier one stands aside."""
        room = self.workroom.folder
        if room.exchange(NEW, self.parent, self.name):
            return NEW
        self.parent.move_folder(self.name, room, OLD)
        try:
            room.move_folder(NEW, self.parent, self.name)
        except OSError:
            self.workroom.bring_back()
            raise
        return OLD

    def _refused(self, reason: str) -> OutputFolderError:
        return OutputFolderError(self.request.folder, f"{reason}; it is left as it is")


@contextmanager
def claimed(request: Request) -> Iterator[OutputFolder]:
    """Hold the folder that is asked for while the work is done; it need not be written in the end.

    Folders above it are made, and taken away again if nothing is written into them.

    Raises:
        OutputFolderError: it must not be replaced, cannot be written, or is being written.
    """
    with ExitStack() as stack:
        with told(request.folder):
            output = _claim(request, stack)
        try:
            yield output
        finally:
            with told(request.folder):
                stack.close()


def write_folder(folder: Path, files: Mapping[PurePosixPath, bytes]) -> None:
    """Claim a folder and write the files, replacing an earlier output in one step.

    Raises:
        OutputFolderError: as of `claimed` and `OutputFolder.write`.
    """
    with claimed(Request(folder=folder)) as output:
        output.write(files)


def examined(folder: HeldFolder, request: Request) -> Contents:
    """Return what stands in a folder that may be replaced.

    Raises:
        OutputFolderError: it holds anything that must not be.
        OSError: something in it cannot be read.
    """
    names = folder.names()
    if not names:
        return Contents()
    if request.replace is Replace.NOTHING:
        raise OutputFolderError(request.folder, "is not empty; give a new folder")
    manifest = folder.read(MANIFEST, LARGEST_MANIFEST_BYTES)
    listed = None if manifest is None else listed_files(manifest)
    if manifest is None or listed is None:
        strange = next((name for name in names if name != MANIFEST), MANIFEST)
        what = f"holds {strange}, which no build wrote"
        if MANIFEST in names:
            what = f"holds a {MANIFEST} that no build wrote or that was edited since"
        raise OutputFolderError(request.folder, f"{what}; move it away or give another folder")
    listed |= {MANIFEST: sha256_of(manifest)}
    found = contents(folder, listed)
    if found.strangers:
        raise OutputFolderError(
            request.folder,
            f"holds {_some(found.strangers)}, which no build wrote; "
            "move that away or give another folder",
        )
    if found.read_only:
        raise OutputFolderError(
            request.folder, f"cannot be replaced: {_some(found.read_only)} in it is read-only"
        )
    edited = found.differing({path: frozenset((sha256,)) for path, sha256 in listed.items()})
    if edited and request.replace is not Replace.EDITED:
        raise OutputFolderError(
            request.folder,
            f"holds {_some(edited)}, edited since it was written; move that away, "
            "give another folder, or say --replace-edited to lose the edits",
        )
    return found


def _refuse_other_than(hashes: Mapping[str, str], made: HeldFolder) -> None:
    """Refuse a folder that holds anything else than these files.

    Raises:
        OutputFolderError: somebody has put something into it, or changed a file.
    """
    found = contents(made, hashes)
    held = found.hashes()
    strange = found.strangers + [path for path in hashes if held.get(path) != hashes[path]]
    if strange:
        raise OutputFolderError(made.path / strange[0], "was put there, or changed, by another")


def _claim(request: Request, stack: ExitStack) -> OutputFolder:
    while True:
        with ExitStack() as tried, suppress(Gone):
            output = _claim_once(request, tried)
            stack.push(tried.pop_all())
            return output


def _claim_once(request: Request, stack: ExitStack) -> OutputFolder:
    place = resolved_place(request.folder, request.inputs)
    for made in _made_folders(place.parent):
        stack.callback(_remove_if_empty, made)
    parent = stack.enter_context(HeldFolder.at(place.parent))
    _refuse_file(parent, place.name, request.folder)
    workroom = stack.enter_context(locked_workroom(parent, place.name, request.on_busy))
    workroom.bring_back()
    left = workroom.clear()
    if left:
        raise OutputFolderError(
            workroom.folder.path / left[0], "was put there by another; move it away"
        )
    _refuse_file(parent, place.name, request.folder)
    earlier, found = None, Contents()
    if parent.status(place.name) is not None:
        earlier = stack.enter_context(parent.inside(place.name))
        found = examined(earlier, request)
        if not parent.may_be_changed(place.name):
            raise OutputFolderError(request.folder, "cannot be written: it is read-only")
    refuse_too_little_room(parent, max(request.expected_bytes, found.size_bytes))
    return OutputFolder(request, parent, place.name, workroom, earlier, found)


def _refuse_file(parent: HeldFolder, name: str, typed: Path) -> None:
    status = parent.status(name)
    if status is not None and not stat.S_ISDIR(status.st_mode):
        raise OutputFolderError(typed, "is a file; give a folder that is new or an earlier output")


def _made_folders(folder: Path) -> Iterator[Path]:
    """Make a folder and those above it; yield each that was not there, from the top."""
    missing = []
    while not folder.is_dir() and folder != folder.parent:  # a drive may be missing
        missing.append(folder)
        folder = folder.parent
    for each in reversed(missing):
        with suppress(FileExistsError):
            each.mkdir()
            yield each


def _remove_if_empty(folder: Path) -> None:
    with suppress(OSError):
        folder.rmdir()


def _inner_path(path: PurePosixPath) -> str:
    if path.is_absolute() or ".." in path.parts or not path.parts:
        raise ValueError(f"{path} does not stand below an output folder")
    return str(path)


def _some(paths: Iterable[str]) -> str:
    first, *more = paths
    return f"{first} and {len(more)} more" if more else first
