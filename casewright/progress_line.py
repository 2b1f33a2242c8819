"""The line in a terminal that shows how far work has come."""

from __future__ import annotations

from rich.console import Console
from rich.progress import BarColumn, Progress, ProgressColumn, TextColumn


def progress_line(count: ProgressColumn) -> Progress:
    """Return lines of a name, a bar, a count and the field `what` of each task, not yet shown.

    They stand on the error stream, so that output can be piped.
    """
    return Progress(
        TextColumn("{task.description:<22}"),
        BarColumn(bar_width=24),
        count,
        TextColumn("{task.fields[what]}"),
        console=Console(stderr=True),
    )
