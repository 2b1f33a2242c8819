"""A finding: what one check measured, against what limit, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How a finding bears on the job: a `fail` keeps cut files from being written."""

    OK = "ok"
    WARN = "warn"
    FAIL = "fail"


class Sense(StrEnum):
    """On which side of its limit a measured value should lie."""

    AT_LEAST = "at least"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One result of a check. `where` names set, hand and part; `source` says where the limit
    comes from.
    """

    code: str
    severity: Severity
    where: str
    message: str
    measured: float
    sense: Sense
    limit: float
    unit: str
    source: str
    advice: str
