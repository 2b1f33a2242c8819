"""How a long proof is stopped: it asks between short steps, and the answer may end it."""

from collections.abc import Callable

Ask = Callable[[], bool]
"""Returns False, or raises `Stopped`; programs take it where they ask whether to stop."""


class Stopped(Exception):
    """The proof was asked to stop; what was proven before stands."""


def asking(stop: Callable[[], bool]) -> Ask:
    """Return what raises `Stopped` once `stop` is true."""

    def ask() -> bool:
        if stop():
            raise Stopped
        return False

    return ask


def never() -> bool:
    """Let a proof run to its end."""
    return False
