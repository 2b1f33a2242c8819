"""Ctrl-C as a wish to stop a search: the first keeps the best so far, the second ends all."""

from __future__ import annotations

import signal
import threading
from types import FrameType, TracebackType
from typing import Self


class StopOnInterrupt:
    """While it is entered, the first Ctrl-C is only noted; a second one interrupts as ever.

    Signals reach the main thread only: entered on another one, it never stops anything.
    """

    def __init__(self) -> None:
        """Start with no wish to stop."""
        self._wished = threading.Event()
        self._before: object = None

    @property
    def wished(self) -> bool:
        """Return whether somebody wishes to stop."""
        return self._wished.is_set()

    def __enter__(self) -> Self:
        """Start to listen."""
        if threading.current_thread() is threading.main_thread():
            self._before = signal.signal(signal.SIGINT, self._note)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Give Ctrl-C its former meaning back."""
        if callable(self._before) or isinstance(self._before, int):
            signal.signal(signal.SIGINT, self._before)

    def _note(self, number: int, frame: FrameType | None) -> None:
        if self._wished.is_set():
            raise KeyboardInterrupt
        self._wished.set()
