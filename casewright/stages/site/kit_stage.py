"""The kits of a job's sets."""

from __future__ import annotations

from casewright.job import Job
from casewright.stages.sets.used_sets import placed, used_sets
from parametric.kit.count import kit_of, shop_hardware_of
from parametric.kit.set_kit import SetKit


def kits_of(job: Job) -> tuple[SetKit, ...]:
    """Return the kit of each set and hand in use, in the order of the sets.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
    """
    kits = []
    for used in used_sets(job):
        assembly = placed(job, used).assembly
        kits.append(
            SetKit(
                set_name=used.sizes.name,
                hand=used.hand,
                rooms=used.rooms,
                assembly=assembly,
                kit=kit_of(assembly, job.supplies, job.units),
                shop=shop_hardware_of(assembly, job.supplies, job.units),
            )
        )
    return tuple(kits)
