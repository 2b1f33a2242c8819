"""The hidden folder beside an output folder in which the next output is made.

It stands in the same parent, so that names can be exchanged, and holds:

    lock        locked while its writer lives; the system lets go of it when the writer dies
    plan.json   what the writer puts into `new`, and what it found in the output folder
    partial     the file that is being written
    new         the next output; after the names were exchanged, the earlier one
    old         the earlier output, where the system cannot exchange names in one step

Whoever holds the lock may clear away what a dead writer left. A file goes only if the plan says
that it may hold what it holds: whatever else is found stays, and is told by name.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field

import portalocker

from casewright.errors import OutputFolderError
from casewright.output.contents import Hashes, removed
from casewright.output.held_folder import HeldFolder
from export.json_text import json_text

LOCK, PLAN, PARTIAL, NEW, OLD = "lock", "plan.json", "partial", "new", "old"
NAMES = frozenset((LOCK, PLAN, PARTIAL, NEW, OLD))
ENDING = ".unfinished"
LONGEST_NAME_BYTES = 255  # of every file system in use
LARGEST_PLAN_BYTES = 1 << 28
AT_ONCE = portalocker.LockFlags.EXCLUSIVE | portalocker.LockFlags.NON_BLOCKING
LOOK_SECONDS = 0.1
"""How often it is asked whether another writer has come to its end."""


class Busy(Exception):
    """Another program is writing there just now."""


class Gone(Exception):
    """The folder above was taken away meanwhile, as by another build that had made it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The files of `new` and of the output folder as it was found: SHA-256 by path."""

    new: Mapping[str, str] = field(default_factory=dict)
    old: Mapping[str, str] = field(default_factory=dict)

    @property
    def allowed(self) -> Hashes:
        """Return what any file may hold that this writer made or was to replace."""
        paths = {**self.new, **self.old}
        return {
            path: frozenset(side[path] for side in (self.new, self.old) if path in side)
            for path in paths
        }

    def text(self) -> bytes:
        """Return it as it stands in its file."""
        return json_text({"new": dict(self.new), "old": dict(self.old)}).encode()

    @classmethod
    def read(cls, text: bytes) -> Plan | None:
        """Return the plan of a text, None if it holds none."""
        try:
            content = json.loads(text)
            sides = [
                {str(path): str(sha256) for path, sha256 in content[side].items()}
                for side in ("new", "old")
            ]
            return cls(new=sides[0], old=sides[1])
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return None


@dataclass(slots=True)
class Workroom:
    """A workroom whose lock is held, for the output folder of that name in the same parent."""

    parent: HeldFolder
    output: str
    folder: HeldFolder
    plan: Plan

    def keep_plan(self, plan: Plan) -> None:
        """Put down what will be written and replaced, before it is."""
        self.write(self.folder, PLAN, plan.text())
        self.plan = plan

    def write(self, folder: HeldFolder, name: str, content: bytes) -> None:
        """Write a file whole: it bears its name only once all of it is on the disk."""
        self.folder.write_new(PARTIAL, content)
        self.folder.rename(PARTIAL, folder, name)

    def clear(self) -> list[str]:
        """Remove what the plan allows, all but the lock; return what is left, by path.

        Raises:
            OSError: something cannot be read or removed.
        """
        names = self.folder.names()
        left = [name for name in names if name not in NAMES]
        for name in (name for name in (NEW, OLD) if name in names):
            if not self._is(stat.S_ISDIR, name):
                left.append(name)
                continue
            with self.folder.inside(name) as inner:
                kept = removed(inner, self.plan.allowed)
            if not kept:
                self.folder.remove_folder(name)
            left += [f"{name}/{path}" for path in kept]
        for name in (name for name in (PARTIAL, PLAN) if name in names):
            if not self._is(stat.S_ISREG, name):
                left.append(name)
            elif name == PARTIAL or not left:
                self.folder.remove(name)
        if not left:
            self.plan = Plan()
        return left

    def _is(self, kind: Callable[[int], bool], name: str) -> bool:
        status = self.folder.status(name)
        return status is not None and kind(status.st_mode)

    def bring_back(self) -> None:
        """Put the earlier output in its place again if a writer ended between two renames.

        While both stand here, neither is in its place.

        Raises:
            OutputFolderError: something else is there now.
            OSError: it cannot be put there.
        """
        if self.folder.status(NEW) is None or self.folder.status(OLD) is None:
            return
        if self.parent.status(self.output) is not None:
            raise OutputFolderError(
                self.folder.path / OLD,
                f"is the earlier output; as {self.parent.path / self.output} has appeared "
                "meanwhile, it is kept: move one of them away",
            )
        self.folder.move_folder(OLD, self.parent, self.output)


def workroom_name(name: str) -> str:
    """Return the name of the workroom for an output folder of that name."""
    whole = f".{name}{ENDING}"
    if len(os.fsencode(whole)) <= LONGEST_NAME_BYTES:
        return whole
    return f".{hashlib.sha256(os.fsencode(name)).hexdigest()}{ENDING}"


@contextmanager
def locked_workroom(
    parent: HeldFolder, name: str, on_busy: Callable[[], object] | None
) -> Iterator[Workroom]:
    """Hold the workroom for the output folder `name` in that parent, and leave nothing of it.

    With a writer at work there, `on_busy` is told once and it is waited for; without `on_busy` it
    is not waited for.

    Raises:
        Busy: another program is writing there.
        Gone: there is no such parent any more.
        OutputFolderError: what stands in its place is none of ours.
        OSError: it cannot be made.
    """
    room = workroom_name(name)
    told = False
    while True:
        with ExitStack() as stack:
            folder = _entered(parent, room, stack)
            if folder is not None:
                workroom = Workroom(parent, name, folder, _plan_in(folder))
                stack.callback(_left, workroom)
                yield workroom
                return
        if on_busy is None:
            raise Busy
        if not told:
            on_busy()
            told = True
        time.sleep(LOOK_SECONDS)


def _entered(parent: HeldFolder, room: str, stack: ExitStack) -> HeldFolder | None:
    """Return the workroom, its lock held until the stack unwinds; None if somebody else has it."""
    while True:
        made = _made(parent, room)
        with ExitStack() as tried, suppress(FileNotFoundError):  # gone in between: once more
            folder = tried.enter_context(parent.inside(room))
            _refuse_strange(folder)
            handle = folder.open_lock(LOCK)
            tried.callback(os.close, handle)
            try:
                portalocker.lock(handle, AT_ONCE)
            except portalocker.AlreadyLocked:
                return None
            except portalocker.LockException as error:
                if made:
                    _remove(parent, room, folder)
                raise OSError(
                    f"files there cannot be locked ({error}); give a folder on another disk"
                ) from error
            # The one before may have cleared all this away before it let go of the lock.
            named = folder.status(LOCK)
            if (
                named is not None
                and os.path.samestat(named, os.fstat(handle))
                and folder.is_under(parent, room)
            ):
                stack.push(tried.pop_all())
                return folder


def _made(parent: HeldFolder, room: str) -> bool:
    try:
        parent.make_folder(room, 0o700)
    except FileExistsError:
        return False
    except FileNotFoundError:
        raise Gone from None
    return True


def _refuse_strange(folder: HeldFolder) -> None:
    """Refuse a folder that no writer made: the lock is the first file in it and the last."""
    names = folder.names()
    strange = [name for name in names if name not in NAMES or LOCK not in names]
    if strange:
        raise OutputFolderError(
            folder.path, f"is where builds are made, and holds {strange[0]}; move that away"
        )


def _plan_in(folder: HeldFolder) -> Plan:
    text = folder.read(PLAN, LARGEST_PLAN_BYTES)
    return (None if text is None else Plan.read(text)) or Plan()


def _left(workroom: Workroom) -> None:
    """Leave a workroom: clear it, and remove it if nothing is left in it.

    What cannot be removed now is told to, or removed by, whoever comes next.
    """
    with suppress(OSError, OutputFolderError):
        workroom.bring_back()
        if not workroom.clear():
            _remove(workroom.parent, workroom_name(workroom.output), workroom.folder)


def _remove(parent: HeldFolder, room: str, folder: HeldFolder) -> None:
    """Remove a workroom in which nothing is left but the lock, if nothing is."""
    with suppress(OSError):
        folder.remove(LOCK)
        parent.remove_folder(room)
