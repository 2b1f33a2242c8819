"""What the rooms of a job cost in other numbers: the same mix of sets, all else reckoned anew.

Parts, bars, kits and hours are counted exactly. Sheets are a nest of their own, from the layouts of
the job's nest and a short search, so that so many do for certain; its bounds say what a longer
search could save. Only the router's time is carried over from the job's cut files: loading,
unloading and changes of bits by the sheet, labels and second operations by the part, cutting by
the area of parts.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import fsum

from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.estimate.estimate_lines import (
    SECONDS,
    bench_lines,
    called,
    install_lines,
    key_of,
    machine_line,
)
from casewright.stages.nest.bar_stage import nest_bars
from casewright.stages.nest.nest_stage import (
    Nest,
    NestGroup,
    material_nests,
    nest_groups,
    nest_instance,
    sheet_rules,
)
from casewright.stages.nested.nested_stage import Nested
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.router_stage import RoutedNest, RouterStage
from casewright.stages.site.site_stage import SiteWork
from export.estimate.estimate import Estimate, Line, RoomCount, board_lines, bought_lines
from export.estimate.money import as_written, cents, total
from export.estimate.purchase import Demand, purchase_list
from export.tables.yield_table import yield_rows
from nesting.answer.solution import Solution
from nesting.patterns.known_layouts import from_known
from nesting.question.errors import NotEnoughStock
from parametric.kit.set_kit import SetKit
from parametric.lists.cut_list import BarPart, CutList, Part
from parametric.lists.face_up import FaceUp
from parametric.lists.left_out import StockForm

USUAL_COUNTS = (1, 10, 50, 100)
"""Beside the job's own count, unless the rates name others."""
NEAR = 1.5
"""A usual count is left out where the job's own is not so many times more or less."""

GroupKey = tuple[str, FaceUp]


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnCount:
    """The job as it is, from which other counts are reckoned."""

    job: Job
    sets: SetsOfJob
    nested: Nested
    router: RouterStage
    kits: tuple[SetKit, ...]
    site: SiteWork

    @property
    def rooms(self) -> int:
        """The rooms of the job."""
        return len(self.job.rooms)


def counts_of(asked: Sequence[int] | None, own: int) -> tuple[int, ...]:
    """Return the counts of rooms to tell a price for, the job's own among them."""
    if asked is None:
        asked = [each for each in USUAL_COUNTS if max(each, own) > NEAR * min(each, own)]
    return tuple(sorted({*asked, own}))


def dealt(rooms: int, kits: Sequence[SetKit]) -> tuple[SetKit, ...]:
    """Return the kits with so many rooms among them, as near to the job's mix as whole rooms get:
    what is left over once each has its whole part goes to the largest remainders.
    """
    own = sum(kit.rooms for kit in kits)
    shares = [divmod(kit.rooms * rooms, own) for kit in kits]
    left = rooms - sum(whole for whole, _ in shares)
    order = sorted(range(len(kits)), key=lambda at: (-shares[at][1], at))
    more = set(order[:left])
    numbers = [whole + (at in more) for at, (whole, _) in enumerate(shares)]
    return tuple(
        replace(kit, rooms=number) for kit, number in zip(kits, numbers, strict=True) if number
    )


def room_counts(own: OwnCount, estimate: Estimate, progress: Progress) -> tuple[RoomCount, ...]:
    """Return what the job costs with each count of rooms.

    Raises:
        Cancelled: the work was cancelled.
    """
    if not own.kits:
        return ()
    counts = counts_of(own.job.rates.room_counts, own.rooms)
    return tuple(
        _own(own, estimate) if rooms == own.rooms else _other(own, rooms, progress)
        for rooms in counts
    )


def _mix(kits: Sequence[SetKit]) -> tuple[tuple[str, int], ...]:
    return tuple((called(kit), kit.rooms) for kit in kits)


def _own(own: OwnCount, estimate: Estimate) -> RoomCount:
    solutions = [nest.solution for nest in own.nested.nests]
    return RoomCount(
        rooms=own.rooms,
        rates=own.job.rates,
        lines=estimate.lines,
        own=True,
        mix=_mix(own.kits),
        sheets=sum(each.sheets for each in solutions),
        could_save=total(cents(as_written(each.could_save)) for each in solutions),
    )


def _other(own: OwnCount, rooms: int, progress: Progress) -> RoomCount:
    progress.go_on()
    kits = dealt(rooms, own.kits)
    listed = _cut_list(own, kits, rooms)
    nests = tuple(_nests(own, listed.parts))
    return RoomCount(
        rooms=rooms,
        rates=own.job.rates,
        lines=tuple(_lines(own, kits, listed, nests, progress)),
        own=False,
        mix=_mix(kits),
        sheets=sum(nest.solution.sheets for nest in nests),
        could_save=total(cents(as_written(nest.solution.could_save)) for nest in nests),
        beyond=tuple(_beyond(nests)),
    )


