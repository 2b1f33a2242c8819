"""What Ctrl-C means: it ends a command at once, or stops a nest with the best answer so far.

While modules are loaded Ctrl-C ends the process as the system does: compiled modules take seconds
to load in one call that no handler gets through, and nothing is open yet. As soon as a command
works, `end_plainly` takes over: Ctrl-C raises `KeyboardInterrupt`, and a second one, while things
are being put away, ends the process as the system does. Work with a `Progress` hears it through
`heard_by`, which takes the first one in a search as a wish. Nothing else knows signals.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType
from typing import Any, NoReturn

from casewright.progress import Progress

STOPPING = "\nStopping. Ctrl-C again ends at once.\n"
_ERROR_STREAM = 2


@contextmanager
def as_the_system_ends() -> Iterator[None]:
    """Let Ctrl-C end the process without a word, until `end_plainly`; then as it was before."""
    _raise_once.pressed = False
    with _handled_by(signal.SIG_DFL):
        yield


def end_plainly() -> None:
    """Let Ctrl-C raise `KeyboardInterrupt` from now on, once; the next one ends the process."""
    _raise_once.pressed = False
    if _hears_signals() and signal.getsignal(signal.SIGINT) is signal.SIG_DFL:
        signal.signal(signal.SIGINT, _raise_once)


def was_pressed() -> bool:
    """Return whether Ctrl-C was pressed after `end_plainly`, though another error came of it.

    Compiled modules turn what is raised inside their calls into errors of their own.
    """
    return _raise_once.pressed


@contextmanager
def heard_by(progress: Progress) -> Iterator[None]:
    """Let Ctrl-C end a piece of work as it says: in a search the first one only says that it is
    enough, any other one cancels the work and interrupts as ever.

    Signals reach the main thread only: entered on another one, it never hears anything.
    """

    def heard(number: int, frame: FrameType | None) -> None:
        if not progress.is_searching:
            progress.cancel()
            _raise_once(number, frame)
        if progress.has_enough:
            progress.cancel()
            _raise_once.pressed = True
            raise KeyboardInterrupt
        progress.enough()
        # Past the streams of Python, which may be at work on this very thread.
        with suppress(OSError):
            os.write(_ERROR_STREAM, STOPPING.encode())

    if not _hears_signals():
        yield
        return
    before = signal.signal(signal.SIGINT, heard)
    try:
        yield
    finally:
        # Where the first of two has left the next one to the system, that stays so.
        if before is not None and signal.getsignal(signal.SIGINT) is heard:
            signal.signal(signal.SIGINT, before)


class _RaiseOnce:
    """A handler that raises the first time, and leaves the next to the system."""

    def __init__(self) -> None:
        self.pressed = False

    def __call__(self, number: int, frame: FrameType | None) -> NoReturn:
        self.pressed = True
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        raise KeyboardInterrupt


_raise_once = _RaiseOnce()

Handler = Callable[[int, FrameType | None], Any] | int | None


@contextmanager
def _handled_by(handler: Handler) -> Iterator[None]:
    """Give the handler Ctrl-C for a while, where this thread hears signals at all."""
    if not _hears_signals():
        yield
        return
    before = signal.signal(signal.SIGINT, handler)
    try:
        yield
    finally:
        if before is not None:  # None: something outside Python listens, and cannot be put back
            signal.signal(signal.SIGINT, before)


def _hears_signals() -> bool:
    return threading.current_thread() is threading.main_thread()
