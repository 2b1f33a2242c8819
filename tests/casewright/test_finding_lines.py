"""Findings told in the terminal: a line for each kind of warning, failures in full."""

from collections.abc import Iterable
from contextlib import redirect_stdout
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casewright.terminal.finding_lines import (
    SHOWN_FAILURES,
    kind_lines,
    told_failures,
)
from casewright.terminal.show import Detail, show_findings
from parametric.findings.finding import AID_ONLY, Basis, Finding, Sense, Severity
from parametric.findings.not_checked import NotChecked
from parametric.findings.telling import ToldFinding, told_findings
from parametric.stock.lengths import Units
from tests.casewright.test_terminal_text import Terminal


def finding(
    where: str, measured: float = 31.0, code: str = "unit-lift", severity: Severity = Severity.WARN
) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        where=where,
        message=f"{code} measured {measured}",
        measured=measured,
        sense=Sense.AT_MOST,
        limit=28.0,
        unit="kg",
        source="common practice, no source",
        advice=f"lighten it by {measured - 28:g}",
    )


def both(place: str, measured: float = 31.0, **kind: object) -> list[Finding]:
    hands = (f"twin, {hand} hand: {place}" for hand in ("right", "left"))
    return [finding(where, measured, **kind) for where in hands]  # type: ignore[arg-type]


def words(findings: Iterable[Finding]) -> list[tuple[int, str]]:
    return [(line.count, line.words) for line in kind_lines(as_told(findings))]


def as_told(findings: Iterable[Finding]) -> tuple[ToldFinding, ...]:
    return told_findings(findings, Units.MM)


def test_both_hands_count_once_and_sets_are_named_once() -> None:
    lift = "mass lifted at once of each box or carcass, for two people"
    findings = [*both("bed"), *both("bench"), finding("queen, right hand: bed")]
    assert words(findings) == [(3, f"{lift}: twin, queen")]


def test_two_of_one_place_in_one_hand_stay_two() -> None:
    findings = [finding("twin, right hand: bed", 30.0), finding("twin, right hand: bed", 31.0)]
    assert words(findings)[0][0] == 2


def test_what_is_the_same_in_both_hands_is_one_that_names_both() -> None:
    right, left = both("bed")
    (one,) = as_told([right, replace(left, measured=right.measured + 1e-9)])
    assert one.where == "twin, both hands: bed"
    (alone,) = as_told([left])
    assert alone.where == "twin, left hand: bed"


def test_what_differs_between_the_hands_is_told_of_each() -> None:
    right, left = both("bed")
    found = as_told([right, replace(left, measured=44.0, message="worse")])
    assert [(each.where, each.message) for each in found] == [
        ("twin, right hand: bed", right.message),
        ("twin, left hand: bed", "worse"),
    ]


def test_rooms_are_named_up_to_six() -> None:
    rooms = [finding(f"room {n}: twin", code="room-fit") for n in range(101, 110)]
    (line,) = kind_lines(as_told(rooms))
    assert line.count == 9
    assert line.words.endswith(": rooms 101, 102, 103, 104, 105, 106 and 3 more")


def test_a_kind_that_has_no_words_is_told_by_its_code() -> None:
    assert words([finding("twin", code="new-check")]) == [(1, "new-check: twin")]


def test_of_many_failures_each_kind_keeps_its_advice_and_the_rest_is_named() -> None:
    rooms = [finding(f"room {n}: twin", n, code="room-fit") for n in range(100, 140)]
    failed = [*rooms, *both("bed"), finding("twin, right hand: bed/leg 1", code="leg-load")]
    told = told_failures(as_told(failed), most=4)
    assert len(told.in_full) == 4
    for advice in ("lighten it by 111", "lighten it by 110", "twin, both hands: bed: "):
        assert any(advice in line for line in told.in_full), advice
    assert [line.count for line in told.rest] == [38]
    assert "rooms 100, 101" in told.rest[0].words


def test_never_fewer_than_one_of_each_kind() -> None:
    failed = [finding("twin", code=f"check-{n}") for n in range(30)]
    told = told_failures(as_told(failed), most=4)
    assert len(told.in_full) == 30
    assert told.rest == ()


@given(
    st.lists(
        st.builds(
            finding,
            st.sampled_from(
                [
                    f"{name}{place}"
                    for name in ("twin, right hand", "twin, left hand", "queen, left hand")
                    for place in (": bed", ": bench/deck", "")
                ]
                + ["room 101: twin", "sets.twin"]
            ),
            st.floats(0, 90),
            st.sampled_from(["unit-lift", "room-fit", "new-check"]),
        ),
        max_size=60,
    ),
    st.integers(1, 10),
)
def test_every_failure_is_told_or_counted(failed: list[Finding], most: int) -> None:
    joined = as_told(failed)
    told = told_failures(joined, most)
    assert len(joined) <= len(failed) <= 2 * len(joined)
    assert len(told.in_full) + sum(line.count for line in told.rest) == len(joined)
    assert len(told.in_full) <= max(most, len({f.code for f in failed}))


def test_the_terminal_has_a_line_for_each_kind(capsys: pytest.CaptureFixture[str]) -> None:
    findings = [finding("twin", severity=Severity.OK)]
    for n in range(50):
        findings += both(f"part {n}", code="leg-load") + both(f"part {n}", code="board-mass")
    failed = finding("queen, left hand: bed", severity=Severity.FAIL)
    assert show_findings(as_told([*findings, failed]), Detail.KINDS, all_in="findings.csv")
    lines = capsys.readouterr().out.splitlines()
    assert lines == [
        "Warnings by kind, both hands of a set as one (each is in findings.csv; "
        "--verbose shows it here):",
        "   50 x load on legs: twin",
        "   50 x mass of each board, for two people to carry: twin",
        "FAIL  queen, left hand: bed: unit-lift measured 31.0 (common practice, no source); "
        "lighten it by 3",
        "Findings: 1 ok, 100 warn, 1 fail",
    ]


