"""What a disk says: how much room there is on it, and why it refuses something."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from casewright.errors import OutputFolderError
from casewright.output.held_folder import HeldFolder
from casewright.output.workroom import Busy

EVEN_THE_LEAST_BYTES = 1 << 20


def refuse_too_little_room(parent: HeldFolder, needed_bytes: int) -> None:
    """Refuse a disk that cannot hold that much. Some file systems do not tell, or tell that they
    hold nothing at all: they are believed to have room.

    Raises:
        OutputFolderError: there is too little room on it.
    """
    try:
        disk = shutil.disk_usage(parent.path)
    except OSError:
        return
    needed = max(needed_bytes, EVEN_THE_LEAST_BYTES)
    if disk.total > 0 and disk.free < needed:
        raise OutputFolderError(
            parent.path,
            f"has {disk.free / 1e6:.1f} MB free on its disk, and about {needed / 1e6:.1f} MB are "
            "needed",
        )


@contextmanager
def told(folder: Path) -> Iterator[None]:
    """Tell what the system refuses as something that the user can put right.

    Raises:
        OutputFolderError: for any `OSError`, and for a folder that is being written.
    """
    try:
        yield
    except Busy:
        raise OutputFolderError(
            folder, "is being written by another command; let it end, or stop it"
        ) from None
    except OSError as error:
        raise OutputFolderError(folder, f"cannot be written: {reason(error)}") from error


def reason(error: OSError) -> str:
    """Return why the system refused something, and at which name."""
    where = f" ({error.filename})" if isinstance(error.filename, str) else ""
    return f"{error.strerror or error}{where}"
