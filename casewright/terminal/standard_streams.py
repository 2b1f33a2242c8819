"""Standard streams that take every text, whoever listens: none is lost to an encoding, a closed
pipe ends no work, and a disk that is full is told as such.
"""

from __future__ import annotations

import codecs
import io
import os
import sys
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer

PLAIN = {
    "×": "x",
    "ß": "ss",
    "²": "2",
    "³": "3",
    "°": " deg",
    "–": "-",
    "—": "-",
    "−": "-",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "→": "->",
}
"""How a terminal without Unicode shows what our own texts hold."""


class Outlet(io.RawIOBase):
    """A file descriptor to write to. After it has refused once, the rest is dropped."""

    def __init__(self, descriptor: int) -> None:
        """Prepare to write to an open descriptor, which stays open."""
        self._descriptor = descriptor
        self.refused: OSError | None = None

    def writable(self) -> bool:
        """Return that it takes bytes."""
        return True

    def fileno(self) -> int:
        """Return the descriptor."""
        return self._descriptor

    def isatty(self) -> bool:
        """Return whether a terminal is at the other end."""
        return os.isatty(self._descriptor)

    def write(self, data: ReadableBuffer, /) -> int:
        """Write, or drop, the bytes."""
        rest = memoryview(data).cast("B")
        size = len(rest)
        while rest and self.refused is None:
            try:
                rest = rest[os.write(self._descriptor, rest) :]
            except OSError as error:
                self.refused = error
        return size


@contextmanager
def standard_streams() -> Iterator[None]:
    """Let everything in the block print to streams that take it.

    A reader that has gone, as `head` does, ends nothing: the work goes on to its own exit code.

    Raises:
        SystemExit: standard output could not be written, as on a full disk, and nothing else was
            amiss; told on the error stream.
    """
    open_all_descriptors()
    codecs.register_error(__name__, readable)
    streams = sys.stdout, sys.stderr
    out = Outlet(1)
    sys.stdout, sys.stderr = stream_to(out, streams[0]), stream_to(Outlet(2), streams[1])
    code: object = 0
    try:
        yield
    except SystemExit as end:
        code = end.code
    finally:
        sys.stdout.flush()
        if out.refused is not None and not isinstance(out.refused, BrokenPipeError):
            sys.stderr.write(f"Standard output cannot be written: {out.refused.strerror}\n")
            code = code or 2
        sys.stderr.flush()
        sys.stdout, sys.stderr = streams
    raise SystemExit(code)


def tell_without_packages(line: str) -> None:
    """Write a line of our own to the error stream where the packages that show texts of others
    cannot be loaded.
    """
    sys.stderr.write(f"{line}\n")


def open_all_descriptors() -> None:
    """Open the standard descriptors that are closed, to nowhere.

    Else the next file that is opened gets the number of one, and what is printed is written there.
    """
    for descriptor in (0, 1, 2):
        try:
            os.fstat(descriptor)
        except OSError:
            nowhere = os.open(os.devnull, os.O_RDWR)
            if nowhere != descriptor:
                os.dup2(nowhere, descriptor)
                os.close(nowhere)


def stream_to(outlet: Outlet, before: TextIO | None) -> TextIO:
    """Return a stream in the encoding of the one before, if there was any.

    A terminal keeps its own, which knows how it is written to.
    """
    if isinstance(before, io.TextIOWrapper) and before.isatty():
        before.reconfigure(errors=__name__)
        return before
    return io.TextIOWrapper(
        io.BufferedWriter(outlet),
        encoding=before.encoding if before is not None else "utf-8",
        errors=__name__,
        line_buffering=True,
    )


def readable(error: UnicodeError) -> tuple[str, int]:
    """Return what to write for what an encoding lacks: the nearest plain letters, else escapes.

    An error handler as `codecs.register_error` takes it.

    Raises:
        UnicodeError: the error is of reading.
    """
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(map(plain, lacking)), error.end


def plain(letter: str) -> str:
    """Return a letter in ASCII, as near as can be."""
    if letter in PLAIN:
        return PLAIN[letter]
    parts = unicodedata.normalize("NFKD", letter)
    near = "".join(part for part in parts if part.isascii())
    return near or letter.encode("ascii", "backslashreplace").decode()
