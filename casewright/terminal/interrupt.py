"""What Ctrl-C means: it ends a command at once, or stops a nest with the best answer so far.

While modules are loaded Ctrl-C ends the process as the system does: compiled modules take seconds
to load in one call that no handler gets through, and nothing is open yet. As soon as a command
works, `end_plainly` takes over: Ctrl-C raises `KeyboardInterrupt`, and a second one, while things
are being put away, ends the process as the system does. During a nest `StopOnInterrupt` takes the
first one as a wish.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType, TracebackType
from typing import Any, NoReturn, Self

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


class StopOnInterrupt:
    """While it is entered, the first Ctrl-C is only noted; a second one interrupts as ever.

    Signals reach the main thread only: entered on another one, it never stops anything.
    """

    def __init__(self) -> None:
        """Start with no wish to stop."""
        self._wished = threading.Event()
        self._insisted = threading.Event()
        self._listening = _handled_by(self._note)

    @property
    def wished(self) -> bool:
        """Return whether somebody wishes to stop."""
        return self._wished.is_set()

    @property
    def insisted(self) -> bool:
        """Return whether somebody pressed again: nothing is wanted any more."""
        return self._insisted.is_set()

    def __enter__(self) -> Self:
        """Start to listen."""
        self._listening.__enter__()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Give Ctrl-C its former meaning back."""
        self._listening.__exit__(None, None, None)

    def _note(self, number: int, frame: FrameType | None) -> None:
        if self._wished.is_set():
            self._insisted.set()
            _raise_once.pressed = True
            raise KeyboardInterrupt
        self._wished.set()
        # Past the streams of Python, which may be at work on this very thread.
        with suppress(OSError):
            os.write(_ERROR_STREAM, STOPPING.encode())


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
