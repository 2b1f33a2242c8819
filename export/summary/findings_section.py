"""The section of the summary page about findings: what fails, what warns, and the rest folded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from export.summary.checks_table import checks_table
from export.summary.markup import Align, Column, folded, paragraph, section, subheading, table
from parametric.findings.finding import Severity
from parametric.findings.telling import ToldFinding

_HEADS = ((Severity.FAIL, "Failures"), (Severity.WARN, "Warnings"))

_COLUMNS = (
    Column("result"),
    Column("where"),
    Column("finding"),
    Column("measured", Align.NUMBER),
    Column("limit", Align.NUMBER),
    Column("source of the limit"),
    Column("advice"),
)


def findings_section(findings: Sequence[ToldFinding]) -> str:
    """Return all that fails or warns, alike ones together, and each kind of check folded away."""
    counts = Counter(finding.severity for finding in findings)
    words = ", ".join(f"{counts[severity]} {severity}" for severity in Severity)
    markup = [paragraph(f"{len(findings)} checks: {words}.")]
    for severity, head in _HEADS:
        told = by_kind(each for each in findings if each.severity is severity)
        if told:
            markup.append(subheading(f"{head}: {len(told)}"))
            markup.append(table(_COLUMNS, _rows(told)))
    if findings:
        passed = f"Passed: {counts[Severity.OK]} of {len(findings)} checks, and how close each came"
        markup.append(folded(passed, (checks_table(findings),)))
    return section("findings", "Findings", markup)


def by_kind(findings: Iterable[ToldFinding]) -> list[ToldFinding]:
    """Return the findings so that those of one kind stand together, in the order of the first."""
    kinds: dict[str, list[ToldFinding]] = {}
    for finding in findings:
        kinds.setdefault(finding.code, []).append(finding)
    return [finding for of_kind in kinds.values() for finding in of_kind]


def _rows(findings: Iterable[ToldFinding]) -> Iterator[tuple[object, ...]]:
    """Yield a row for each finding; those that read the same have one, which says how many."""
    for row, times in Counter(map(_cells, findings)).items():
        result, where, *rest = row
        yield result, where if times == 1 else f"{where} ({times} times)", *rest


def _cells(finding: ToldFinding) -> tuple[str, ...]:
    return (
        finding.severity.upper(),
        finding.where,
        f"{finding.message} ({finding.code})",
        finding.shown,
        finding.shown_limit,
        finding.source,
        finding.advice,
    )
