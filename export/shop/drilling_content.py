"""What stands on the drilling drawings, apart from how it is set."""

from __future__ import annotations

from dataclasses import dataclass

from export.papers.blocks import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class BarDrawing:
    """A kind of bar with holes. Rows: face, drill, how many, where across, where along."""

    title: str
    facts: tuple[str, ...]
    svg: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillingBook:
    """All bars of a job: listed (number, name, section, length, make, mirror image), and drawn;
    `steel` where any of them is of steel.
    """

    job: str
    listed: tuple[Row, ...]
    drawings: tuple[BarDrawing, ...]
    steel: bool
