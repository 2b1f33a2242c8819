"""Words around numbers."""

from __future__ import annotations


def counted(number: int, thing: str) -> str:
    """Return the number with the thing it counts."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
