"""How a measured value is graded by its limits: at each limit, and on either side of it."""

import pytest

from parametric.findings.finding import Finding, Sense, Severity
from parametric.findings.measure import at_least, at_most
from parametric.geometry.space import SAME_MM
from tests.told import said

OK, WARN, FAIL = Severity.OK, Severity.WARN, Severity.FAIL
SHORT = 2 * SAME_MM  # more than noise, less than anybody measures


def large(measured: float) -> Finding:
    return at_least(
        code="play",
        where="board",
        what="play",
        measured=measured,
        warn_below=3.0,
        fail_below=2.0,
        advice="more",
        source="a table",
        unit="N",
    )


def near(measured: float, limit: float) -> str:
    """What stands before an amount that reads like its limit, and is not."""
    if round(measured) != limit or abs(measured - limit) < 1.5 * SAME_MM:
        return ""
    return "just over " if measured > limit else "just under "


def small(measured: float, warn_above: float | None = 2.0) -> Finding:
    return at_most(
        code="sag",
        where="deck",
        what="sag",
        measured=measured,
        warn_above=warn_above,
        fail_above=3.0,
        advice="thicker",
        source="a table",
        unit="N",
    )


@pytest.mark.parametrize(
    ("measured", "severity", "limit"),
    [
        (4.0, OK, 3.0),
        (3.0, OK, 3.0),
        (3.0 - SAME_MM, OK, 3.0),
        (3.0 - SHORT, WARN, 3.0),
        (2.0, WARN, 3.0),
        (2.0 - SAME_MM, WARN, 3.0),
        (2.0 - SHORT, FAIL, 2.0),
        (-1.0, FAIL, 2.0),
    ],
)
def test_what_should_be_large(measured: float, severity: Severity, limit: float) -> None:
    """What is at a limit, or less than noise short of it, has reached it."""
    found = large(measured)
    assert (found.severity, found.limit, found.sense) == (severity, limit, Sense.AT_LEAST)
    assert (found.code, found.where, found.measured) == ("play", "board", measured)
    assert said(found) == f"play {near(measured, limit)}{measured:.0f} N (min {limit:.0f} N)"
    assert (found.unit, found.source) == ("N", "a table")
    assert found.advice == ("" if severity is OK else "more")


@pytest.mark.parametrize(
    ("measured", "severity", "limit"),
    [
        (1.0, OK, 2.0),
        (2.0, OK, 2.0),
        (2.0 + SAME_MM, OK, 2.0),
        (2.0 + SHORT, WARN, 2.0),
        (3.0, WARN, 2.0),
        (3.0 + SAME_MM, WARN, 2.0),
        (3.0 + SHORT, FAIL, 3.0),
    ],
)
def test_what_should_be_small(measured: float, severity: Severity, limit: float) -> None:
    found = small(measured)
    assert (found.severity, found.limit, found.sense) == (severity, limit, Sense.AT_MOST)
    assert (found.code, found.where, found.measured) == ("sag", "deck", measured)
    assert said(found) == f"sag {near(measured, limit)}{measured:.0f} N (max {limit:.0f} N)"
    assert (found.unit, found.source) == ("N", "a table")
    assert found.advice == ("" if severity is OK else "thicker")


@pytest.mark.parametrize(
    ("measured", "severity"), [(2.5, OK), (3.0, OK), (3.0 + SAME_MM, OK), (3.0 + SHORT, FAIL)]
)
def test_without_a_limit_for_warnings_nothing_is_warned_of(
    measured: float, severity: Severity
) -> None:
    found = small(measured, warn_above=None)
    assert (found.severity, found.limit) == (severity, 3.0)


def test_what_is_less_than_nothing_is_told_by_how_much() -> None:
    found = at_least(
        code="way-door",
        where="deck",
        what="room beside it in the door",
        measured=-20.0,
        warn_below=30.0,
        fail_below=0.0,
        advice="another way",
    )
    assert said(found) == "room beside it in the door 20 mm too little"
    assert (found.severity, found.measured, found.limit) == (FAIL, -20.0, 0.0)