def test_failures_beyond_twenty_are_counted_and_marked_as_failures(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """By hand: 25 of one kind, the more above its limit the worse: 31 to 55, so 36 to 55 in full.

    Whoever reads only what is marked FAIL must find all of them told or counted there.
    """
    failed = [
        finding(f"queen, left hand: leg {n}", 30.0 + n, "leg-load", Severity.FAIL)
        for n in range(1, 26)
    ]
    assert show_findings(as_told(failed), Detail.KINDS, all_in="findings.csv")
    lines = capsys.readouterr().out.splitlines()
    assert lines[:20] == [
        f"FAIL  queen, left hand: leg {n}: leg-load measured {30 + n}.0 "
        f"(common practice, no source); lighten it by {2 + n}"
        for n in range(6, 26)
    ]
    assert lines[20:] == [
        "FAIL  5 more, both hands of a set as one (each is in findings.csv; "
        "--verbose shows it here):",
        "    5 x load on legs: queen",
        "Findings: 0 ok, 0 warn, 25 fail",
    ]


def test_what_rests_on_a_calculation_is_no_certificate(capsys: pytest.CaptureFixture[str]) -> None:
    """Said once, before the counts, where any finding has a method; also where all is well."""
    plain = finding("twin", severity=Severity.OK)
    assert not show_findings(as_told([plain]), Detail.KINDS)
    assert capsys.readouterr().out == "Findings: 1 ok, 0 warn, 0 fail\n"
    based = replace(plain, basis=Basis("simple beam", (), None))
    assert not show_findings(as_told([based, plain, based]), Detail.KINDS)
    assert capsys.readouterr().out == f"{AID_ONLY}\nFindings: 3 ok, 0 warn, 0 fail\n"


def test_where_nothing_is_written_the_option_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert not show_findings(as_told(both("bed")), Detail.KINDS)
    out = capsys.readouterr().out
    assert "(--verbose shows each)" in out
    assert "findings.csv" not in out


def test_how_much_is_not_checked_is_one_line_and_no_finding(
    capsys: pytest.CaptureFixture[str],
) -> None:
    counts = "Findings: 1 ok, 0 warn, 0 fail"
    well = [finding("twin", severity=Severity.OK)]
    lines = [
        NotChecked(what=what, where="twin, both hands: bed", why="it is open")
        for what in ("fire", "floods")
    ]

    def told(unchecked: list[NotChecked], detail: Detail, all_in: str = "") -> list[str]:
        assert not show_findings(as_told(well), detail, unchecked=unchecked, all_in=all_in)
        return capsys.readouterr().out.splitlines()

    assert told(lines, Detail.KINDS, "findings.csv") == [
        "2 things are not checked (each is in findings.csv; --verbose shows it here).",
        counts,
    ]
    assert told(lines[:1], Detail.KINDS) == [
        "1 thing is not checked (--verbose shows each).",
        counts,
    ]
    assert told(lines, Detail.EACH, "findings.csv") == [
        "2 things are not checked:",
        "      twin, both hands: bed: fire: it is open",
        "      twin, both hands: bed: floods: it is open",
        counts,
    ]
    assert told([], Detail.KINDS) == told([], Detail.EACH) == [counts]


def test_verbose_shows_each_with_its_advice(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings(as_told([*both("bed"), *both("bench")]), Detail.EACH)
    lines = [line for line in capsys.readouterr().out.splitlines() if line.startswith("WARN  ")]
    assert [line.partition(" hands: ")[0] for line in lines] == ["WARN  twin, both"] * 2
    assert all("lighten it by 3" in line for line in lines)


def test_verbose_shows_every_failure_however_many(capsys: pytest.CaptureFixture[str]) -> None:
    failed = both("bed", severity=Severity.FAIL) * 15
    assert show_findings(as_told(failed), Detail.EACH)
    lines = capsys.readouterr().out.splitlines()
    assert lines == [
        *[
            "FAIL  twin, both hands: bed: unit-lift measured 31.0 "
            "(common practice, no source); lighten it by 3"
        ]
        * 15,
        "Findings: 0 ok, 0 warn, 15 fail",
    ]


def test_failures_are_red_and_warnings_yellow_in_a_terminal(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Only the word that leads is coloured. Bold is 1, red 31, yellow 33 (ECMA-48, 8.3.117)."""
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "300")
    monkeypatch.delenv("NO_COLOR", raising=False)
    failed = [
        finding(f"leg {n}", 30.0 + n, "leg-load", Severity.FAIL) for n in range(SHOWN_FAILURES + 1)
    ]
    for detail, marked in ((Detail.KINDS, SHOWN_FAILURES + 1), (Detail.EACH, SHOWN_FAILURES + 1)):
        with redirect_stdout(Terminal()) as out:
            show_findings(as_told([*failed, finding("bed")]), detail)
        lines = out.getvalue().splitlines()
        red = [line for line in lines if "\x1b[1;31m" in line]
        yellow = [line for line in lines if "\x1b[1;33m" in line]
        assert len(red) == marked
        assert all(line.startswith("\x1b[1;31mFAIL  \x1b[0m") for line in red)
        assert len(yellow) == (1 if detail is Detail.EACH else 0)
        assert all(line.startswith("\x1b[1;33mWARN  \x1b[0m") for line in yellow)
