"""What is found of a job at once: no solids are made, and plates have a coarse mesh."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.sets.job_findings import job_findings
from casewright.stages.sets.room_stage import fits_of
from casewright.stages.sets.set_findings import FOUND_IN, set_findings, told_of
from casewright.stages.sets.set_memory import Made, SetMemory
from casewright.stages.sets.stock_check import board_checks
from casewright.stages.sets.used_sets import UsedSet, used_sets
from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.joints.machining import machining


def fast_findings(job: Job, progress: Progress, memory: SetMemory) -> tuple[Finding, ...]:
    """Return the findings of the job, its stock and all sets, in the order of a check.

    Missing are overlaps of solids, stock that only the cut list tells, and what would mend a failed
    finding; forces and stresses in decks are a little off.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        Cancelled: the work was cancelled.
    """
    used = used_sets(job)
    progress.stage("fast findings", len(used))
    of_sets: list[Finding] = []
    for each in used:
        found = memory.of(Made.FAST_FINDINGS, each, partial(_of_set, job, each, memory))
        of_sets += told_of(found, each.sizes.name, each.hand)
        progress.step(f"{each.sizes.name}, {each.hand} hand")
    sets = memory.placed_sets()
    of_stock = (check.finding for check in board_checks(job, sets))
    return (*job_findings(job, sets, fits_of(job, sets)), *of_stock, *of_sets)


def _of_set(job: Job, used: UsedSet, memory: SetMemory) -> tuple[Finding, ...]:
    room_set = memory.placed(replace(used, hand=FOUND_IN))
    worked = machining(room_set.assembly, job.routing)
    return set_findings(job, room_set, worked, fineness=Fineness.FAST)
