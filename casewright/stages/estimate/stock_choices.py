"""Each size of a material alone, beside all of them mixed as the job cuts them.

A size alone is a nest of its own: from the layouts of the job's nest first, and where these are not
proven to be the cheapest, by a short search. What is told of it can be cut.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

from casewright.job import Machine
from casewright.stages.nest.nest_stage import Nest, material_nests, nest_instance, sheet_rules
from export.estimate.money import as_written, cents, total
from export.estimate.stock_choice import MIXED, StockChoice
from export.tables.yield_table import yield_rows
from nesting.answer.solution import Solution, StopReason
from nesting.patterns.known_layouts import from_known
from nesting.question.errors import NotEnoughStock, PieceTooBig
from nesting.question.instance import Instance
from nesting.question.settings import Effort
from nesting.solve import solve
from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import StockSheet


def stock_choices(nests: Sequence[Nest], machine: Machine, units: Units) -> tuple[StockChoice, ...]:
    """Return the choices for each material that has several sizes in stock."""
    by_material: dict[str, list[Nest]] = {}
    for nest in nests:
        by_material.setdefault(nest.group.material.key, []).append(nest)
    return tuple(
        choice
        for same in by_material.values()
        if len(same[0].group.material.stock) > 1
        for choice in _of_material(same, machine, units)
    )


def _of_material(nests: Sequence[Nest], machine: Machine, units: Units) -> Iterator[StockChoice]:
    material = nests[0].group.material
    yield _told(material.key, MIXED, nests, own=True)
    for stock in material.stock:
        yield _alone(nests, stock, machine, units)


def _alone(nests: Sequence[Nest], stock: StockSheet, machine: Machine, units: Units) -> StockChoice:
    material, size = nests[0].group.material, _size(stock, units)
    used: Counter[tuple[str, str]] = Counter()
    found: list[Nest] = []
    try:
        for nest in nests:
            asked = nest_instance(nest.group, sheet_rules(machine), used)
            only = tuple(each for each in asked.stocks if each.id == stock.key)
            alone = Instance(pieces=asked.pieces, stocks=only, rules=asked.rules)
            solution = _solved(alone, nest.solution)
            used[material.key, stock.key] += solution.sheets
            found.append(Nest(group=nest.group, instance=alone, solution=solution))
    except PieceTooBig as error:
        parts = ", ".join(each.piece for each in error.pieces)
        why_not = f"does not fit: {parts}"
        return StockChoice(material=material.key, sizes=size, own=False, why_not=why_not)
    except NotEnoughStock:
        why_not = f"too few on hand: {stock.on_hand}"
        return StockChoice(material=material.key, sizes=size, own=False, why_not=why_not)
    return _told(material.key, size, found, own=False)


def _solved(instance: Instance, own: Solution) -> Solution:
    """Return the nest on one size.

    Raises:
        PieceTooBig: a piece does not fit.
        NotEnoughStock: there are too few sheets on hand.
    """
    known = from_known(instance, own.layouts)
    if known.stop is StopReason.PROVEN:
        return known
    searched = solve(instance, effort=Effort.QUICK)
    return min((known, searched), key=lambda each: (each.price, -each.price_bound))


def _told(material: str, sizes: str, nests: Sequence[Nest], *, own: bool) -> StockChoice:
    rows = yield_rows(material_nests(nests))
    return StockChoice(
        material=material,
        sizes=sizes,
        own=own,
        sheets=sum(nest.solution.sheets for nest in nests),
        sheet_m2=_sum(row.sheet_area_m2 for row in rows),
        parts_m2=_sum(row.part_area_m2 for row in rows),
        cost=total(cents(as_written(nest.solution.price)) for nest in nests),
        least_cost=total(cents(as_written(nest.solution.price_bound)) for nest in nests),
    )


def _sum(areas: Iterator[float]) -> Decimal:
    return sum((as_written(area, 4) for area in areas), Decimal(0))


def _size(stock: StockSheet, units: Units) -> str:
    sides = " x ".join(show_length(mm, units) for mm in (stock.length_mm, stock.width_mm))
    return f"{sides} alone"
