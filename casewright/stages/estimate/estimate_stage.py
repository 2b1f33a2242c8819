"""From a nested job to what is bought for it, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.estimate.estimate_lines import (
    bench_lines,
    install_lines,
    machine_lines,
    not_put_up,
)
from casewright.stages.estimate.room_counts import OwnCount, room_counts
from casewright.stages.estimate.set_shares import set_shares
from casewright.stages.estimate.stock_choices import stock_choices
from casewright.stages.nest.nest_stage import material_nests
from casewright.stages.nested.nested_stage import Nested
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.router_stage import RouterStage
from casewright.stages.shop.sheet_stage import reusable_size
from casewright.stages.site.site_stage import SiteWork
from casewright.wording import counted
from export.estimate.estimate import Estimate, board_lines, bought_lines, missing_words
from export.estimate.purchase import Demand, purchase_list
from export.estimate.sheet_use import sheet_uses
from parametric.kit.set_kit import SetKit
from parametric.lists.cut_list import CutList


def demand_of(job: Job, cut_list: CutList, nested: Nested, kits: Sequence[SetKit]) -> Demand:
    """Return what the job needs of all that is bought."""
    return Demand(
        nests=material_nests(nested.nests),
        bar_nests=nested.bar_nests,
        parts=cut_list.parts,
        bars=cut_list.bars,
        kits=kits,
        left_out=nested.left_out,
        supplies=job.supplies,
        buying=job.buying,
        units=job.units,
    )


def estimate_of(
    job: Job,
    sets: SetsOfJob,
    nested: Nested,
    router: RouterStage,
    kits: tuple[SetKit, ...],
    site: SiteWork,
    progress: Progress,
) -> Estimate:
    """Return what the job costs.

    Raises:
        Cancelled: the work was cancelled.
    """
    demand = demand_of(job, sets.cut_list, nested, kits)
    purchases = purchase_list(demand)
    uses = sheet_uses(demand.nests, reusable_size(job.machine))
    hours = (
        *machine_lines(job, router),
        *bench_lines(job, sets, kits),
        *install_lines(job, site, kits),
    )
    lines = (*board_lines(use.row for use in uses), *bought_lines(purchases), *hours)
    estimate = Estimate(
        job=job.name,
        currency=job.currency,
        rooms=len(job.rooms),
        rates=job.rates,
        lines=lines,
        uses=uses,
        sets=set_shares(sets, nested, router, kits, job, purchases, hours),
        missing=(
            *missing_words(lines, purchases, job.rates),
            *not_put_up(site, kits),
            *_not_cut(router),
        ),
        choices=stock_choices(nested.nests, job.machine, job.units),
    )
    own = OwnCount(job=job, sets=sets, nested=nested, router=router, kits=kits, site=site)
    return replace(estimate, counts=room_counts(own, estimate, progress.unheard()))


def _not_cut(router: RouterStage) -> Iterator[str]:
    without = sum(bool(file.work.missing) for file in router.files)
    if without:
        yield (
            f"not counted: {counted(without, 'cut file')} with cuts that no bit of the machine file"
            " makes (shop/router-times.csv)"
        )
    if router.assumed:
        yield "machine time rests on assumed bits: the machine file lists none"
