"""Where an output folder may stand: the typed path resolved, and what must never be replaced."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from casewright.errors import OutputFolderError

if sys.platform != "win32":
    import pwd

# Nothing is ever written into these.
CLOSED = (
    *("/bin", "/boot", "/dev", "/etc", "/lib", "/lib32", "/lib64", "/libx32", "/proc", "/sbin"),
    *("/sys", "/usr/bin", "/usr/lib", "/usr/lib64", "/usr/sbin", "/System", "/Library"),
)
# These are not replaced, but a folder may be made inside.
SHARED = (
    *("/home", "/media", "/mnt", "/opt", "/root", "/run", "/snap", "/srv", "/tmp", "/usr"),
    *("/usr/local", "/usr/share", "/usr/src", "/var", "/var/tmp", "/Users", "/Applications"),
)
MOUNTS = Path("/proc/self/mountinfo")
WINDOWS_CLOSED = ("SystemRoot", "ProgramFiles", "ProgramFiles(x86)", "ProgramData")


class Kept(NamedTuple):
    """A folder that no output may replace, and how a person would call it."""

    folder: Path
    name: str


def resolved_place(typed: Path, inputs: Iterable[Path] = ()) -> Path:
    """Return where the typed folder is, links followed and `..` taken out.

    Raises:
        OutputFolderError: it is, or holds, the working folder, the home folder, a folder of the
            system, or the folder of one of the `inputs`; or it is no path.
    """
    try:
        place = Path(os.path.realpath(typed))
        kept = [*_kept_folders(inputs)]
    except (OSError, ValueError) as error:
        raise OutputFolderError(typed, f"is not a path of a folder ({error})") from error
    if place == Path(place.anchor):
        raise OutputFolderError(typed, "is the root of the file system; give a new folder")
    for folder, name in kept:
        if place == folder:
            raise OutputFolderError(typed, f"is {name}; give a new folder")
    for folder, name in kept:
        if place in folder.parents:
            raise OutputFolderError(typed, f"holds {name} ({folder}); give a new folder")
    for closed in _closed_folders():
        if closed in place.parents:
            raise OutputFolderError(typed, f"lies in {closed}, which is the system's")
    if os.path.ismount(place) or os.fsencode(place) in _mounts():
        raise OutputFolderError(typed, "is a whole disk or a mounted folder; give a folder in it")
    return place


def _kept_folders(inputs: Iterable[Path]) -> Iterator[Kept]:
    yield Kept(Path(os.path.realpath(Path.cwd())), "the working folder")
    for home in _homes():
        yield Kept(Path(os.path.realpath(home)), "the home folder")
    for file in inputs:
        # A link to a file has two folders: its own, and that of what it leads to.
        for folder in dict.fromkeys((file.absolute().parent, Path(os.path.realpath(file)).parent)):
            yield Kept(Path(os.path.realpath(folder)), f"the folder of {file.name}")
    for folder in (*_closed_folders(), *_resolved(SHARED)):
        yield Kept(folder, "a folder of the system")


def _mounts() -> frozenset[bytes]:
    """Return where something is mounted, as Linux lists it (proc_pid_mountinfo(5): the fifth field,
    spaces and the like in octal): a folder of the same disk mounted there shows in no other way.
    """
    try:
        lines = MOUNTS.read_bytes().splitlines()
    except OSError:  # another system
        return frozenset()
    points = (line.split(b" ", 5)[4] for line in lines if line.count(b" ") > 4)
    return frozenset(
        re.sub(rb"\\([0-3][0-7]{2})", lambda found: bytes((int(found[1], 8),)), point)
        for point in points
    )


def _homes() -> Iterator[Path]:
    """Yield the home folder as the environment says, and as the system's list of users does."""
    with suppress(RuntimeError):  # nobody says where it is
        yield Path.home()
    if sys.platform != "win32":
        with suppress(KeyError):  # this user is on no list
            yield Path(pwd.getpwuid(os.getuid()).pw_dir)


def _closed_folders() -> Iterator[Path]:
    names: Iterable[str] = CLOSED
    if sys.platform == "win32":
        names = filter(None, map(os.environ.get, WINDOWS_CLOSED))
    return _resolved(names)


def _resolved(names: Iterable[str]) -> Iterator[Path]:
    """Yield where the folders are: on some systems `/tmp` or `/home` is a link."""
    return (Path(os.path.realpath(name)) for name in names)
