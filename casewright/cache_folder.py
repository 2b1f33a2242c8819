"""The folder of the user in which what is costly is remembered from one run to the next.

One file for each thing, named by the hash of what it is made from and of this program: a changed
program finds nothing of what another one kept. A file starts with the hash of the rest; one that
does not is thrown away and made anew. Files are written aside and moved in whole, so that two
builds at once, or one that is killed, leave nothing half-written.
"""

from __future__ import annotations

import hashlib
import os
import re
import sys
import tempfile
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from importlib import metadata
from pathlib import Path

from platformdirs import user_cache_path

from parametric.remembered import opened

VARIABLE = "CASEWRIGHT_CACHE"
"""Names another folder; empty, nothing is remembered."""

MOST_BYTES = 500_000_000
LEFT = 0.8  # of that, after the oldest were thrown away
_SEAL = 32  # bytes of a hash
_LEVEL = 1  # of compression: most of what can be saved, in little time
_NAME, _UNFINISHED = re.compile(r"[0-9a-f]{64}"), re.compile(r"new-\w+\.part")
_ABANDONED_S = 86_400
_ROOTS = ("parametric", "nesting", "export", "casewright")
_LIBRARIES = (
    *("cadquery", "cadquery-ocp", "ezdxf", "scikit-fem", "scipy"),
    *("highspy", "numba", "numpy", "rectpack"),
)


class CacheFolder:
    """Keeps bytes in files of a folder; what cannot be read or written is as if not kept."""

    def __init__(self, folder: Path) -> None:
        """Keep files in the folder, which need not be there yet."""
        self._folder = folder

    def kept(self, key: str) -> bytes | None:
        """Return what is kept under the key, None if nothing whole is."""
        path = self._path(key)
        try:
            held = path.read_bytes()
        except OSError:
            return None
        value = _opened(held)
        if value is None:
            with suppress(OSError):
                path.unlink()
            return None
        with suppress(OSError):
            os.utime(path)  # what is used stays
        return value

    def keep(self, key: str, value: bytes) -> None:
        """Keep it, if that can be done."""
        path, packed = self._path(key), zlib.compress(value, _LEVEL)
        with suppress(OSError):
            path.parent.mkdir(parents=True, exist_ok=True)
            number, name = tempfile.mkstemp(dir=path.parent, prefix="new-", suffix=".part")
            try:
                with os.fdopen(number, "wb") as stream:
                    stream.write(hashlib.sha256(packed).digest() + packed)
                Path(name).replace(path)
            except BaseException:
                Path(name).unlink(missing_ok=True)
                raise

    def trim(self, most_bytes: int = MOST_BYTES) -> None:
        """Throw away what was used longest ago where all takes more than so many bytes, and what a
        killed process was writing a day ago.
        """
        for path in self._files(_UNFINISHED):
            with suppress(OSError):
                if time.time() - path.stat().st_mtime > _ABANDONED_S:
                    path.unlink()
        found = []
        for path in self._files(_NAME):
            with suppress(OSError):
                status = path.stat()
                found.append((status.st_mtime_ns, status.st_size, path))
        total = sum(size for _, size, _ in found)
        if total <= most_bytes:
            return
        for _, size, path in sorted(found):
            if total <= LEFT * most_bytes:
                return
            with suppress(OSError):
                path.unlink()
                total -= size

    def _path(self, key: str) -> Path:
        name = hashlib.sha256(f"{_program()} {key}".encode()).hexdigest()
        return self._folder / name[:2] / name

    def _files(self, named: re.Pattern[str]) -> Iterator[Path]:
        """Yield the files of ours that are named so, and nothing else that may lie there."""
        with suppress(OSError):
            for folder in sorted(self._folder.iterdir()):
                if len(folder.name) == 2 and folder.is_dir() and not folder.is_symlink():
                    yield from (path for path in folder.iterdir() if named.fullmatch(path.name))


def _opened(held: bytes) -> bytes | None:
    """Return what a file holds, None if it is not whole."""
    seal, packed = held[:_SEAL], held[_SEAL:]
    return zlib.decompress(packed) if hashlib.sha256(packed).digest() == seal else None


@contextmanager
def remembering(*, fresh: bool) -> Iterator[None]:
    """Use and keep what is costly in the user's folder, unless all is to be made `fresh`."""
    folder = None if fresh else _folder()
    if folder is None:
        yield
        return
    store = CacheFolder(folder)
    try:
        with opened(store):
            yield
    finally:
        store.trim()


def _folder() -> Path | None:
    named = os.environ.get(VARIABLE)
    if named is None:
        return user_cache_path("casewright", appauthor=False)
    return Path(named) if named else None


@cache
def _program() -> str:
    """Return a hash of this program and of the libraries that what is kept comes from."""
    found = hashlib.sha256(sys.version.encode())
    for library in _LIBRARIES:
        found.update(f"{library} {metadata.version(library)}\n".encode())
    home = Path(__file__).parents[1]
    for root in _ROOTS:
        for path in sorted((home / root).rglob("*.py")):
            found.update(path.relative_to(home).as_posix().encode())
            found.update(path.read_bytes())
    return found.hexdigest()
