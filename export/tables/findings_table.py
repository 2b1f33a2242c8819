"""All findings as a table: what was measured, against what, and what that rests on; at its end
what is not checked.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from export.tables.csv_text import csv_text, fixed
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import ToldFinding

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
    "x_mm",
    "y_mm",
    "z_mm",
)


NOT_CHECKED = "not checked"
"""Stands as the result of what no check looks at; nothing was measured there."""


def findings_csv(findings: Iterable[ToldFinding], unchecked: Iterable[NotChecked] = ()) -> str:
    """Return a row for each finding, then one for each thing that is not checked.

    `measured` and `limit` are numbers in `unit`, whatever the job's units; what is the same in both
    hands of a set is one row, its place that in the first of them.

    The last columns are for findings about strength: what they rest on, and the place in the room,
    from its corner along the head wall, out from it (below 0) and up from the floor.
    """
    rows = chain(map(_row, findings), map(_unchecked_row, unchecked))
    return csv_text(FINDING_COLUMNS, rows)


def _row(finding: ToldFinding) -> tuple[object, ...]:
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
        *(("", "", "") if finding.at is None else (fixed(each, 1) for each in finding.at)),
    )


def _unchecked_row(line: NotChecked) -> tuple[object, ...]:
    filled = {
        "result": NOT_CHECKED,
        "where": line.where,
        "finding": f"{line.what}: {line.why}",
    }
    return tuple(filled.get(column, "") for column in FINDING_COLUMNS)
