"""What stands in a folder, held against what this program wrote there.

Glossary: *expected* files are those that a plan or a manifest names, by path below the folder with
forward slashes, each with the SHA-256 that it may have. A *stranger* is anything else: a file that
is not expected, a link, a device, a folder in which no expected file stands.
"""

from __future__ import annotations

import errno
import stat
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from casewright.output.held_folder import Digest, HeldFolder, identity_of

Hashes = Mapping[str, frozenset[str]]
"""Each expected file with what it may hold, as SHA-256."""


@dataclass(frozen=True, slots=True)
class Contents:
    """What stands in a folder: expected files as read, strangers in order, all rights, and
    folders out of which this user can take nothing.
    """

    files: dict[str, Digest] = field(default_factory=dict)
    strangers: list[str] = field(default_factory=list)
    modes: dict[str, int] = field(default_factory=dict)
    read_only: list[str] = field(default_factory=list)

    @property
    def size_bytes(self) -> int:
        """Return the size of the expected files together."""
        return sum(digest.identity.size_bytes for digest in self.files.values())

    def differing(self, expected: Hashes) -> list[str]:
        """Return the expected files that hold something else than they may, sorted."""
        return sorted(
            path for path, digest in self.files.items() if digest.sha256 not in expected[path]
        )

    def hashes(self) -> dict[str, str]:
        """Return what each of the files holds."""
        return {path: digest.sha256 for path, digest in self.files.items()}


def contents(folder: HeldFolder, expected: Iterable[str]) -> Contents:
    """Return what stands in the folder. Strange folders are named, and not looked into.

    Raises:
        OSError: something in it cannot be read.
    """
    paths = frozenset(expected)
    folders = frozenset(parent for path in paths for parent in parents(path))
    found = Contents()
    _look(folder, "", paths, folders, found)
    return found


def parents(path: str) -> Iterator[str]:
    """Yield the folders above a path, from the top."""
    parts = path.split("/")
    for count in range(1, len(parts)):
        yield "/".join(parts[:count])


def removed(folder: HeldFolder, allowed: Hashes) -> list[str]:
    """Remove what may be removed and the folders that this empties; return what is left, sorted.

    A file goes if it holds what it may, and has not been touched since it was read for that.

    Raises:
        OSError: something cannot be read or removed.
    """
    folders = frozenset(parent for path in allowed for parent in parents(path))
    return sorted(_remove(folder, "", allowed, folders))


def _look(
    folder: HeldFolder,
    above: str,
    paths: frozenset[str],
    folders: frozenset[str],
    found: Contents,
) -> None:
    for name in folder.names():
        path = above + name
        status = folder.status(name)
        if status is None:
            continue  # gone in between
        if stat.S_ISDIR(status.st_mode) and path in folders:
            found.modes[path] = stat.S_IMODE(status.st_mode)
            if not folder.may_be_changed(name):
                found.read_only.append(path)
            with folder.inside(name) as inner:
                _look(inner, f"{path}/", paths, folders, found)
            continue
        digest = folder.digest(name) if path in paths else None
        if digest is None:
            found.strangers.append(path)
        else:
            found.files[path] = digest
            found.modes[path] = stat.S_IMODE(status.st_mode)


def _remove(
    folder: HeldFolder, above: str, allowed: Hashes, folders: frozenset[str]
) -> Iterator[str]:
    for name in folder.names():
        path = above + name
        status = folder.status(name)
        if status is None:
            continue
        if stat.S_ISDIR(status.st_mode) and path in folders:
            with folder.inside(name) as inner:
                kept = list(_remove(inner, f"{path}/", allowed, folders))
            if kept:
                yield from kept
            elif not _folder_gone(folder, name):
                yield path
            continue
        digest = folder.digest(name) if path in allowed else None
        if digest is None or digest.sha256 not in allowed[path]:
            yield path
            continue
        now = folder.status(name)
        if now is None or identity_of(now) != digest.identity:
            yield path
        else:
            folder.remove(name)


def _folder_gone(folder: HeldFolder, name: str) -> bool:
    try:
        folder.remove_folder(name)
    except OSError as error:
        if error.errno not in (errno.ENOTEMPTY, errno.EEXIST):
            raise
        return False  # something was put into it in between
    return True
