"""A finding: what one check measured, against what limit, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import isinf

from parametric.geometry.space import Point


class Severity(StrEnum):
    """How a finding bears on the job: a `fail` keeps cut files from being written."""

    OK = "ok"
    WARN = "warn"
    FAIL = "fail"


class Sense(StrEnum):
    """On which side of its limit a measured value should lie."""

    AT_LEAST = "at least"
    AT_MOST = "at most"


AID_ONLY = (
    "What the findings say about strength is an aid to the engineer and no certificate. Local codes"
    " and a licensed engineer decide what is safe."
)


@dataclass(frozen=True, slots=True)
class Basis:
    """What a finding about strength rests on. `safety` is the factor by which what the part bears
    must exceed the load, inside the limit already; None where the method has it in its figures.
    """

    method: str
    assumptions: tuple[str, ...]
    safety: float | None = None

    @property
    def factor(self) -> str:
        """The factor of safety in words."""
        if self.safety is None:
            return "in the method"
        return "nothing allowed" if isinf(self.safety) else f"{self.safety:.2f}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One result of a check. `where` names set, hand and part, `at` is the place in the room where
    it was measured, if it is one; `source` says where the limit comes from. Findings about strength
    have a `basis`.
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
    basis: Basis | None = None
    at: Point | None = None