def _cut_list(own: OwnCount, kits: Sequence[SetKit], rooms: int) -> CutList:
    """Return the cut list with these rooms, without what is left out of the job's nests. Panels
    that other programs drew belong to no room: there are as many more of them, rounded up.
    """
    listed, numbers = own.sets.cut_list, {key_of(kit): kit.rooms for kit in kits}
    before = {key_of(kit): kit.rooms for kit in own.kits}
    of_sets: Counter[str] = Counter()
    of_sets_before: Counter[str] = Counter()
    uses = [(key_of(use), use.number) for use in listed.uses]
    bars = [((name, hand), number) for (name, hand, _), number in own.sets.bar_numbers.items()]
    for key, number in (*uses, *bars):
        of_sets[number] += numbers.get(key, 0)
        of_sets_before[number] += before.get(key, 0)

    def quantity(part: Part | BarPart) -> int:
        drawn = part.quantity - of_sets_before[part.number]
        return of_sets[part.number] + math.ceil(drawn * rooms / own.rooms)

    left_out = {(each.form, each.material) for each in own.nested.left_out}
    return replace(
        listed,
        parts=tuple(
            replace(part, quantity=quantity(part))
            for part in listed.parts
            if quantity(part) and (StockForm.SHEETS, part.material.key) not in left_out
        ),
        bars=tuple(
            replace(bar, quantity=quantity(bar))
            for bar in listed.bars
            if quantity(bar) and (StockForm.BARS, bar.material) not in left_out
        ),
    )


def _nests(own: OwnCount, parts: Sequence[Part]) -> Iterator[Nest]:
    """Yield the nests of the parts; groups of one material share its sheets on hand, and where
    these do not suffice, it is as if there were as many as it takes.
    """
    known = {_key(nest.group): nest.solution for nest in own.nested.nests}
    rules = sheet_rules(own.job.machine)
    used: Counter[tuple[str, str]] = Counter()
    for group in nest_groups(parts):
        instance = nest_instance(group, rules, used)
        layouts = known[_key(group)].layouts
        try:
            solution = from_known(instance, layouts)
        except NotEnoughStock:
            stocks = tuple(replace(stock, on_hand=None) for stock in instance.stocks)
            instance = replace(instance, stocks=stocks)
            solution = from_known(instance, layouts)
        for layout in solution.layouts:
            used[group.material.key, layout.stock] += layout.runs
        yield Nest(group=group, instance=instance, solution=solution)


def _beyond(nests: Sequence[Nest]) -> Iterator[str]:
    """Yield the materials of which more sheets are cut than are on hand."""
    cut: Counter[tuple[str, str]] = Counter()
    for nest in nests:
        for layout in nest.solution.layouts:
            cut[nest.group.material.key, layout.stock] += layout.runs
    materials = {nest.group.material.key: nest.group.material for nest in nests}
    for key, material in materials.items():
        for stock in material.stock:
            if stock.on_hand is not None and cut[key, stock.key] > stock.on_hand:
                yield f"{cut[key, stock.key]} sheets of {key}, {stock.on_hand} on hand"


def _key(group: NestGroup) -> GroupKey:
    return group.material.key, group.face_up


def _lines(
    own: OwnCount,
    kits: tuple[SetKit, ...],
    listed: CutList,
    nests: tuple[Nest, ...],
    progress: Progress,
) -> Iterator[Line]:
    job = own.job
    of_materials = material_nests(nests)
    demand = Demand(
        nests=of_materials,
        bar_nests=nest_bars(listed, job.machine.saw, progress, job.units),
        parts=listed.parts,
        bars=listed.bars,
        kits=kits,
        left_out=own.nested.left_out,
        supplies=job.supplies,
        buying=job.buying,
        units=job.units,
    )
    yield from board_lines(yield_rows(of_materials))
    yield from bought_lines(purchase_list(demand))
    routed = {_key(each.nest.group): each for each in own.router.nests}
    for nest in nests:
        seconds = _seconds(own, routed[_key(nest.group)], nest.group, nest.solution)
        yield machine_line(job, nest.group, seconds / SECONDS)
    yield from bench_lines(job, own.sets, kits)
    yield from install_lines(job, own.site, kits)


def _seconds(own: OwnCount, routed: RoutedNest, group: NestGroup, solution: Solution) -> float:
    """Return the router's time for another nest of the same parts, from that of the job's."""
    times = own.job.machine.times
    quantities = {part.number: part.quantity for part in group.parts}
    before = routed.nest.group.parts
    runs = [each.routed.runs for each in routed.sheets]
    changes = fsum(each.routed.runs * each.routed.work.change_s for each in routed.sheets) / sum(
        runs
    )
    each_sheet = times.sheet_s(0) + changes
    each_part = times.sheet_s(1) - times.sheet_s(0)
    sheets = fsum(each.routed.seconds for each in routed.sheets)
    cutting = sheets - each_sheet * sum(runs) - each_part * _count(before)
    second = (
        each.routed.work.seconds * quantities.get(each.part.number, 0) for each in routed.second
    )
    return fsum(
        (
            each_sheet * solution.sheets,
            each_part * _count(group.parts),
            cutting * _area_mm2(group.parts) / _area_mm2(before),
            *second,
        )
    )


def _count(parts: Sequence[Part]) -> int:
    return sum(part.quantity for part in parts)


def _area_mm2(parts: Sequence[Part]) -> float:
    return fsum(part.quantity * part.panel.length_mm * part.panel.width_mm for part in parts)
