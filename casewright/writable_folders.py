"""Folders that libraries keep something in: without a home that can be written they get another.

Compiled loops, fonts that were found, settings: libraries look for them below the home folder, and
some cannot be loaded where there is none, as for a service or in a container.
"""

from __future__ import annotations

import atexit
import os
import shutil
import stat
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

from casewright.errors import NoTemporaryFolder

USUAL = {"XDG_CACHE_HOME": ".cache", "XDG_CONFIG_HOME": ".config"}
"""Where the XDG Base Directory Specification has caches and settings, below the home folder."""


def settle_folders() -> str | None:
    """Name folders that can be written to every library and process that comes after.

    To be called before anything is imported that looks for its folder. What is usable stays as it
    is; else a folder below the one for temporary files stands in, the same one for each run.
    Returns what to tell if a first nest is compiled anew for that.

    Raises:
        NoTemporaryFolder: none can be written.
    """
    try:
        temporary = Path(tempfile.gettempdir())
    except FileNotFoundError as error:
        raise NoTemporaryFolder(error.strerror or str(error)) from None
    unusable = [name for name, usual in USUAL.items() if not _usable(name, usual)]
    if _home() is None:
        unusable.append("HOME")
    if not unusable:
        return None
    folder = _own_folder(temporary)
    os.environ |= dict.fromkeys(unusable, str(folder))
    if "XDG_CONFIG_HOME" in unusable:
        # Elsewhere than on Linux, matplotlib does not go by XDG_CONFIG_HOME.
        os.environ.setdefault("MPLCONFIGDIR", str(folder / "matplotlib"))
    if "XDG_CACHE_HOME" not in unusable or _kernels_are_kept():
        return None
    return (
        f"What a first nest compiles is kept in {folder}, as neither the program's own folder nor "
        "a cache folder in your home can be written. XDG_CACHE_HOME names another folder."
    )


def _usable(name: str, usual: str) -> bool:
    """Return whether the folder can be written, or made."""
    named = os.environ.get(name)
    if named:
        return _writable(Path(named))
    home = _home()
    return home is not None and home.is_dir() and _writable(home / usual)


def _home() -> Path | None:
    try:
        return Path.home()
    except RuntimeError:  # no HOME, and nobody knows this user
        return None


def _writable(folder: Path) -> bool:
    try:
        there = next(path for path in (folder, *folder.parents) if os.path.lexists(path))
        return there.is_dir() and os.access(there, os.W_OK | os.X_OK)
    except (OSError, StopIteration):
        return False


def _kernels_are_kept() -> bool:
    """Return whether the compiler keeps what it makes elsewhere than in the folder for caches."""
    if os.environ.get("NUMBA_CACHE_DIR") and _writable(Path(os.environ["NUMBA_CACHE_DIR"])):
        return True
    package = find_spec("nesting")
    folders = package.submodule_search_locations if package is not None else None
    return any(_writable(Path(folder, "kernels", "__pycache__")) for folder in folders or ())


def _own_folder(temporary: Path) -> Path:
    """Return a folder that only this user can write, as programs are loaded from it.

    It stays for the next run, unless another user was there first with its name, or temporary files
    go to the working folder for want of another.
    """
    user = os.getuid() if sys.platform != "win32" else 0
    folder = temporary / f"casewright-{user}"
    if not _is_working_folder(temporary):
        try:
            folder.mkdir(mode=0o700, exist_ok=True)
            found = folder.lstat()
            if stat.S_ISDIR(found.st_mode) and found.st_uid == user and not found.st_mode & 0o022:
                return folder
        except OSError:
            pass  # a file has the name
    folder = Path(tempfile.mkdtemp(prefix="casewright-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def _is_working_folder(folder: Path) -> bool:
    try:
        return folder.samefile(".")
    except OSError:
        return False
