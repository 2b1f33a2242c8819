"""Wall screws behind a lining that is thicker than the job counts on, by hand.

Screws of 4 in through 3/4 of rail leave 82.55 mm; behind 31.8 mm of double board 50.75 of them are
in the studs, and NDS 2018 12.2-2 counts each alike: 2850 x .42^2 x .190 = 95.52 lb an inch.
"""

from dataclasses import replace

import pytest

from parametric.findings.finding import Finding, Severity
from parametric.geometry.hand import Hand
from parametric.rooms.lining import lining_findings
from parametric.sets.room_set import RoomSet, build_set
from parametric.stock.lengths import Units, show_length
from parametric.strength.loads import Loads
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.told import said

POUND_N = 4.4482216


@pytest.fixture(scope="module")
def room_set() -> RoomSet:
    made = replace(CONSTRUCTION, screw_wall=replace(CONSTRUCTION.screw_wall, length_mm=4 * INCH))
    return build_set(set_sizes(), Hand.RIGHT, made, ROUTING, TRIM_MM)


def found(room_set: RoomSet, lining_mm: float | None) -> list[Finding]:
    return list(lining_findings("7", room_set, lining_mm, Loads(blocking_mm=89.0)))  # studs


@pytest.mark.parametrize("lining_mm", [None, 12.5, 15.9])
def test_a_lining_that_the_job_counts_on_is_that_of_the_set(room_set, lining_mm) -> None:
    assert found(room_set, lining_mm) == []


@pytest.mark.parametrize(
    ("lining_mm", "severity"), [(20.0, Severity.OK), (31.8, Severity.WARN), (45.0, Severity.FAIL)]
)
def test_a_thicker_lining_takes_bite_and_says_so(room_set, lining_mm, severity) -> None:
    (bench,) = (f for f in found(room_set, lining_mm) if f.where.endswith(": bench"))
    assert bench.where.startswith("room 7: ")
    assert bench.severity is severity
    thread_mm = 82.55 - lining_mm
    assert bench.limit == pytest.approx(95.52 * POUND_N / INCH * thread_mm, rel=2e-3)
    assert f" {show_length(thread_mm, Units.MM)} of thread in wood" in said(bench)


def test_plates_of_a_hung_panel_as_well(room_set) -> None:
    codes = {finding.code for finding in found(room_set, 31.8)}
    assert codes == {"wall-pull", "plate-load"}
