"""All findings as a table: what was measured, against what, and what that rests on."""

from __future__ import annotations

from collections.abc import Iterable

from export.tables.csv_text import csv_text, fixed
from parametric.findings.finding import Finding

FINDING_COLUMNS = (
    "result",
    "check",
    "where",
    "finding",
    "measured",
    "sense",
    "limit",
    "unit",
    "source",
    "advice",
    "method",
    "assumptions",
    "factor_of_safety",
)


def findings_csv(findings: Iterable[Finding]) -> str:
    """Return a row for each finding; the last three columns are for findings about strength."""
    return csv_text(FINDING_COLUMNS, (_row(finding) for finding in findings))


def _row(finding: Finding) -> tuple[object, ...]:
    basis = finding.basis
    return (
        finding.severity,
        finding.code,
        finding.where,
        finding.message,
        fixed(finding.measured, 3),
        finding.sense,
        fixed(finding.limit, 3),
        finding.unit,
        finding.source,
        finding.advice,
        "" if basis is None else basis.method,
        "" if basis is None else "; ".join(basis.assumptions),
        "" if basis is None else basis.factor,
    )
