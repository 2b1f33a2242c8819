"""Sizes of paper that documents are set for."""

from __future__ import annotations

from enum import StrEnum

from parametric.stock.lengths import Units


class Paper(StrEnum):
    """Sizes of paper: ISO 216 A4, and US letter (ASME Y14.1 A)."""

    A4 = "a4"
    LETTER = "letter"


def paper_for(units: Units, named: Paper | None = None) -> Paper:
    """Return the paper that a job names, else letter with inches and A4 with millimetres."""
    if named is not None:
        return named
    return Paper.LETTER if units is Units.INCH else Paper.A4
