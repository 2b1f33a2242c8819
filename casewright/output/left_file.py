"""A file that a command leaves, and the manifest that lists all of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import PurePosixPath

from export.manifest import FileEntry, FileRole, file_list_json, sha256_of
from parametric.geometry.hand import Hand
from parametric.lists.operations import Operation

MANIFEST = "manifest.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftFile:
    """A file: its path in the output folder with forward slashes, its role, and its bytes.

    The others say what it is about, as in `export.manifest.FileEntry`.
    """

    path: str
    role: FileRole
    content: bytes
    part: str | None = None
    operation: Operation | None = None
    set_name: str | None = None
    hand: Hand | None = None

    @property
    def entry(self) -> FileEntry:
        """Its line in the manifest."""
        return FileEntry(
            path=self.path,
            role=self.role,
            sha256=sha256_of(self.content),
            part=self.part,
            operation=self.operation,
            set_name=self.set_name,
            hand=self.hand,
        )


def listed(files: Iterable[LeftFile]) -> dict[PurePosixPath, bytes]:
    """Return the files by path with a manifest that lists them, and tells nothing else.

    Raises:
        ValueError: two files have one path.
    """
    given = tuple(files)
    return with_manifest(given, file_list_json(file.entry for file in given))


def with_manifest(files: Iterable[LeftFile], manifest: str) -> dict[PurePosixPath, bytes]:
    """Return the files by path, and the manifest beside them."""
    contents = {PurePosixPath(file.path): file.content for file in files}
    return {**contents, PurePosixPath(MANIFEST): manifest.encode()}
