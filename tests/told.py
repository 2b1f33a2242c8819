"""What findings say, as tests read it."""

from parametric.findings.finding import Finding
from parametric.stock.amounts import in_words
from parametric.stock.lengths import Units


def said(finding: Finding, units: Units = Units.MM) -> str:
    """Return the sentence of a finding."""
    return in_words(finding.message, units)


def advised(finding: Finding, units: Units = Units.MM) -> str:
    """Return what a finding says to do."""
    return in_words(finding.advice, units)
