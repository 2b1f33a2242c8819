"""A cut file with what it asks of the router."""

from __future__ import annotations

from dataclasses import dataclass

from export.routing.router_work import RouterWork
from parametric.lists.face_up import FaceUp
from parametric.lists.operations import Operation


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutedFile:
    """A file, what it is cut from, and how often: a sheet in its first operation, or a part in its
    second.
    """

    file: str
    material: str
    face_up: FaceUp
    operation: Operation
    runs: int
    work: RouterWork

    @property
    def seconds(self) -> float:
        """The time of all runs."""
        return self.runs * self.work.seconds
