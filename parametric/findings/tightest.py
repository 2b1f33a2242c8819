"""Which of several findings came closest to its limit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from parametric.findings.finding import Finding, Sense, Severity

_WORST_FIRST = (Severity.FAIL, Severity.WARN, Severity.OK)


def tightest(findings: Sequence[Finding]) -> Finding:
    """Return the finding with the least to spare; the first of several.

    A failure comes before a warning whatever their margins: they are measured against two limits.

    Raises:
        ValueError: there are no findings.
    """
    return min(findings, key=_tightness)


def tightest_first(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings in the order in which they have the least to spare, as `tightest`."""
    return sorted(findings, key=_tightness)


def _tightness(finding: Finding) -> tuple[int, float]:
    return _WORST_FIRST.index(finding.severity), _to_spare(finding)


def _to_spare(finding: Finding) -> float:
    """Return how far the value lies on the good side of its limit, negative beyond it."""
    if finding.sense is Sense.AT_LEAST:
        return finding.measured - finding.limit
    return finding.limit - finding.measured
