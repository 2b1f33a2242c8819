"""How findings stand on a narrow terminal: marked once, and set in below the mark."""

import textwrap
from contextlib import redirect_stdout
from io import StringIO

import pytest

from casewright.terminal.finding_lines import KindLine
from casewright.terminal.show import Detail, show_failures, show_findings, show_kinds
from parametric.findings.finding import Finding, Sense, Severity
from parametric.findings.telling import ToldFinding, told
from parametric.stock.lengths import Units
from tests.casewright.test_terminal_text import STYLE, Terminal

WIDTH = 40
LONG = "queen, left hand: leg 4 carries more than its screws bear (common practice, no source)"


@pytest.fixture(autouse=True)
def narrow(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", str(WIDTH))
    monkeypatch.delenv("NO_COLOR", raising=False)


def lines_of(out: StringIO) -> list[str]:
    """What a person sees: the lines without their colours."""
    return STYLE.sub("", out.getvalue()).splitlines()


def hung(first: str, words: str, columns: int) -> list[str]:
    """The words broken between them, every further line set in by so many columns."""
    blanks = " " * columns
    return textwrap.wrap(words, WIDTH, initial_indent=first, subsequent_indent=blanks)


def finding(severity: Severity) -> ToldFinding:
    found = Finding(
        code="leg-load",
        severity=severity,
        where="queen, left hand: leg 4",
        message="leg-load measured 31.0 where the screws bear 28",
        measured=31.0,
        sense=Sense.AT_MOST,
        limit=28.0,
        unit="kg",
        source="common practice, no source",
        advice="lighten it by 3",
    )
    return told(found, Units.MM)


TOLD = (
    "queen, left hand: leg 4: leg-load measured 31.0 where the screws bear 28 "
    "(common practice, no source); lighten it by 3"
)


def test_what_follows_a_mark_stands_right_of_it() -> None:
    """The mark and the blanks after it are six columns wide, so that all marks can be run down."""
    with redirect_stdout(Terminal()) as out:
        show_failures([LONG, "short"])
    assert lines_of(out) == [*hung("FAIL  ", LONG, 6), "FAIL  short"]
    assert all(len(line) <= WIDTH for line in lines_of(out))


def test_failures_and_warnings_are_set_in_alike_when_each_is_shown() -> None:
    found = [finding(Severity.WARN), finding(Severity.FAIL)]
    with redirect_stdout(Terminal()) as out:
        assert show_findings(found, Detail.EACH)
    assert lines_of(out) == [
        *hung("WARN  ", TOLD, 6),
        *hung("FAIL  ", TOLD, 6),
        "Findings: 0 ok, 1 warn, 1 fail",
    ]


def test_kinds_are_set_in_below_their_words() -> None:
    """The count takes five columns, then come a blank, an x and a blank: eight."""
    with redirect_stdout(Terminal()) as out:
        show_kinds([KindLine(count=12, words=LONG), KindLine(count=3, words="short")])
    assert lines_of(out) == [*hung("   12 x ", LONG, 8), "    3 x short"]
