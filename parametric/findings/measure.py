"""Grading what a check measured."""

from __future__ import annotations

from parametric.findings.finding import Finding, Sense, Severity
from parametric.sources import COMMON_PRACTICE
from parametric.space import SAME_MM


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
    warn_above: float | None = None,
    advice: str,
    source: str = COMMON_PRACTICE,
    unit: str = "mm",
) -> Finding:
    """Return a finding that wants `measured` small: a fail above one limit, a warning above the
    other if there is one. The limit shown is the one that was missed, else the warning's.
    """
    limit = fail_above if warn_above is None else warn_above
    if measured > fail_above + SAME_MM:
        severity, limit = Severity.FAIL, fail_above
    else:
        severity = Severity.WARN if measured > limit + SAME_MM else Severity.OK
    return Finding(
        code=code,
        severity=severity,
        where=where,
        message=f"{what}: {measured:.2f} {unit}, at most {limit:.2f} {unit} wanted",
        measured=measured,
        sense=Sense.AT_MOST,
        limit=limit,
        unit=unit,
        source=source,
        advice="" if severity is Severity.OK else advice,
    )
