"""Findings as people read them: sentences in the units of a job, both hands of a set as one.

Whoever shows findings, in the terminal, in a table or on a page, gets them from here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import zip_longest

from parametric.findings.finding import Basis, Finding, Sense, Severity
from parametric.geometry.hand import BOTH_HANDS, Hand
from parametric.geometry.space import Point
from parametric.stock.amounts import Amount, in_words
from parametric.stock.lengths import Units

_HANDS = "|".join((*(f"{hand} hand" for hand in Hand), BOTH_HANDS))
_HAND = re.compile(rf"^([^:]*), ({_HANDS})(?=:|$)")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldBasis:
    """What a finding about strength rests on, in words."""

    method: str
    assumptions: tuple[str, ...]
    factor: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldFinding:
    """A finding in the units of a job. `measured` and `limit` are the bare numbers in `unit`,
    `shown` and `shown_limit` those as people read them.
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
    basis: ToldBasis | None
    at: Point | None
    shown: str
    shown_limit: str


def told(finding: Finding, units: Units) -> ToldFinding:
    """Return one finding as it is told."""
    return ToldFinding(
        code=finding.code,
        severity=finding.severity,
        where=finding.where,
        message=in_words(finding.message, units),
        measured=finding.measured,
        sense=finding.sense,
        limit=finding.limit,
        unit=finding.unit,
        source=in_words(finding.source, units),
        advice=in_words(finding.advice, units),
        basis=None if finding.basis is None else _told_basis(finding.basis, units),
        at=finding.at,
        shown=Amount(finding.measured, finding.unit, beside=finding.limit).shown(units),
        shown_limit=f"{finding.sense.short} {Amount(finding.limit, finding.unit).shown(units)}",
    )


def told_findings(findings: Iterable[Finding], units: Units) -> tuple[ToldFinding, ...]:
    """Return the findings as they are told, in the order of the first of each: what is told alike
    of both hands of a set is told once, of both. Its place in the room is that in the first hand.
    """
    return as_one(told(finding, units) for finding in findings)


def as_one(listed: Iterable[ToldFinding]) -> tuple[ToldFinding, ...]:
    """Return the findings with those that read alike in both hands as one."""
    alike: dict[object, dict[str, list[ToldFinding]]] = {}
    for each in listed:
        place, hand = unhanded(each.where)
        key = (each.code, place, each.severity, each.message, each.source, each.advice, each.basis)
        alike.setdefault(key, {}).setdefault(hand, []).append(each)
    return tuple(
        first if len(of_hands) == 1 else replace(first, where=_of_both(first.where))
        for by_hand in alike.values()
        for group in zip_longest(*by_hand.values())
        for of_hands in [[each for each in group if each is not None]]
        for first in of_hands[:1]
    )


def unhanded(where: str) -> tuple[str, str]:
    """Return a place without its hand, and the hand, blank if it has none."""
    found = _HAND.match(where)
    return (_HAND.sub(r"\1", where), found[2]) if found else (where, "")


def _of_both(where: str) -> str:
    return _HAND.sub(rf"\1, {BOTH_HANDS}", where)


def _told_basis(basis: Basis, units: Units) -> ToldBasis:
    return ToldBasis(
        method=in_words(basis.method, units),
        assumptions=tuple(in_words(each, units) for each in basis.assumptions),
        factor=basis.factor,
    )
