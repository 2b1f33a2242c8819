"""One step of the work on site, as data that papers are made from."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum

from parametric.geometry.space import Point
from parametric.stock.amounts import Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A height or distance to mark: from `start` to `end` in the room frame, along one axis.

    What is set out along the head wall moves away from its corner where the side wall leans in.
    """

    what: str
    start: Point
    end: Point
    along_head_wall: bool = False

    @property
    def distance_mm(self) -> float:
        """How far the two are apart."""
        return fsum(abs(b - a) for a, b in zip(self.start, self.end, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What is done at once: these parts come in, these joints are made.

    `parts` are names of boards and members that are new in this step; `joints` are places in the
    assembly's tuple, from 0. Every part and every joint of a set belongs to exactly one step.
    `again` came in before and is moved once more; until then it is not where it ends up. What is
    laid dry and `stays` there is in its place, all the same, until it is lifted once more. What is
    put together may be `upside_down`, and `beside` are the parts of it that an earlier step joined.
    """

    number: int
    title: str
    parts: tuple[str, ...]
    joints: tuple[int, ...]
    people: int
    tools: tuple[str, ...]
    marks: tuple[Mark, ...]
    checks: tuple[str, ...]
    cautions: tuple[Words, ...]
    again: tuple[str, ...] = ()
    stays: bool = False
    upside_down: bool = False
    beside: tuple[str, ...] = ()
