"""What the findings about strength rest on."""

from __future__ import annotations

from collections.abc import Sequence

from export.summary.checks_table import tightest
from export.summary.markup import Column, paragraph, section, table
from parametric.findings.finding import AID_ONLY, Basis, Finding

_COLUMNS = (
    Column("result"),
    Column("where"),
    Column("finding"),
    Column("method"),
    Column("taken"),
    Column("factor of safety"),
)


def strength_section(findings: Sequence[Finding]) -> str:
    """Return the tightest finding of each way of checking, with its method; nothing if none is
    about strength.
    """
    by_way: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in findings:
        if finding.basis is not None:
            way = finding.code, finding.unit, finding.basis.factor
            by_way.setdefault(way, []).append(finding)
    if not by_way:
        return ""
    shown = (tightest(of_way) for of_way in by_way.values())
    rows = [_row(each, each.basis) for each in shown if each.basis is not None]
    words = "The tightest finding of each kind, and what it rests on; all are in findings.csv."
    return section(
        "strength", "Strength", (paragraph(AID_ONLY), paragraph(words), table(_COLUMNS, rows))
    )


def _row(finding: Finding, basis: Basis) -> tuple[object, ...]:
    return (
        finding.severity.upper(),
        finding.where,
        f"{finding.message} ({finding.code})",
        basis.method,
        "; ".join(basis.assumptions),
        basis.factor,
    )
