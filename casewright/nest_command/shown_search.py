"""The search as it is watched in a terminal: a bar, what was found, and Ctrl-C to stop it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import Self

from rich.progress import TaskProgressColumn

from casewright.interrupt import StopOnInterrupt
from casewright.progress_line import progress_line
from casewright.wording import counted
from nesting.watch import Standing


class ShownSearch:
    """A watcher that shows where the search stands, on the error stream."""

    def __init__(self) -> None:
        """Prepare the display."""
        self._progress = progress_line(TaskProgressColumn())
        self._interrupt = StopOnInterrupt()
        self._what = "Ctrl-C stops"
        self._task = self._progress.add_task("getting ready", total=None, what=self._what)
        self._done = 0.0
        self._least = 0

    def __enter__(self) -> Self:
        """Start the display."""
        self._progress.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop the display."""
        self._progress.stop()

    @contextmanager
    def stopped_by_ctrl_c(self) -> Iterator[None]:
        """Take the first Ctrl-C as a wish to stop the search, and to keep its best answer."""
        with self._interrupt:
            yield

    def standing(self, standing: Standing) -> None:
        """Show the stage, how much of the work is done, and the sheets of the best answer."""
        self._least = max(self._least, standing.lower_bound)
        # Parts of a search tell their own share and their own sheets: the bar never goes back,
        # and fewer sheets than are possible are those of a part.
        self._done = max(self._done, standing.done)
        if standing.sheets is not None and standing.sheets >= self._least:
            sheets = counted(standing.sheets, "sheet")
            self._what = f"{sheets}, at least {self._least}; Ctrl-C stops"
        self._progress.update(
            self._task,
            description=standing.stage,
            total=1.0,
            completed=self._done,
            what=self._what,
        )

    def cancelled(self) -> bool:
        """Return whether Ctrl-C was pressed."""
        return self._interrupt.wished

    def drawn(self, sheets: int) -> None:
        """Show how many sheets are drawn."""
        what = f"sheet {sheets}"
        self._progress.update(
            self._task, description="drawing", total=1.0, completed=1.0, what=what
        )
