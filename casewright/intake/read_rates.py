"""The rates of a job: from a file of their own, or from the job file."""

from __future__ import annotations

from casewright.errors import Fault
from casewright.intake.document import Document
from casewright.intake.rates_schema import RatesEntry
from casewright.intake.read_document import read_document
from casewright.intake.schema_faults import entry_at, schema_faults
from export.estimate.rates import Rates
from parametric.stock.lengths import Units

NO_LENGTHS = Units.MM
"""Rates have no lengths, so a file of them says no units."""
_AT = ("rates",)


def read_rates(job: Document, faults: list[Fault]) -> Rates:
    """Return the rates, none where nothing says any, after adding the faults of their file.

    Departures of the job file itself from the schema are left to others.
    """
    named = job.at(_AT)
    if isinstance(named, dict):
        return _rates(entry_at(job, _AT, RatesEntry, NO_LENGTHS))
    if not isinstance(named, str) or not named:
        return Rates()
    document = read_document(job.path.parent / named, faults, job.blame(_AT))
    if document is None:
        return Rates()
    faults += schema_faults(document, RatesEntry, NO_LENGTHS)
    return _rates(entry_at(document, (), RatesEntry, NO_LENGTHS))


def _rates(entry: RatesEntry | None) -> Rates:
    return Rates() if entry is None else entry.rates()
