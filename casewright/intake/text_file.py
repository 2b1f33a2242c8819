"""The one door to the files that a user names: regular files, of a size that can be, in UTF-8.

A pipe, a socket or a device may never end, or never begin; none is waited for.
"""

from __future__ import annotations

import errno
import os
import stat
from dataclasses import dataclass
from pathlib import Path

from casewright.errors import Fault
from casewright.intake.document import Blame, Place, placed_fault


@dataclass(frozen=True, slots=True, kw_only=True)
class FileSize:
    """The most bytes that a kind of file may have; `kind` is how a fault speaks of it."""

    kind: str
    most_bytes: int


class _Refused(Exception):
    """A file that is not read: what was found, and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(found, allowed)
        self.found = found
        self.allowed = allowed


def read_text(
    path: Path, faults: list[Fault], size: FileSize, blame: Blame | None = None
) -> str | None:
    """Return the text, or None after adding a fault; a byte order mark is dropped.

    A file that cannot be read is a fault of whoever names it (`blame`), or of the file itself.
    """
    content = read_bytes(path, faults, size, blame)
    if content is None:
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        faults.append(_not_utf8(path, content, problem))
        return None


def read_bytes(
    path: Path, faults: list[Fault], size: FileSize, blame: Blame | None = None
) -> bytes | None:
    """Return what the file holds, or None after adding a fault, as `read_text` does."""
    try:
        return _content(path, size)
    except _Refused as refused:
        if blame is None:
            place = Place(1, None)
            found, allowed = refused.found, refused.allowed
            faults.append(placed_fault(path, place, found=found, allowed=allowed))
        else:
            faults.append(blame(refused.found, f"{refused.allowed}, named relative to this one"))
        return None


def _content(path: Path, size: FileSize) -> bytes:
    """Return what the file holds.

    Raises:
        _Refused: it is none to read.
    """
    try:
        with open(path, "rb", opener=_opened) as stream:
            status = os.fstat(stream.fileno())
            if not stat.S_ISREG(status.st_mode):
                raise _Refused(_kind(status.st_mode), "a text file")
            if status.st_size > size.most_bytes:
                raise _Refused(
                    f"{status.st_size} bytes", f"{size.kind} of at most {size.most_bytes} bytes"
                )
            content = stream.read(status.st_size + 1) or b""  # None: it would have to be waited for
    except (OSError, ValueError) as problem:  # ValueError: no file can have such a name
        raise _Refused(_reason(problem), "a text file") from None
    if len(content) != status.st_size:
        raise _Refused("a file that changed while it was read", "a text file that stands still")
    return content


def _opened(path: str, flags: int) -> int:
    # Without waiting: a pipe that nobody writes to would else hold on for ever.
    return os.open(path, flags | _NOT_WAITING | _NO_TERMINAL)


# Not on every system.
_NOT_WAITING: int = getattr(os, "O_NONBLOCK", 0)
_NO_TERMINAL: int = getattr(os, "O_NOCTTY", 0)


def _kind(mode: int) -> str:
    kinds = {
        stat.S_IFDIR: "a folder",
        stat.S_IFIFO: "a pipe",
        stat.S_IFSOCK: "a socket",
        stat.S_IFCHR: "a device",
        stat.S_IFBLK: "a device",
    }
    return kinds.get(stat.S_IFMT(mode), "no file with a text in it")


def _not_utf8(path: Path, content: bytes, problem: UnicodeDecodeError) -> Fault:
    # Decoding skips a byte order mark, and counts from behind it.
    start = problem.start + len(content) - len(problem.object)
    before = content[:start]
    line_start = before.rfind(b"\n") + 1
    return placed_fault(
        path,
        Place(before.count(b"\n") + 1, len(before[line_start:].decode("utf-8", "replace")) + 1),
        found=f"the byte 0x{content[start]:02x}, which is not UTF-8",
        allowed="text in UTF-8",
    )


def _reason(problem: OSError | ValueError) -> str:
    if isinstance(problem, FileNotFoundError):
        return "no such file"
    if isinstance(problem, IsADirectoryError):
        return "a folder"
    if isinstance(problem, OSError) and problem.errno == errno.ENXIO:
        return "a socket, or a device that is not there"
    if isinstance(problem, OSError) and problem.strerror:
        return f"a file that cannot be opened ({problem.strerror.lower()})"
    return "a name that no file can have"
