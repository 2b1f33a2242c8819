"""From a nested job to what is bought for it."""

from __future__ import annotations

from collections.abc import Sequence

from casewright.job import Job
from casewright.stages.nest_stage import material_nests
from casewright.stages.nested_stage import Nested
from export.estimate.purchase import Demand
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
