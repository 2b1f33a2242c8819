"""Where a piece of work stands, and the wish to end it, from whichever thread.

The work counts its stages and steps and asks what is wished; whoever started it listens, looks at
the count, and may say that it is enough or cancel it. Nothing here knows signals or terminals.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Protocol


class Cancelled(Exception):
    """The work was cancelled: nothing of it is wanted any more, and nothing is kept.

    >>> progress = Progress()
    >>> progress.cancel()
    >>> try:
    ...     progress.step("one more")
    ... except Cancelled:
    ...     print("cancelled")
    cancelled
    """


class Listener(Protocol):
    """Told of the work while it runs, on whichever thread it is at."""

    def stage(self, name: str, steps: int) -> None:
        """Take note that a stage of so many steps begins; 0 where the number is not known."""

    def step(self, what: str) -> None:
        """Take note that the stage has done one more step."""

    def note(self, what: str) -> None:
        """Take note of what the stage is at, several times a second."""

    def tell(self, what: str) -> None:
        """Take note of what a user should know at once, not only at the end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """A stage, how many steps it has (0: not known) and has done, and what came last."""

    stage: str = ""
    steps: int = 0
    done: int = 0
    what: str = ""


class _Wishes:
    """What is wished of the work. Wishes only grow, so that no thread needs to wait for another."""

    __slots__ = ("cancelled", "enough", "searches")

    def __init__(self) -> None:
        self.enough = False
        self.cancelled = False
        self.searches = 0


class Progress:
    """Counts one piece of work, tells a listener, and can be cancelled; all on any thread.

    A wish is set without a lock, so that the handler of a signal may set it.

    >>> progress = Progress()
    >>> progress.stage("sets", 2)
    >>> progress.step("the first")
    >>> progress.counted.done, progress.counted.steps
    (1, 2)
    """

    def __init__(self, listener: Listener | None = None) -> None:
        """Start with nothing counted and nothing wished."""
        self._listener = listener
        self._wishes = _Wishes()
        self._counting = threading.Lock()
        self._counted = Counted()

    @property
    def counted(self) -> Counted:
        """Where the work stands."""
        return self._counted

    @property
    def has_enough(self) -> bool:
        """Whether searches are to end with the best that they have by now."""
        return self._wishes.enough or self._wishes.cancelled

    @property
    def is_cancelled(self) -> bool:
        """Whether nothing of the work is wanted any more."""
        return self._wishes.cancelled

    @property
    def is_searching(self) -> bool:
        """Whether a search is at work, whose best answer by now can be kept."""
        return self._wishes.searches > 0

    def enough(self) -> None:
        """Wish that searches end with the best that they have; the work goes on with that."""
        self._wishes.enough = True

    def cancel(self) -> None:
        """Wish that the work ends: with the next step or stage, or at once in a search."""
        self._wishes.cancelled = True

    @contextmanager
    def searching(self) -> Iterator[None]:
        """Be a search while this is entered, by one thread at a time."""
        self._wishes.searches += 1
        try:
            yield
        finally:
            self._wishes.searches -= 1

    def unheard(self) -> Progress:
        """Return the progress of a part of the work: it heeds the same wishes and tells nobody."""
        part = Progress()
        part._wishes = self._wishes
        return part

    def stage(self, name: str, steps: int) -> None:
        """Begin a stage of so many steps; 0 where the number is not known.

        Raises:
            Cancelled: the work was cancelled.
        """
        self.go_on()
        with self._counting:
            self._counted = Counted(stage=name, steps=steps)
        if self._listener is not None:
            self._listener.stage(name, steps)

    def step(self, what: str) -> None:
        """Count one more step of the stage.

        Raises:
            Cancelled: the work was cancelled.
        """
        with self._counting:
            before = self._counted
            self._counted = Counted(
                stage=before.stage, steps=before.steps, done=before.done + 1, what=what
            )
        if self._listener is not None:
            self._listener.step(what)
        self.go_on()

    def note(self, what: str) -> None:
        """Tell what the stage is at."""
        if self._listener is not None:
            self._listener.note(what)

    def tell(self, what: str) -> None:
        """Tell what a user should know at once, not only at the end."""
        if self._listener is not None:
            self._listener.tell(what)

    def go_on(self) -> None:
        """Go on, unless the work was cancelled.

        Raises:
            Cancelled: it was.
        """
        if self._wishes.cancelled:
            raise Cancelled
