"""Where a job's files say something, so that what is amiss with it can be told with its place."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """An entry of a file: the file as it was opened, the line of the entry's key, and its key path.

    It belongs to no thing's identity: entries that say the same are the same, wherever they stand.
    """

    file: str
    line: int
    key_path: str

    def __str__(self) -> str:
        """Return file, line and key as faults of input show them."""
        return f"{self.file}:{self.line}: {self.key_path}"

    @property
    def in_its_folder(self) -> str:
        """The same with the file's bare name: for what is written and may not depend on folders."""
        return f"{self.file.rpartition('/')[2]}:{self.line}: {self.key_path}"


def told_at(origin: Origin | None, what: str) -> str:
    """Return what is amiss with its place, where that is known."""
    return what if origin is None else f"{origin}: {what}"
