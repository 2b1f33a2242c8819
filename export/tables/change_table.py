"""What differs between two issues, as a table."""

from __future__ import annotations

from collections.abc import Iterable

from export.changes.words import ChangeLine
from export.tables.csv_text import csv_text

CHANGE_COLUMNS = ("about", "change", "which", "was", "now", "what", "where")


def changes_csv(lines: Iterable[ChangeLine]) -> str:
    """Return the changes as CSV, in their order."""
    return csv_text(
        CHANGE_COLUMNS,
        ((c.about, c.kind, c.which, c.was, c.now, c.what, c.where) for c in lines),
    )
