"""The search as it is watched in a terminal: a bar, what was found, and Ctrl-C to stop it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import Self

from casewright.progress import Progress
from casewright.terminal.interrupt import heard_by
from casewright.terminal.terminal_text import Count, ShownWork
from casewright.wording import counted
from nesting.search.watch import Standing


class ShownSearch:
    """A watcher that shows where the search stands, on the error stream."""

    def __init__(self) -> None:
        """Prepare the display."""
        self._work = ShownWork(Count.SHARE)
        self._progress = Progress()
        self._what = "Ctrl-C stops"
        self._line = self._work.line("getting ready", None, self._what)
        self._done = 0.0
        self._least = 0

    def __enter__(self) -> Self:
        """Start the display."""
        self._work.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop the display."""
        self._work.stop()

    @contextmanager
    def stopped_by_ctrl_c(self) -> Iterator[None]:
        """Take the first Ctrl-C as a wish to stop the search, and to keep its best answer."""
        with self._progress.searching(), heard_by(self._progress):
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
        self._work.share(self._line, standing.stage, self._done, self._what)

    def cancelled(self) -> bool:
        """Return whether Ctrl-C was pressed."""
        return self._progress.has_enough

    def drawn(self, sheets: int) -> None:
        """Show how many sheets are drawn."""
        self._work.share(self._line, "drawing", 1.0, f"sheet {sheets}")
