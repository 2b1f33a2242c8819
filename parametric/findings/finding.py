"""A finding: what one check measured, against what limit, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import isinf

from parametric.geometry.space import Point
from parametric.stock.amounts import Words


class Severity(StrEnum):
    """How a finding bears on the job: a `fail` keeps cut files from being written."""

    OK = "ok"
    WARN = "warn"
    FAIL = "fail"


class Sense(StrEnum):
    """On which side of its limit a measured value should lie."""

    AT_LEAST = "at least"
    AT_MOST = "at most"

    @property
    def short(self) -> str:
        """The word before a limit."""
        return "min" if self is Sense.AT_LEAST else "max"


AID_ONLY = (
    "What the findings say about strength is an aid to the engineer, not a certificate. Local codes"
    " and a licensed engineer decide what is safe."
)


@dataclass(frozen=True, slots=True)
class Basis:
    """What a finding about strength rests on. `safety` is the factor by which what the part bears
    must exceed the load, inside the limit already; None where the method has it in its figures.
    """

    method: Words
    assumptions: tuple[Words, ...]
    safety: float | None = None

    @property
    def factor(self) -> str:
        """The factor of safety in words."""
        if self.safety is None:
            return "in the method"
        return "nothing allowed" if isinf(self.safety) else f"{self.safety:.3g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One result of a check. `where` names set, hand and part, `at` is the place in the room where
    it was measured, if it is one; `source` says where the limit comes from. Findings about strength
    have a `basis`.

    What is said holds its amounts as they were measured; `findings.telling` makes sentences of them
    in the units of a job. `measured` and `limit` are of `unit`: one of `stock.amounts`, or the
    plural of what is counted.
    """

    code: str
    severity: Severity
    where: str
    message: Words
    measured: float
    sense: Sense
    limit: float
    unit: str
    source: Words
    advice: Words
    basis: Basis | None = None
    at: Point | None = None
