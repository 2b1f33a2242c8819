"""How many sheets of each layout are cut at once, one line for each layout."""

from __future__ import annotations

from export.tables.csv_text import csv_text
from nesting.edge_to_edge.books import SawWorkload

COLUMNS = (
    "layout",
    "sheets",
    "sheets_at_once",
    "loads",
    "sheets_in_last_load",
    "cuts_per_load",
    "fence_settings_per_load",
    "cuts",
    "fence_settings",
    "cuts_saved",
)


def saw_books_csv(workload: SawWorkload) -> str:
    """Return the books as CSV; layouts count from 1. `cuts_saved`: fewer than sheet by sheet."""
    return csv_text(
        COLUMNS,
        (
            (
                layout,
                books.runs,
                books.sheets_at_once,
                books.loads,
                books.last_load,
                books.cuts_per_load,
                books.settings_per_load,
                books.cuts,
                books.settings,
                books.cuts_saved,
            )
            for layout, books in enumerate(workload.layouts, start=1)
        ),
    )
