"""Which of several findings came closest to its limit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol, TypeVar

from parametric.findings.finding import Sense, Severity

_WORST_FIRST = (Severity.FAIL, Severity.WARN, Severity.OK)


class Graded(Protocol):
    """What was measured against a limit: a finding, or a finding as it is told."""

    @property
    def severity(self) -> Severity:
        """How it bears on the job."""

    @property
    def measured(self) -> float:
        """What was measured."""

    @property
    def sense(self) -> Sense:
        """On which side of its limit that should lie."""

    @property
    def limit(self) -> float:
        """The limit."""


G = TypeVar("G", bound=Graded)


def tightest(findings: Sequence[G]) -> G:
    """Return the finding with the least to spare; the first of several.

    A failure comes before a warning whatever their margins: they are measured against two limits.

    Raises:
        ValueError: there are no findings.
    """
    return min(findings, key=_tightness)


def tightest_first(findings: Iterable[G]) -> list[G]:
    """Return the findings in the order in which they have the least to spare, as `tightest`."""
    return sorted(findings, key=_tightness)


def _tightness(finding: Graded) -> tuple[int, float]:
    return _WORST_FIRST.index(finding.severity), _to_spare(finding)


def _to_spare(finding: Graded) -> float:
    """Return how far the value lies on the good side of its limit, negative beyond it."""
    if finding.sense is Sense.AT_LEAST:
        return finding.measured - finding.limit
    return finding.limit - finding.measured
