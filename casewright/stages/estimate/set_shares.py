"""What each set and hand takes of the costs of a job."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import fsum

from casewright.job import Job
from casewright.stages.estimate.estimate_lines import called, key_of, of_rooms
from casewright.stages.nested.nested_stage import Nested
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.router_stage import RouterStage
from export.estimate.estimate import Line, Section, SetShare, share
from export.estimate.purchase import Kind, PurchaseLine, band_edges
from parametric.kit.glue import whole_glue
from parametric.kit.set_kit import SetKit
from parametric.kit.supplies import ADHESIVE, Supplies, cartridges_for
from parametric.lists.cut_list import Part
from parametric.stock.buying import Buying, packed_buying


def set_shares(
    sets: SetsOfJob,
    nested: Nested,
    router: RouterStage,
    kits: tuple[SetKit, ...],
    job: Job,
    purchases: tuple[PurchaseLine, ...],
    hours: tuple[Line, ...],
) -> tuple[SetShare, ...]:
    """Return what each set and hand takes of each section's cost: of boards and machine by the area
    of its parts in each material, of bands and each kind of bar by length, of hardware by what it
    would cost piece by piece, of hours its own.
    """
    bars = {each.article: float(each.cost or 0) for each in purchases if each.kind is Kind.BARS}
    weights = [
        {
            Section.BOARDS: _boards(sets, nested, kit),
            Section.BANDS: kit.rooms * _of_parts(sets, kit, _band_mm),
            Section.BARS: _bars(sets, kit, bars),
            Section.HARDWARE: _hardware(kit, job.buying, job.supplies),
            Section.MACHINE: _machine(sets, router, kit),
            **{
                section: float(line.quantity)
                for section in (Section.BENCH, Section.INSTALL)
                for line in hours
                if line.section is section and line.what == of_rooms(kit)
            },
        }
        for kit in kits
    ]
    whole = _whole(sets, nested, router, weights)
    return tuple(
        SetShare(
            name=called(kit),
            rooms=kit.rooms,
            shares={s: share(weight.get(s, 0.0), whole[s]) for s in Section},
        )
        for kit, weight in zip(kits, weights, strict=True)
    )


def _whole(
    sets: SetsOfJob, nested: Nested, router: RouterStage, weights: list[dict[Section, float]]
) -> dict[Section, float]:
    """Return what shares are shares of: panels drawn elsewhere are in no set."""
    whole = {s: fsum(weight.get(s, 0.0) for weight in weights) for s in Section}
    whole[Section.BOARDS] = fsum(_price(nested).values())
    whole[Section.MACHINE] = fsum(each.seconds for each in router.nests)
    whole[Section.BANDS] = fsum(_band_mm(p) * p.quantity for p in sets.cut_list.parts)
    return whole


def _of_parts(sets: SetsOfJob, kit: SetKit, weight: Callable[[Part], float]) -> float:
    parts = {part.number: part for part in sets.cut_list.parts}
    uses = (use for use in sets.cut_list.uses if key_of(use) == key_of(kit))
    return fsum(weight(parts[use.number]) for use in uses)


def _band_mm(part: Part) -> float:
    return fsum(length_mm for _, length_mm in band_edges(part))


def _area_share(sets: SetsOfJob, kit: SetKit, numbers: set[str]) -> float:
    """Return which share of the area of these parts a set and hand has."""

    def area(part: Part) -> float:
        return part.panel.length_mm * part.panel.width_mm if part.number in numbers else 0.0

    whole = fsum(area(part) * part.quantity for part in sets.cut_list.parts)
    return kit.rooms * _of_parts(sets, kit, area) / whole if whole else 0.0


def _price(nested: Nested) -> dict[int, float]:
    return {
        at: fsum(
            each.runs * stock.price
            for each in nest.solution.layouts
            for stock in nest.group.material.stock
            if stock.key == each.stock
        )
        for at, nest in enumerate(nested.nests)
    }


def _boards(sets: SetsOfJob, nested: Nested, kit: SetKit) -> float:
    prices = _price(nested)
    return fsum(
        prices[at] * _area_share(sets, kit, {part.number for part in nest.group.parts})
        for at, nest in enumerate(nested.nests)
    )


def _machine(sets: SetsOfJob, router: RouterStage, kit: SetKit) -> float:
    return fsum(
        each.seconds * _area_share(sets, kit, {part.number for part in each.nest.group.parts})
        for each in router.nests
    )


def _bars(sets: SetsOfJob, kit: SetKit, costs: dict[str, float]) -> float:
    """Return what a set and hand takes of the cost of each kind of bar, by length."""
    bars = {bar.number: bar for bar in sets.cut_list.bars}
    whole: dict[str, float] = {}
    for bar in bars.values():
        whole[bar.material] = whole.get(bar.material, 0.0) + bar.length_mm * bar.quantity
    used = (
        bars[number]
        for (set_name, hand, _), number in sets.bar_numbers.items()
        if (set_name, hand) == key_of(kit)
    )
    return kit.rooms * fsum(
        costs.get(bar.material, 0.0) * bar.length_mm / whole[bar.material] for bar in used
    )


def _hardware(kit: SetKit, buying: tuple[Buying, ...], supplies: Supplies) -> float:
    costs = []
    for line in (*kit.kit.lines, *kit.shop.lines):
        found = packed_buying(buying, line.key, line.description)
        packed = cartridges_for(line.packed) if line.key == ADHESIVE else line.packed
        costs.append(packed * (found.price or 0.0) / (found.pack or 1))
    glue = whole_glue((replace(kit, rooms=1),), supplies)
    if glue is not None:
        found = packed_buying(buying, glue.key, glue.description)
        bottles = glue.packed / supplies.glue_bottle_ml
        costs.append(bottles * (found.price or 0.0) / (found.pack or 1))
    return kit.rooms * fsum(costs)
