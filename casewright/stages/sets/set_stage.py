"""From the job to the sets that its rooms use: solids, findings and the cut list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import partial

from casewright.errors import CannotBeMade
from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.panels.drawn_panels import ReadPanel, add_panels, drawn_panels_of
from casewright.stages.sets.bit_findings import bit_findings
from casewright.stages.sets.job_findings import job_findings
from casewright.stages.sets.room_stage import fits_of
from casewright.stages.sets.set_findings import FOUND_IN, set_findings, set_place, told_of
from casewright.stages.sets.set_memory import Made, SetMemory
from casewright.stages.sets.stock_check import StockCheck, part_checks
from casewright.stages.sets.tried_sizes import advised, mended
from casewright.stages.sets.used_sets import UsedSet, placed, used_sets
from export.tables.panel_table import PanelSource
from parametric.findings.finding import Finding
from parametric.findings.not_checked import NotChecked, not_checked
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.lists.bar_catalogue import BarCatalogue
from parametric.lists.cut_list import CutList
from parametric.lists.part_catalogue import PartCatalogue, ReadBoard
from parametric.rooms.room_fit import HandedFit
from parametric.solids.kernel_errors import KernelFailure, NotFlat
from parametric.solids.overlaps import overlap_findings
from parametric.solids.set_model import SetModel, model_set


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelledSet:
    """A used set with its solids, its findings, and the number of each of its parts by name."""

    used: UsedSet
    model: SetModel
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetsOfJob:
    """All sets in use, and the parts they are made of. `bar_numbers` are by set, hand and name;
    `job_findings` are about the job as a whole and its rooms, `fits` how each room's set goes in,
    `stock` what is known of the stock before anything is nested, `drawn` where the panels that
    other programs drew are from.
    """

    sets: tuple[ModelledSet, ...]
    job_findings: tuple[Finding, ...]
    stock: tuple[StockCheck, ...]
    fits: tuple[HandedFit, ...]
    cut_list: CutList
    bar_numbers: dict[tuple[str, Hand, str], str]
    drawn: tuple[PanelSource, ...] = ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The findings of the job, its stock and all sets, in order."""
        of_stock = (check.finding for check in self.stock)
        of_sets = (finding for each in self.sets for finding in each.findings)
        return (*self.job_findings, *of_stock, *of_sets)

    @property
    def not_checked(self) -> tuple[NotChecked, ...]:
        """What no check of strength looks at in the sets."""
        return not_checked(each.model.room_set for each in self.sets)


def model_sets(job: Job, progress: Progress, memory: SetMemory | None = None) -> SetsOfJob:
    """Return the solids, findings and cut list of the job; each set and hand is built once, and not
    at all where `memory`, which is that of the job, has it.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        CannotBeMade: a part cannot be built, or its cuts run into each other.
        InputErrors: a panel drawn elsewhere is no flat panel of a material.
    """
    memory = memory or SetMemory(job)
    drawn = drawn_panels_of(job, progress)
    used = used_sets(job)
    progress.stage("sets", len(used))
    modelled = []
    for each in used:
        modelled.append(model_used_set(job, each, memory))
        progress.step(f"{each.sizes.name}, {each.hand} hand")
    return cut_list_of(job, modelled, drawn)


def model_used_set(job: Job, used: UsedSet, memory: SetMemory) -> ModelledSet:
    """Return one set with its solids and findings, with what would mend those about strength.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        CannotBeMade: a part cannot be built, or its cuts run into each other.
    """
    room_set, name = memory.placed(used), used.sizes.name
    with kernel_errors_told(used):
        model = memory.of(Made.MODEL, used, lambda: model_set(room_set, job.routing))
        overlaps = memory.of(Made.OVERLAPS, used, lambda: tuple(overlap_findings(model)))
        found = memory.of(Made.FINDINGS, used, partial(_found, job, used, memory))
    mends = memory.of(Made.MENDS, used, lambda: mended(job, used.sizes, FOUND_IN, found))
    told = told_of(advised(set_place(name, FOUND_IN), found, mends), name, used.hand)
    return ModelledSet(used=used, model=model, findings=(*overlaps, *told))


def _found(job: Job, used: UsedSet, memory: SetMemory) -> tuple[Finding, ...]:
    room_set = memory.placed(replace(used, hand=FOUND_IN))
    return set_findings(job, room_set, machining(room_set.assembly, job.routing))


def read_used_set(job: Job, used: UsedSet) -> tuple[ReadBoard, ...]:
    """Return the boards of one set as its solids show them, without findings.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        CannotBeMade: a part cannot be built, or its cuts run into each other.
    """
    room_set = placed(job, used)
    with kernel_errors_told(used):
        return model_set(room_set, job.routing).read_boards


@contextmanager
def kernel_errors_told(used: UsedSet) -> Iterator[None]:
    """Tell what the kernel cannot make in words about the set.

    Raises:
        CannotBeMade: a part cannot be built, or its cuts run into each other.
    """
    try:
        yield
    except (KernelFailure, NotFlat) as error:
        raise CannotBeMade(
            f"{used.where}: {error}. Its sizes bring two cuts together, or a cut out of the part; "
            "change the sizes of that unit"
        ) from error


def cut_list_of(
    job: Job, sets: Iterable[ModelledSet], drawn: Iterable[ReadPanel] = ()
) -> SetsOfJob:
    """Return the sets with the cut list merged over them, and over the panels drawn elsewhere."""
    listed = tuple(sets)
    parts = PartCatalogue(job.routing.pre_mill_mm)
    bars = BarCatalogue()
    for each in listed:
        name, hand, rooms = each.used.sizes.name, each.used.hand, each.used.rooms
        parts.add_set(name, hand, each.model.read_boards, rooms)
        bars.add_cleats(name, hand, each.model.read_cleats, rooms)
        for angle in each.model.room_set.assembly.angles:
            bars.add_angle(name, hand, angle, each.model.machining.of(angle.name), rooms)
    sources = add_panels(drawn, parts)
    sets_in_rooms = {(e.used.sizes.name, e.used.hand): e.model.room_set for e in listed}
    fits = fits_of(job, sets_in_rooms)
    cut_list = CutList(parts=parts.parts(), bars=bars.bars(), uses=parts.uses())
    return SetsOfJob(
        sets=listed,
        job_findings=(
            *job_findings(job, sets_in_rooms, fits),
            *bit_findings(job.machine, cut_list.parts, job.units),
        ),
        stock=part_checks(job, cut_list),
        fits=fits,
        cut_list=cut_list,
        bar_numbers=bars.numbers(),
        drawn=sources,
    )
