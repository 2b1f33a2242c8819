"""How a long nest tells where it stands, and how it is stopped."""

from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a nest stands: work done (0 to 1), the best answer so far and the bound on it."""

    stage: str
    done: float
    sheets: int | None
    lower_bound: int


class Watcher(Protocol):
    """Watches a nest; called on the thread that nests, several times a second."""

    def standing(self, standing: Standing) -> None:
        """Take note of where the nest stands."""

    def cancelled(self) -> bool:
        """Return whether the nest must stop now; the best answer so far is then returned."""


class Unwatched:
    """For callers who neither watch nor stop a nest."""

    def standing(self, standing: Standing) -> None:
        """Ignore it."""

    def cancelled(self) -> bool:
        """Return that the nest may go on."""
        return False
