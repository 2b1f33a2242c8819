"""From the cut list to sheets and bars in use: what the stock holds, and what is left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from casewright.job import Job, Room
from casewright.progress import Progress
from casewright.stages.nest.bar_stage import nest_bars
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.nested.nest_run import nest_what_fits
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.sets.stock_check import BAR_LENGTH, StockCheck, missed, refuse_missed
from nesting.after.run_order import in_order_of_rooms
from nesting.linear.bar_nest import BarNest
from parametric.geometry.hand import Hand
from parametric.lists.cut_list import CutList
from parametric.lists.left_out import LeftOut, StockForm

HINT = "With --despite-shortage the other materials are built, and these are left out."


class OnShortage(StrEnum):
    """What a build does where the stock of a material does not suffice."""

    STOP = "stop"
    LEAVE_OUT = "leave the material out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Nested:
    """The nests of sheets and bars, and the materials that have none as their stock is too little.

    `stock` is everything that was found of the stock, before the nests and by them.
    """

    nests: tuple[Nest, ...] = ()
    bar_nests: tuple[BarNest, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    stock: tuple[StockCheck, ...] = ()


def nest_job(
    job: Job,
    sets: SetsOfJob,
    settings: NestSettings,
    progress: Progress,
    on_shortage: OnShortage,
) -> Nested:
    """Return the nests of all materials, or of those whose stock holds their parts.

    Raises:
        DoesNotFit: some stock does not suffice and that is to stop the build, or there is no other.
    """
    short = missed(sets.stock)
    if on_shortage is OnShortage.STOP:
        refuse_missed(short, HINT)
    fitting = without(sets.cut_list, short)
    nests, not_found = nest_what_fits(fitting, job.machine, settings, progress, job.units)
    if on_shortage is OnShortage.STOP:
        refuse_missed(not_found, HINT)
    short = (*short, *not_found)
    if not nests:
        refuse_missed(short)
    found = {(check.material, check.finding.code): check for check in (*sets.stock, *not_found)}
    rooms = tuple(room_needs(job.rooms, sets))
    return Nested(
        nests=tuple(_cut_for_rooms(nest, rooms) for nest in nests),
        bar_nests=nest_bars(fitting, job.machine.saw, progress, job.units),
        left_out=left_out_entries(short),
        stock=tuple(found.values()),
    )


def room_needs(rooms: Iterable[Room], sets: SetsOfJob) -> Iterator[Counter[str]]:
    """Yield how often each room needs each part, in the order of the schedule."""
    needs: dict[tuple[str, Hand], Counter[str]] = {}
    for use in sets.cut_list.uses:
        needs.setdefault((use.set_name, use.hand), Counter())[use.number] += 1
    for room in rooms:
        yield needs.get((room.set_name, room.hand), Counter())


def _cut_for_rooms(nest: Nest, rooms: Sequence[Counter[str]]) -> Nest:
    """Return a nest whose layouts are cut in an order that has few rooms begun and not whole."""
    layouts = in_order_of_rooms(nest.solution.layouts, rooms)
    return replace(nest, solution=replace(nest.solution, layouts=layouts))


def without(cut_list: CutList, short: tuple[StockCheck, ...]) -> CutList:
    """Return the cut list without what is made of materials that are short."""
    left_out = {(form_of(check), check.material) for check in short}
    return replace(
        cut_list,
        parts=tuple(
            part for part in cut_list.parts if (StockForm.SHEETS, part.material.key) not in left_out
        ),
        bars=tuple(bar for bar in cut_list.bars if (StockForm.BARS, bar.material) not in left_out),
    )


def left_out_entries(short: tuple[StockCheck, ...]) -> tuple[LeftOut, ...]:
    """Return an entry for each material that is short, with all that speaks against it."""
    reasons: dict[tuple[StockForm, str], list[str]] = {}
    for check in short:
        why = f"{check.finding.where}: {check.what}"
        reasons.setdefault((form_of(check), check.material), []).append(why)
    return tuple(
        LeftOut(material=material, form=form, why="; ".join(why))
        for (form, material), why in reasons.items()
    )


def form_of(check: StockCheck) -> StockForm:
    """Return what form the checked stock has."""
    return StockForm.BARS if check.finding.code == BAR_LENGTH else StockForm.SHEETS
