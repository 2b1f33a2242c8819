"""What the findings about strength rest on, and what they do not look at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from export.summary.markup import Column, paragraph, section, subheading, table
from parametric.findings.finding import AID_ONLY
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import ToldBasis, ToldFinding
from parametric.findings.tightest import tightest

_COLUMNS = (
    Column("result"),
    Column("where"),
    Column("finding"),
    Column("method"),
    Column("taken"),
    Column("factor of safety"),
)
_UNCHECKED_COLUMNS = (Column("what"), Column("where"), Column("why"))


def strength_section(findings: Sequence[ToldFinding], unchecked: Sequence[NotChecked]) -> str:
    """Return the tightest finding of each way of checking, with its method, and what is not
    checked; nothing if there is neither.
    """
    shown = (*_checked(findings), *_unchecked(unchecked))
    return section("strength", "Strength", (paragraph(AID_ONLY), *shown)) if shown else ""


def _checked(findings: Sequence[ToldFinding]) -> Iterator[str]:
    by_way: dict[tuple[str, str, str], list[ToldFinding]] = {}
    for finding in findings:
        if finding.basis is not None:
            way = finding.code, finding.unit, finding.basis.factor
            by_way.setdefault(way, []).append(finding)
    if by_way:
        shown = (tightest(of_way) for of_way in by_way.values())
        rows = [_row(each, each.basis) for each in shown if each.basis is not None]
        yield paragraph(
            "The tightest finding of each kind, and what it rests on; all are in findings.csv."
        )
        yield table(_COLUMNS, rows)


def _unchecked(unchecked: Sequence[NotChecked]) -> Iterator[str]:
    if unchecked:
        yield subheading("Not checked")
        yield table(_UNCHECKED_COLUMNS, ((each.what, each.where, each.why) for each in unchecked))


def _row(finding: ToldFinding, basis: ToldBasis) -> tuple[object, ...]:
    return (
        finding.severity.upper(),
        finding.where,
        f"{finding.message} ({finding.code})",
        basis.method,
        "; ".join(basis.assumptions),
        basis.factor,
    )
