"""A job checked: its sets with all that is found of them, before anything is nested."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.job import Job
from casewright.progress import Progress
from casewright.stages.sets.set_memory import SetMemory
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from casewright.stages.sets.stock_check import StockCheck, board_checks, missed


def check(job: Job, progress: Progress | None = None, memory: SetMemory | None = None) -> SetsOfJob:
    """Return the sets of the job with their findings; nothing is nested or written.

    Sheets on hand that are proven too few are told at once. `memory` is that of the job, if there
    is one.

    Raises:
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
        CannotBeMade: a part cannot be built, or its cuts run into each other.
    """
    progress, memory = progress or Progress(), memory or SetMemory(job)
    tell_missed(board_checks(job, memory.placed_sets()), progress)
    return model_sets(job, progress, memory)


def tell_missed(checks: Iterable[StockCheck], progress: Progress) -> None:
    """Tell what does not suffice."""
    for each in missed(checks):
        progress.tell(str(each))
