"""What stands on the papers for the shop, apart from how it is set."""

from __future__ import annotations

from dataclasses import dataclass

from export.papers.blocks import Row
from export.site.content import StepPicture

UNIT = "unit"
"""What the fact is called that tells the units which a piece is for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSheet:
    """A piece that the shop joins, `make` times, and so many `people` lift. Rows: facts (what,
    value), parts (count, number, name), screws (letter, count, article).
    """

    number: str
    title: str
    make: int
    pictures: tuple[StepPicture, ...]
    facts: tuple[Row, ...]
    parts: tuple[Row, ...]
    screws: tuple[Row, ...]
    work: tuple[str, ...]
    people: int
    glued: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyBook:
    """The pieces of a job; hardware rows: count, article."""

    job: str
    pieces: tuple[PieceSheet, ...]
    hardware: tuple[Row, ...]
