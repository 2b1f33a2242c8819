"""An output folder of `build` from disk: what was issued, as it was written."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from casewright.errors import OptionErrors, OptionFault
from export.changes.issue import Issue, NotIssued
from export.changes.read_issue import MANIFEST, issue_of
from export.errors import DxfFailure
from export.manifest import listed_files, sha256_of

_READ = (".csv", ".dxf")
_ALLOWED = "an output folder of `build`, as it was written"


def read_issue(folder: Path, option: str) -> Issue:
    """Return what a folder says; `option` is what a fault of it names.

    Raises:
        OptionErrors: it is no output of a build, or one of its files was edited since.
    """
    try:
        return issue_of(_files(folder))
    except (NotIssued, OSError, DxfFailure, ValueError) as problem:
        raise _refused(folder, option, problem) from None


def read_written(folder: Path, option: str) -> dict[str, bytes]:
    """Return the tables and DXF files of an output folder by path; `option` is what a fault names.

    Raises:
        OptionErrors: it is no output of a build, or one of its files was edited since.
    """
    try:
        return _files(folder)
    except (NotIssued, OSError) as problem:
        raise _refused(folder, option, problem) from None


def _refused(folder: Path, option: str, problem: Exception) -> OptionErrors:
    reason = problem.strerror if isinstance(problem, OSError) and problem.strerror else problem
    fault = OptionFault(option=option, found=f"{folder}: {reason}", allowed=_ALLOWED)
    return OptionErrors((fault,))


def _files(folder: Path) -> dict[str, bytes]:
    if not (folder / MANIFEST).is_file():
        raise NotIssued(f"it has no {MANIFEST}")
    manifest = (folder / MANIFEST).read_bytes()
    listed = listed_files(manifest)
    if listed is None:
        raise NotIssued("its manifest.json is not one that `build` wrote")
    found = {MANIFEST: manifest}
    for path, digest in listed.items():
        plain = PurePosixPath(path)
        if plain.suffix not in _READ or plain.is_absolute() or ".." in plain.parts:
            continue
        content = (folder / plain).read_bytes()
        if sha256_of(content) != digest:
            raise NotIssued(f"{path} was edited since it was written")
        found[path] = content
    return found
