"""How a long nest tells where it stands."""

from typing import Protocol


class ProgressListener(Protocol):
    """Told about a nest while it runs; called on the thread that nests."""

    def best_found(self, sheets: int, lower_bound: int) -> None:
        """Take note of a better answer, and of the least number of sheets that is possible."""

    def step(self, done: int, total: int) -> None:
        """Take note of `done` of `total` units of work."""


class SilentProgress:
    """A listener that keeps nothing, for callers who do not watch."""

    def best_found(self, sheets: int, lower_bound: int) -> None:
        """Ignore the answer."""

    def step(self, done: int, total: int) -> None:
        """Ignore the work done."""
