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
        refuse_unless_fresh(room)
        os.chdir(room)
        try:
            yield room
        finally:
            os.chdir(before)


def refuse_unless_fresh(folder: Path) -> None:
    """Refuse any folder but an empty one that lies below the system's for temporary files.

    Raises:
        ValueError: it is another one.
    """
    within = Path(tempfile.gettempdir()).resolve()
    if within not in folder.resolve().parents or folder.is_symlink():
        raise ValueError(f"{folder} does not lie below {within}")
    if not folder.is_dir() or any(folder.iterdir()):
        raise ValueError(f"{folder} is not an empty folder")
