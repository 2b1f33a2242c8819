"""Whether a job is safe to cut, as far as its checks can tell."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from export.summary.content import SummaryContent
from parametric.findings.finding import Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The answer, the lines that go with it, and its kind: `yes`, `read` or `no`."""

    answer: str
    kind: str
    lines: tuple[str, ...]


def verdict(content: SummaryContent) -> Verdict:
    """Return the answer to whether the job is safe to cut.

    What fails forbids it, what warns must be read first; where nothing was checked there is no yes.
    """
    counts = Counter(finding.severity for finding in content.findings)
    failed, warned = counts[Severity.FAIL], counts[Severity.WARN]
    if failed:
        answer, kind = f"no. {_checks(failed)}", "no"
    elif not content.findings:
        answer, kind = "not known, as nothing was checked", "no"
    elif warned:
        answer, kind = f"yes, once {_warnings(warned)} read", "read"
    else:
        answer, kind = f"yes. All {len(content.findings)} checks pass", "yes"
    return Verdict(answer=answer, kind=kind, lines=tuple(_lines(content, failed)))


def _lines(content: SummaryContent, failed: int) -> Iterator[str]:
    if failed and content.sheet_maps:
        yield "Cut files were asked for all the same: put right what fails before you cut."
    elif failed:
        yield "There are no cut files: put right what fails and build again."
    if content.left_out:
        names = ", ".join(dict.fromkeys(entry.material for entry in content.left_out))
        yield f"This is not the whole job: {names} left out, as the stock does not suffice."
    if content.not_checked:
        yield "No check looks at everything: Strength lists what is not checked."
    if not failed:
        yield "Cut one set of each size and hand first, and try it in its room; see Cautions."


def _checks(count: int) -> str:
    return "1 check fails" if count == 1 else f"{count} checks fail"


def _warnings(count: int) -> str:
    return "1 warning is" if count == 1 else f"{count} warnings are"
