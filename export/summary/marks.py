"""What the page's script knows rows by: which sets a room or a part belongs to."""

from __future__ import annotations

from collections.abc import Iterable

from export.json_text import json_text
from export.summary.content import SetKey


def set_marks(keys: Iterable[SetKey]) -> str:
    """Return sets and hands as a list that the script reads, whatever stands in their names."""
    return json_text([f"{hand} {name}" for name, hand in keys])
