"""How a build tells where it stands."""

from __future__ import annotations

from typing import Protocol


class BuildProgress(Protocol):
    """Told about a build while it runs."""

    def stage(self, name: str, steps: int) -> None:
        """Take note that a stage of so many steps begins; 0 where the number is not known."""

    def step(self, what: str) -> None:
        """Take note that the stage has done one more step; on any thread."""

    def note(self, what: str) -> None:
        """Take note of what the stage is at; on any thread, several times a second."""

    def tell(self, what: str) -> None:
        """Take note of what a user should know at once, not only at the end."""


class QuietBuild:
    """A listener that keeps nothing."""

    def stage(self, name: str, steps: int) -> None:
        """Ignore the stage."""

    def step(self, what: str) -> None:
        """Ignore the step."""

    def note(self, what: str) -> None:
        """Ignore it."""

    def tell(self, what: str) -> None:
        """Ignore it."""
