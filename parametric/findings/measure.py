"""Grading what a check measured."""

from __future__ import annotations

from parametric.findings.finding import Finding, Sense, Severity
from parametric.space import SAME_MM

COMMON_PRACTICE = "common practice, no source"


def at_least(
    *,
    code: str,
    where: str,
    what: str,
    measured: float,
    warn_below: float,
    fail_below: float,
    advice: str,
    source: str = COMMON_PRACTICE,
    unit: str = "mm",
) -> Finding:
    """Return a finding that wants `measured` large: a fail below one limit, a warning below the
    other. The limit shown is the one that was missed, else the warning's.
    """
    if measured < fail_below - SAME_MM:
        severity, limit = Severity.FAIL, fail_below
    else:
        severity = Severity.WARN if measured < warn_below - SAME_MM else Severity.OK
        limit = warn_below
    return Finding(
        code=code,
        severity=severity,
        where=where,
        message=f"{what}: {measured:.2f} {unit}, at least {limit:.2f} {unit} wanted",
        measured=measured,
        sense=Sense.AT_LEAST,
        limit=limit,
        unit=unit,
        source=source,
        advice="" if severity is Severity.OK else advice,
    )


def at_most(
    *,
    code: str,
    where: str,
    what: str,
    measured: float,
    fail_above: float,
    advice: str,
    source: str = COMMON_PRACTICE,
    unit: str = "mm",
) -> Finding:
    """Return a finding that fails when `measured` exceeds the limit."""
    severity = Severity.FAIL if measured > fail_above + SAME_MM else Severity.OK
    return Finding(
        code=code,
        severity=severity,
        where=where,
        message=f"{what}: {measured:.2f} {unit}, at most {fail_above:.2f} {unit} wanted",
        measured=measured,
        sense=Sense.AT_MOST,
        limit=fail_above,
        unit=unit,
        source=source,
        advice="" if severity is Severity.OK else advice,
    )
