"""What the square code of a label says, made and read again."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

LONGEST_JOB = 60
"""Letters of a job's name in a square code: with more it would be too fine for a small label."""

_PART = re.compile(
    r"part (?P<part>[^;]+); layout [^;]+; run [0-9]+; cut [0-9]+;"
    r" revision (?P<revision>[^;]+); job (?P<job>.*)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRecord:
    """What the code of a part's label says: its number, the revision of the cut files that it was
    cut by, and the job's name as codes have it.
    """

    part: str
    revision: str
    job: str


def record_text(words: Iterable[str], revision: str, job: str) -> str:
    """Return what a square code says: the job's name stands last, up to the end, since it may hold
    whatever stands between the others.
    """
    return "; ".join((*words, f"revision {revision}", f"job {job_in_record(job)}"))


def job_in_record(job: str) -> str:
    """Return a job's name as square codes have it."""
    return job if len(job) <= LONGEST_JOB else f"{job[: LONGEST_JOB - 1]}…"


def part_record(text: str) -> PartRecord | None:
    """Return what the code of a part's label says; None of any other text.

    >>> code = record_text(("part P012", "layout oak/003", "run 2", "cut 7"), "5d1f02ab", "A; B")
    >>> part_record(code)
    PartRecord(part='P012', revision='5d1f02ab', job='A; B')
    >>> part_record("sheet; layout oak/003; run 2; revision 5d1f02ab; job A")
    """
    found = _PART.fullmatch(text.strip())
    if found is None:
        return None
    return PartRecord(part=found["part"], revision=found["revision"], job=found["job"])
