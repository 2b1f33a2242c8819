"""Grading what a check measured, and the sentence about it."""

from __future__ import annotations

from math import inf, isinf

from parametric.findings.finding import Basis, Finding, Sense, Severity
from parametric.geometry.space import SAME_MM, Point
from parametric.stock.amounts import DIAMETERS, MM, Amount, Words
from parametric.stock.sources import COMMON_PRACTICE


def at_least(
    *,
    code: str,
    where: str,
    what: Words,
    measured: float,
    warn_below: float,
    fail_below: float,
    advice: Words,
    says: Words = (),
    source: Words = COMMON_PRACTICE,
    unit: str = MM,
    basis: Basis | None = None,
    at: Point | None = None,
) -> Finding:
    """Return a finding that wants `measured` large: a fail below one limit, a warning below the
    other. The limit shown is the one that was missed, else the warning's.

    It reads `what`, the amount and its limit, or as `says` has it.
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
        message=says or against_limit(what, measured, Sense.AT_LEAST, limit, unit),
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
    what: Words,
    measured: float,
    fail_above: float,
    warn_above: float | None = None,
    advice: Words,
    says: Words = (),
    source: Words = COMMON_PRACTICE,
    unit: str = MM,
    basis: Basis | None = None,
    at: Point | None = None,
) -> Finding:
    """Return a finding that wants `measured` small: a fail above one limit, a warning above the
    other if there is one. The limit shown is the one that was missed, else the warning's.

    It reads `what`, the amount and its limit, or as `says` has it.
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
        message=says or against_limit(what, measured, Sense.AT_MOST, limit, unit),
        measured=measured,
        sense=Sense.AT_MOST,
        limit=limit,
        unit=unit,
        source=source,
        advice="" if severity is Severity.OK else advice,
        basis=basis,
        at=at,
    )


def against_limit(what: Words, measured: float, sense: Sense, limit: float, unit: str) -> Words:
    """Return the sentence of an amount beside its limit: penetration 1/2" (min 3/8"). What must not
    be less than nothing, and is, is told by how much it is too little.
    """
    if sense is Sense.AT_LEAST and measured < -SAME_MM and abs(limit) <= SAME_MM:
        return (what, " ", Amount(-measured, unit), " too little")
    shown = Amount(measured, unit, beside=limit)
    most: Words = f"{limit:.3g}" if unit == DIAMETERS else Amount(limit, unit)
    return (what, " ", shown, f" ({sense.short} ", most, ")")


_TO_BE_TESTED = "have it tested, or give a figure with its source; an engineer decides"
NEAR_LIMIT = 0.9
"""Above so much of what a part may bear, a warning; common practice, no source."""


def borne(
    *,
    code: str,
    where: str,
    what: Words,
    under: Words = "",
    measured: float,
    allowed: float | None,
    missing: Words,
    advice: Words,
    source: Words,
    unit: str,
    basis: Basis,
    at: Point | None,
    at_best: float | None = None,
) -> Finding:
    """Return whether a part bears what is asked of it: a fail above what is allowed, a warning from
    nine tenths of it on. Where no formula or figure says what is allowed, None, that is a warning
    which says what is `missing`: never a pass, and a fail beyond what is allowed `at_best`.

    It reads `what`, the amount, what that is `under`, and what is allowed.
    """
    asked = _asked(what, under, measured, unit, allowed)
    if allowed is not None:
        share = measured / allowed if allowed > 0 else inf
        severity = Severity.FAIL if measured > allowed + SAME_MM else Severity.OK
        if severity is Severity.OK and share > NEAR_LIMIT:
            severity = Severity.WARN
        most: Words = ("max ", Amount(allowed, unit), "" if isinf(share) else f", {share:.0%} used")
        return Finding(
            code=code,
            severity=severity,
            where=where,
            message=(asked, " (", most if allowed > 0 else "nothing is allowed", ")"),
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
    limit = at_best if beyond and at_best is not None else 0.0
    best: Words = ("; even the best of its kind may bear only ", Amount(limit, unit))
    return Finding(
        code=code,
        severity=Severity.FAIL if beyond else Severity.WARN,
        where=where,
        message=(asked, "; nothing to check it against: ", missing, best if beyond else ""),
        measured=measured,
        sense=Sense.AT_MOST,
        limit=limit,
        unit=unit,
        source="no value is known, so none is counted on",
        advice=advice if beyond else _TO_BE_TESTED,
        basis=basis,
        at=at,
    )


def _asked(what: Words, under: Words, measured: float, unit: str, allowed: float | None) -> Words:
    if isinf(measured):
        return (what, " more than any figure", under, ": nothing keeps it in place")
    return (what, " ", Amount(measured, unit, beside=allowed), under)
