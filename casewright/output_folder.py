"""Output on disk: built aside, then put in place whole, so that it is never a mixture."""

from __future__ import annotations

import ctypes
import json
import os
import shutil
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from casewright.errors import OutputFolderError

MANIFEST = "manifest.json"
AT_WORKING_FOLDER = -100  # Linux: paths are taken from the working folder
EXCHANGE = 2  # Linux: exchange the two names in one step


def write_folder(folder: Path, files: Mapping[PurePosixPath, bytes]) -> None:
    """Write the files as `folder`, replacing an earlier output folder in one step.

    Everything is written next to `folder` under another name and synced first. On Linux the two
    folders then change names in one step; elsewhere the old one is moved away just before.

    Raises:
        OutputFolderError: `folder` holds files that no earlier build wrote, or cannot be written.
    """
    check_replaceable(folder)
    aside: Path | None = None
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        aside = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
        aside.chmod(0o755)
        for path, content in files.items():
            write_file(aside / path, content)
        put_in_place(aside, folder)
    except OSError as error:
        raise OutputFolderError(folder, f"cannot be written: {error.strerror or error}") from error
    finally:
        if aside is not None:
            shutil.rmtree(aside, ignore_errors=True)


def write_new_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write the files into a folder that is new or empty.

    Raises:
        OutputFolderError: it holds anything, is a file, or cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise OutputFolderError(folder, "is not empty; give a new folder")
    write_folder(folder, {PurePosixPath(name): content for name, content in files.items()})


def check_replaceable(folder: Path) -> None:
    """Refuse to replace anything but an earlier output folder or an empty one.

    Raises:
        OutputFolderError: the folder is a file, or holds files that its manifest does not list.
    """
    if not folder.exists():
        return
    if not folder.is_dir():
        raise OutputFolderError(folder, "is a file; give a folder that is new or an earlier output")
    listed = {MANIFEST, *listed_files(folder)}
    present = (path for path in folder.rglob("*") if not path.is_dir())
    strangers = sorted(
        path.relative_to(folder).as_posix()
        for path in present
        if path.relative_to(folder).as_posix() not in listed
    )
    if strangers:
        raise OutputFolderError(
            folder,
            f"holds files that no build wrote, such as {strangers[0]}; "
            "give another folder or move them away",
        )


def listed_files(folder: Path) -> list[str]:
    """Return the paths that the folder's manifest lists; none without a readable manifest."""
    try:
        manifest = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        return [str(entry["path"]) for entry in manifest["files"]]
    except (OSError, ValueError, KeyError, TypeError):
        return []


def write_file(path: Path, content: bytes) -> None:
    """Write a file, its folders made, and make sure it has reached the disk."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def replace_file(path: Path, content: bytes) -> None:
    """Write a file aside, then give it its name in one step.

    Raises:
        OSError: it cannot be written; what bore the name before is still there.
    """
    with tempfile.TemporaryDirectory(prefix=f".{path.name}.", dir=path.parent) as aside:
        whole = Path(aside) / path.name
        write_file(whole, content)
        whole.replace(path)


def put_in_place(aside: Path, folder: Path) -> None:
    """Give `aside` the name `folder`; what bore it before is left under the name of `aside`."""
    if not folder.exists():
        aside.rename(folder)
    elif not exchanged(aside, folder):
        away = aside.with_name(f"{aside.name}.old")
        folder.rename(away)
        aside.rename(folder)
        shutil.rmtree(away, ignore_errors=True)


def exchanged(first: Path, second: Path) -> bool:
    """Exchange the names of two folders in one step, where the system can; tell whether it did."""
    if sys.platform != "linux":
        return False
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    result = renameat2(
        AT_WORKING_FOLDER, os.fsencode(first), AT_WORKING_FOLDER, os.fsencode(second), EXCHANGE
    )
    return bool(result == 0)
