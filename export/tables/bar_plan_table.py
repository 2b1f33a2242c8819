"""The cut plan of linear stock: how many bars are cut how, each pattern a line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from export.tables.csv_text import csv_text, fixed
from export.tables.profile_words import profile_shown
from nesting.linear.bar_nest import BarNest, NumberedPattern, numbered_patterns
from nesting.linear.instance import BarInstance
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_length

COLUMNS = (
    "pattern",
    "material",
    "profile",
    "stock_length_mm",
    "runs",
    "cuts_in_order",
    "cut_lengths_mm",
    "remnant_mm",
    "remnant_is",
    "keep_remnant",
    "cuts",
    "remnant",
)


def bar_plan_csv(nests: Iterable[BarNest], units: Units) -> str:
    """Return the cut plan as CSV. `runs` bars are each cut so; the remnant is of one bar.

    Columns that end in `_mm` are in millimetres, the last two in the job's units.
    """
    return csv_text(COLUMNS, (_row(each, units) for each in numbered_patterns(nests)))


def cuts_in_words(each: NumberedPattern, units: Units) -> str:
    """Return the cuts in order, equal neighbours together: `2 x L003 (500 mm); L001 (250 mm)`."""
    return "; ".join(
        f"{times}{part} ({show_length(length_mm, units)})"
        for times, part, length_mm in _grouped(each)
    )


def _grouped(each: NumberedPattern) -> Iterator[tuple[str, str, float]]:
    for (part, length_mm), cuts in groupby(each.cuts_mm):
        count = len(list(cuts))
        yield (f"{count} x " if count > 1 else ""), part, length_mm


def _what_is_left(question: BarInstance) -> str:
    """Return what the length of a remnant counts, as a person measures it on the rest."""
    trim_mm = to_mm(question.rules.end_trim)
    return f"with the untrimmed end of {trim_mm:g} mm" if trim_mm else "to the end of the bar"


def _row(each: NumberedPattern, units: Units) -> tuple[object, ...]:
    remnant_mm = to_mm(each.pattern.remnant)
    return (
        each.number,
        each.nest.material,
        profile_shown(each.nest.profile, units),
        fixed(each.stock_length_mm),
        each.pattern.runs,
        "; ".join(part for part, _ in each.cuts_mm),
        "; ".join(fixed(length_mm) for _, length_mm in each.cuts_mm),
        fixed(remnant_mm),
        _what_is_left(each.nest.question),
        "yes" if each.keeps_remnant else "no",
        cuts_in_words(each, units),
        show_length(remnant_mm, units),
    )
