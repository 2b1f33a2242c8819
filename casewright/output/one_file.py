"""One file of a person's own, written anew: whole, or left as it was."""

from __future__ import annotations

import os
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path

from casewright.errors import OutputFolderError
from casewright.output.disk import reason


def write_file(path: Path, content: bytes) -> None:
    """Put a file in place, or in the place of an earlier one, whose permissions it keeps.

    Raises:
        OutputFolderError: it cannot be written; an earlier one is as it was.
    """
    try:
        _replace(path.resolve(), content)  # a link goes on leading to the file
    except OSError as error:
        raise OutputFolderError(path, f"cannot be written: {reason(error)}") from error


def _replace(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with open(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if path.exists():
            shutil.copymode(path, name)
        else:
            os.chmod(name, 0o666 & ~_umask())
        os.replace(name, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise


def _umask() -> int:
    """Return which permissions new files do not get; the system tells only while it is set."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
