"""A fresh temporary folder, and nothing else, for benchmarks that write, delete and kill."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def temporary_room(name: str) -> Iterator[Path]:
    """Make a fresh folder below the system's temporary one the working folder, and remove it."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory(prefix=f"{name}-") as made:
        room = Path(made).resolve()
        refuse_elsewhere(room)
        os.chdir(room)
        try:
            yield room
        finally:
            os.chdir(before)


def refuse_elsewhere(room: Path) -> None:
    """End the process unless the room is an empty folder below the system's temporary one."""
    temporary = Path(tempfile.gettempdir()).resolve()
    if temporary not in room.resolve().parents or temporary == Path(temporary.anchor):
        raise SystemExit(f"{room} is not below {temporary}: nothing was started")
    if room.is_symlink() or any(room.iterdir()):
        raise SystemExit(f"{room} is not an empty folder: nothing was started")
