"""The job that a command is about."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from casewright.terminal.interrupt import end_plainly

if TYPE_CHECKING:
    from casewright.job import Job


def job_in(file: Path) -> Job:
    """Return the job that the file describes.

    Raises:
        InputErrors: its files cannot be used.
    """
    from casewright.intake.read_job import read_job

    end_plainly()
    return read_job(file)
