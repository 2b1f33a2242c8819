"""The same list asked in other ways: on each size alone, without remnants, with another gap, sawn.

Every way is a nest of its own, so that what is told of it can be cut as it is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from casewright.commands.nest_command.answer import answered
from casewright.commands.nest_command.files import NestFiles, nest_files
from casewright.commands.nest_command.options import NestOptions
from casewright.commands.nest_command.question import Question
from casewright.commands.nest_command.shown_search import ShownSearch
from casewright.errors import CasewrightError
from export.tables.what_if_table import WhatIfRow
from nesting.question.instance import Instance, Stock, StockKind
from nesting.question.sheet_rules import EdgeToEdge
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_length

ALL = "all"
USUAL_STAGES = 3
"""Of a saw, where the options ask for a free nest: rip, crosscut, recut (common practice, no
source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way to ask: which bought sizes, whether with remnants, how far apart, cut how.

    `sizes` is blank where only remnants are asked for.
    """

    sizes: str
    remnants: bool
    gap: int
    saw: EdgeToEdge | None

    @property
    def cut(self) -> str:
        """Return how it is cut, in words."""
        if self.saw is None:
            return "free"
        return f"sawn, {self.saw.stages or 'any'} stages"

    def gap_in(self, units: Units) -> str:
        """Return the gap as a person reads it."""
        return show_length(to_mm(self.gap), units)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What came of a way: its nest, or why there is none."""

    material: str
    way: Way
    nest: NestFiles | None
    why_not: str = ""


def ways(instance: Instance, other_gap: int | None) -> Iterator[Way]:
    """Yield all ways to ask, as the options ask first."""
    rules = instance.rules
    bought = [stock.id for stock in instance.stocks if stock.kind is StockKind.SHEET]
    sizes = [ALL, *(bought if len(bought) > 1 else [])]
    remnants = [True, False] if len(bought) < len(instance.stocks) else [False]
    gaps = [rules.gap, *([] if other_gap in (None, rules.gap) else [other_gap])]
    saws = [rules.saw, EdgeToEdge(stages=USUAL_STAGES) if rules.saw is None else None]
    if rules.rim is not None:
        saws = [rules.saw]  # what holds small parts on a vacuum has no meaning on a saw
    for saw, gap, size, with_remnants in product(saws, gaps, sizes, remnants):
        assert gap is not None
        yield Way(sizes=size, remnants=with_remnants, gap=gap, saw=saw)


def asked(question: Question, way: Way) -> Question:
    """Return the question asked that way."""
    instance = question.instance
    stocks = tuple(stock for stock in instance.stocks if _is_asked(stock, way))
    rules = replace(instance.rules, gap=way.gap, saw=way.saw)
    return replace(question, instance=replace(instance, stocks=stocks, rules=rules))


def tried(
    question: Question, options: NestOptions, other_gap: int | None, shown: ShownSearch
) -> tuple[Tried, ...]:
    """Return what comes of every way, in order."""
    found = []
    for way in ways(question.instance, other_gap):
        its_options = replace(options, rules=replace(options.rules, gap=way.gap, saw=way.saw))
        found.append(_tried(asked(question, way), its_options, way, shown))
    return tuple(found)


def what_if_rows(found: Iterable[Tried]) -> Iterator[WhatIfRow]:
    """Yield what is told of each way; nests have numbered folders."""
    number = 0
    for each in found:
        number += each.nest is not None
        yield WhatIfRow(
            material=each.material,
            sizes=each.way.sizes,
            remnants=each.way.remnants,
            gap=each.way.gap,
            cut=each.way.cut,
            answer=None if each.nest is None else each.nest.answer,
            folder="" if each.nest is None else f"{number:02d}",
            why_not=each.why_not,
        )


def _tried(question: Question, options: NestOptions, way: Way, shown: ShownSearch) -> Tried:
    material = question.material.shown(options.units)
    try:
        answer = answered(question, options, shown)
    except CasewrightError as error:
        return Tried(material=material, way=way, nest=None, why_not="; ".join(error.lines))
    title = " ".join((question.files.pieces.stem, *_told(way, options.units)))
    files = nest_files(title, answer, options, shown.drawn)
    nest = NestFiles(material=material, name=question.material, answer=answer, files=files)
    return Tried(material=material, way=way, nest=nest)


def _told(way: Way, units: Units) -> Sequence[str]:
    remnants = "with remnants" if way.remnants else "without remnants"
    return f"on {way.sizes},", f"{remnants},", f"gap {way.gap_in(units)},", way.cut


def _is_asked(stock: Stock, way: Way) -> bool:
    if stock.kind is StockKind.REMNANT:
        return way.remnants
    return way.sizes in (ALL, stock.id)
