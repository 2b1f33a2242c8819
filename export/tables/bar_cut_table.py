"""Whose each piece of a bar is: one line for each place of a pattern and each row of the list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from export.tables.csv_text import csv_text, exact_mm
from nesting.answer.nest_answer import Dealt
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_length

COLUMNS = (
    "pattern",
    "first_run",
    "last_run",
    "material",
    "bar",
    "order",
    "piece",
    "group",
    "length_mm",
    "length",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BarCut:
    """A cut of a pattern: its place along the bar from 1, its length in ticks, whose it is."""

    pattern: int
    material: str
    bar: str
    place: int
    length: int
    dealt: Dealt


def bar_cuts_csv(cuts: Iterable[BarCut], units: Units, further: tuple[str, ...] = ()) -> str:
    """Return the cuts as CSV, with the further columns of the list behind."""
    behind = tuple(f"list_{name}" if name in COLUMNS else name for name in further)
    return csv_text((*COLUMNS, *behind), _rows(cuts, units))


def _rows(cuts: Iterable[BarCut], units: Units) -> Iterator[tuple[object, ...]]:
    for cut in cuts:
        yield (
            f"B{cut.pattern:02d}",
            cut.dealt.first_run,
            cut.dealt.last_run,
            cut.material,
            cut.bar,
            cut.place,
            cut.dealt.piece,
            cut.dealt.group,
            exact_mm(cut.length),
            show_length(to_mm(cut.length), units),
            *cut.dealt.further,
        )
