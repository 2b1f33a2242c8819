"""Grading what a check measured."""

from __future__ import annotations

from math import inf

from parametric.findings.finding import Basis, Finding, Sense, Severity
from parametric.geometry.space import SAME_MM, Point
from parametric.stock.sources import COMMON_PRACTICE


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
    basis: Basis | None = None,
    at: Point | None = None,
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
        basis=basis,
        at=at,
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
    basis: Basis | None = None,
    at: Point | None = None,
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
        basis=basis,
        at=at,
    )


NEAR_LIMIT = 0.9
"""Above so much of what a part may bear, a warning; common practice, no source."""


def borne(
    *,
    code: str,
    where: str,
    what: str,
    measured: float,
    allowed: float | None,
    missing: str,
    advice: str,
    source: str,
    unit: str,
    basis: Basis,
    at: Point | None,
    at_best: float | None = None,
) -> Finding:
    """Return whether a part bears what is asked of it: a fail above what is allowed, a warning from
    nine tenths of it on. Where no formula or figure says what is allowed, None, that is a warning
    which says what is `missing`: never a pass, and a fail beyond what is allowed `at_best`.
    """
    if allowed is not None:
        share = measured / allowed if allowed > 0 else inf
        severity = Severity.FAIL if measured > allowed + SAME_MM else Severity.OK
        if severity is Severity.OK and share > NEAR_LIMIT:
            severity = Severity.WARN
        used = "nothing is allowed" if share == inf else f"{100 * share:.0f} % of it used"
        return Finding(
            code=code,
            severity=severity,
            where=where,
            message=f"{what}: {measured:.2f} {unit}, {allowed:.2f} {unit} allowed, {used}",
            measured=measured,
            sense=Sense.AT_MOST,
            limit=allowed,
            unit=unit,
            source=source,
            advice="" if severity is Severity.OK else advice,
            basis=basis,
            at=at,
        )
    beyond = at_best is not None and measured > at_best + SAME_MM
    more = f"; the best of its kind may bear {at_best:.2f} {unit}" if beyond else ""
    return Finding(
        code=code,
        severity=Severity.FAIL if beyond else Severity.WARN,
        where=where,
        message=f"{what}: {measured:.2f} {unit} asked for, and {missing}{more}",
        measured=measured,
        sense=Sense.AT_MOST,
        limit=at_best if beyond and at_best is not None else 0.0,
        unit=unit,
        source="no value, so none is counted on",
        advice=advice
        if beyond
        else "have it tested, or give a figure with its source; an engineer decides",
        basis=basis,
        at=at,
    )
