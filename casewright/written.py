"""What a command has put on the disk so far, so that a bug is told with what is true of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum
from pathlib import Path


class _State(Enum):
    NOTHING = "nothing"
    WRITING = "writing"
    WHOLE = "whole"


class Written:
    """Knows whether the output of a command was written, and where."""

    def __init__(self) -> None:
        """Start with nothing written."""
        self._state = _State.NOTHING
        self._path = Path()

    @contextmanager
    def writing(self, path: Path) -> Iterator[None]:
        """Take note that a folder or file is written while this is entered, in one step."""
        self._state, self._path = _State.WRITING, path
        yield
        self._state = _State.WHOLE

    def __str__(self) -> str:
        """Return what is on the disk, as the end of a sentence about why a command ended."""
        match self._state:
            case _State.NOTHING:
                return "nothing was written"
            case _State.WRITING:
                return f"{self._path} is as it was before, or whole"
            case _State.WHOLE:
                return f"{self._path} was written and is whole"
