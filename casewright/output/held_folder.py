"""A folder held by a handle, so that what is done in it is done there, whatever its name means by
then.

Where the system has no handles of folders (Windows), the path stands in for one.
"""

from __future__ import annotations

import ctypes
import errno
import hashlib
import os
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple, Self

HANDLES = os.open in os.supports_dir_fd and hasattr(os, "O_DIRECTORY")
EXCHANGE = 2  # Linux: exchange the two names in one step
NO_REPLACE = 1  # Linux: fail where the new name is taken
CHUNK_BYTES = 1 << 20

# What systems and their file systems answer where they do not know how; a filter of system calls
# answers EPERM.
_UNKNOWN = frozenset((errno.EINVAL, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM))
_FOLDER = getattr(os, "O_DIRECTORY", 0) | getattr(os, "O_NOFOLLOW", 0)
_FILE = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


class Identity(NamedTuple):
    """What tells one state of one file from any other, without reading it."""

    device: int
    inode: int
    size_bytes: int
    modified_ns: int
    changed_ns: int  # nobody can put this one back, as `touch` does with the other


class Digest(NamedTuple):
    """What a regular file held when it was read, as SHA-256, and which file that was."""

    sha256: str
    identity: Identity


@dataclass(frozen=True, slots=True)
class HeldFolder:
    """An open folder; `path` is how it was reached, for messages, `opened` its status then.

    Names are single parts of paths. All methods raise `OSError` where the system refuses, and none
    ever follows a link.
    """

    path: Path
    descriptor: int | None
    opened: os.stat_result

    @classmethod
    @contextmanager
    def at(cls, path: Path) -> Iterator[Self]:
        """Hold the folder at a resolved path."""
        descriptor = os.open(path, os.O_RDONLY | _FOLDER) if HANDLES else None
        try:
            yield cls(path, descriptor, os.stat(path if descriptor is None else descriptor))
        finally:
            if descriptor is not None:
                os.close(descriptor)

    @contextmanager
    def inside(self, name: str) -> Iterator[Self]:
        """Hold the folder of that name."""
        descriptor = None
        if HANDLES:
            descriptor = os.open(name, os.O_RDONLY | _FOLDER, dir_fd=self.descriptor)
        elif (self.path / name).is_symlink():
            raise NotADirectoryError(f"{self.path / name} is a link")
        try:
            path = self.path / name
            yield type(self)(path, descriptor, os.stat(path if descriptor is None else descriptor))
        finally:
            if descriptor is not None:
                os.close(descriptor)

    def status(self, name: str) -> os.stat_result | None:
        """Return what stands under a name, a link as itself; None for nothing."""
        try:
            return os.stat(self._at(name), dir_fd=self.descriptor, follow_symlinks=False)
        except FileNotFoundError:
            return None

    def is_under(self, parent: HeldFolder, name: str) -> bool:
        """Return whether the name in that parent still leads to this very folder."""
        found = parent.status(name)
        return found is not None and os.path.samestat(found, self.opened)

    def names(self) -> list[str]:
        """Return what stands in it, sorted."""
        return sorted(os.listdir(self.path if self.descriptor is None else self.descriptor))

    def digest(self, name: str) -> Digest | None:
        """Return what a file holds; None for anything but a regular file."""
        found = self.status(name)
        if found is None or not stat.S_ISREG(found.st_mode):
            return None
        handle = os.open(self._at(name), os.O_RDONLY | _FILE, dir_fd=self.descriptor)
        with open(handle, "rb") as stream:
            opened = os.fstat(handle)
            if not stat.S_ISREG(opened.st_mode):
                return None
            sha256 = hashlib.sha256()
            while chunk := stream.read(CHUNK_BYTES):
                sha256.update(chunk)
        return Digest(sha256.hexdigest(), identity_of(opened))

    def read(self, name: str, most_bytes: int) -> bytes | None:
        """Return the bytes of a regular file; None for anything else, or a larger one."""
        found = self.status(name)
        if found is None or not stat.S_ISREG(found.st_mode) or found.st_size > most_bytes:
            return None
        handle = os.open(self._at(name), os.O_RDONLY | _FILE, dir_fd=self.descriptor)
        with open(handle, "rb") as stream:
            return stream.read(most_bytes)

    def write_new(self, name: str, content: bytes) -> None:
        """Write a file that must not be there yet, and make sure it has reached the disk."""
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _FILE
        handle = os.open(self._at(name), flags, 0o666, dir_fd=self.descriptor)
        with open(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(handle)

    def open_lock(self, name: str) -> int:
        """Return a handle, to be closed, of a file that is made if it is not there."""
        flags = os.O_RDWR | os.O_CREAT | _FILE
        return os.open(self._at(name), flags, 0o600, dir_fd=self.descriptor)

    def make_folder(self, name: str, mode: int = 0o777) -> None:
        """Make a folder; the person's own mask of rights applies."""
        os.mkdir(self._at(name), mode, dir_fd=self.descriptor)

    def set_mode(self, name: str, mode: int) -> None:
        """Give a file or folder that this program has just made these rights, if it has others.

        Where rights cannot be set, as on many sticks, all have the same, and none need be.
        """
        if self.descriptor is None:
            status = self.status(name)
            if status is not None and stat.S_IMODE(status.st_mode) != mode:
                os.chmod(self._at(name), mode)
            return
        handle = os.open(name, os.O_RDONLY | _FILE, dir_fd=self.descriptor)
        try:
            if stat.S_IMODE(os.fstat(handle).st_mode) != mode:
                os.fchmod(handle, mode)
        finally:
            os.close(handle)

    def may_be_changed(self, name: str) -> bool:
        """Return whether this user may put things into the folder of that name, and take out."""
        return os.access(self._at(name), os.W_OK | os.X_OK, dir_fd=self.descriptor)

    def remove(self, name: str) -> None:
        """Remove a name that is no folder's."""
        os.unlink(self._at(name), dir_fd=self.descriptor)

    def remove_folder(self, name: str) -> None:
        """Remove an empty folder."""
        os.rmdir(self._at(name), dir_fd=self.descriptor)

    def rename(self, name: str, target: HeldFolder, new_name: str) -> None:
        """Give a file another name, whatever bore that before."""
        os.replace(
            self._at(name),
            target._at(new_name),
            src_dir_fd=self.descriptor,
            dst_dir_fd=target.descriptor,
        )

    def move_folder(self, name: str, target: HeldFolder, new_name: str) -> None:
        """Give a folder a name that must be free."""
        if not self._renamed_by_linux(name, target, new_name, NO_REPLACE):
            if target.status(new_name) is not None:
                raise FileExistsError(f"{target.path / new_name} has appeared")
            os.rename(
                self._at(name),
                target._at(new_name),
                src_dir_fd=self.descriptor,
                dst_dir_fd=target.descriptor,
            )

    def exchange(self, name: str, target: HeldFolder, other: str) -> bool:
        """Exchange two names in one step, where the system can; tell whether it did."""
        return self._renamed_by_linux(name, target, other, EXCHANGE)

    def sync(self) -> None:
        """Make sure that the names in it have reached the disk, where its file system can."""
        if self.descriptor is None:
            return
        try:
            os.fsync(self.descriptor)
        except OSError as error:
            if error.errno not in _UNKNOWN:
                raise

    def _renamed_by_linux(self, name: str, target: HeldFolder, new_name: str, flag: int) -> bool:
        """Return whether Linux renamed with the flag; False where this file system cannot.

        Raises:
            FileExistsError: the new name is taken and must not be.
            OSError: it is refused for a reason that has nothing to do with the flag.
        """
        if sys.platform != "linux" or self.descriptor is None or target.descriptor is None:
            return False
        try:
            renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
        except (OSError, AttributeError):
            return False
        names = os.fsencode(name), os.fsencode(new_name)
        if renameat2(self.descriptor, names[0], target.descriptor, names[1], flag) == 0:
            return True
        number = ctypes.get_errno()
        if number in _UNKNOWN:
            return False
        raise OSError(number, os.strerror(number), str(target.path / new_name))

    def _at(self, name: str) -> str:
        return name if self.descriptor is not None else str(self.path / name)


def identity_of(status: os.stat_result) -> Identity:
    """Return the identity of a file with that status."""
    return Identity(
        device=status.st_dev,
        inode=status.st_ino,
        size_bytes=status.st_size,
        modified_ns=status.st_mtime_ns,
        changed_ns=status.st_ctime_ns,
    )
