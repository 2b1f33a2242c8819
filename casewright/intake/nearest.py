"""What somebody may have meant: the nearest of the names that are allowed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches


def one_of(allowed: Iterable[str], found: str, *, what: str) -> str:
    """Return the allowed names in words, with the one nearest to `found` if any comes close.

    `what` says what they are, in the plural.
    """
    names = list(allowed)
    if not names:
        return f"nothing, for there are no {what}"
    if len(names) > _MOST_COMPARED:
        # To sort them and find the nearest takes long, and a file may have thousands of faults.
        return f"one of {_listed(names)}"
    names.sort()
    listed = _listed(names)
    close = get_close_matches(found[:_LONGEST_COMPARED], names, n=1, cutoff=_COMES_CLOSE)
    return f"one of {listed} (nearest: {_printable(close[0])})" if close else f"one of {listed}"


def _listed(names: Sequence[str]) -> str:
    listed = ", ".join(map(_printable, names[:_MOST_LISTED]))
    return listed + (", ..." if len(names) > _MOST_LISTED else "")


def _printable(name: str) -> str:
    """Return a name that is listed though it is none: its own fault is told elsewhere."""
    return name if name.isprintable() and name else repr(name)


_COMES_CLOSE = 0.6
_MOST_LISTED = 30
_MOST_COMPARED = 300
_LONGEST_COMPARED = 200
