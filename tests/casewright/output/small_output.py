"""A small output folder with a manifest as builds write it."""

from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from export.manifest import FileEntry, FileRole, file_list_json, sha256_of


def files(mark: str, count: int = 3) -> dict[PurePosixPath, bytes]:
    """Every file, and by its hashes the manifest, carries the mark."""
    found = {PurePosixPath(f"shop/sheets/{i}.txt"): mark.encode() * 1000 for i in range(count)}
    return with_manifest(found | {PurePosixPath("summary.html"): mark.encode()})


def with_manifest(found: Mapping[PurePosixPath, bytes]) -> dict[PurePosixPath, bytes]:
    entries = (
        FileEntry(path=str(path), role=FileRole.SHEET, sha256=sha256_of(content))
        for path, content in found.items()
    )
    return {**found, PurePosixPath("manifest.json"): file_list_json(entries).encode()}


def read(folder: Path) -> dict[PurePosixPath, bytes]:
    """All files below a folder; links are not followed."""
    return {
        PurePosixPath(path.relative_to(folder).as_posix()): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.is_symlink()
    }
