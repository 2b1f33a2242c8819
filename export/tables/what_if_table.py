"""The ways that a list was asked in, one line for each: what it costs, and where its answer is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from export.tables.csv_text import csv_text, exact_mm, fixed
from nesting.answer.nest_answer import NestAnswer

COLUMNS = (
    "material",
    "sizes",
    "remnants",
    "gap_mm",
    "cut",
    "price",
    "least_price",
    "sheets",
    "layouts",
    "yield",
    "folder",
    "why_not",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIfRow:
    """A way to ask, the gap in ticks, and its nest with its folder, or why there is none."""

    material: str
    sizes: str
    remnants: bool
    gap: int
    cut: str
    answer: NestAnswer | None
    folder: str
    why_not: str


def what_if_csv(rows: Iterable[WhatIfRow]) -> str:
    """Return the ways as CSV, in order."""
    return csv_text(COLUMNS, map(_cells, rows))


def _cells(row: WhatIfRow) -> tuple[object, ...]:
    asked = (row.material, row.sizes, "yes" if row.remnants else "no", exact_mm(row.gap), row.cut)
    return (*asked, *_figures(row.answer), row.folder, row.why_not)


def _figures(answer: NestAnswer | None) -> Iterator[object]:
    if answer is None:
        yield from [""] * 5
        return
    solution = answer.solution
    yield fixed(solution.price, 2)
    yield fixed(solution.price_bound, 2)
    yield solution.sheets
    yield solution.distinct
    yield fixed(answer.share_used, 4)
