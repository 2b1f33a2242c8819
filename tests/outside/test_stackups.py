"""Stack-ups against published tolerances.

Sources:
- PS 1-19: thickness of performance categories 23/32 (.688 to .750 in) and 3/4 (.719 to .781 in);
  second-hand, APA's pages on performance categories (apawood-europe.org).
- EN 312, tolerances by EN 324: thickness of particleboard within .3 mm; second-hand, two data
  sheets agree (see `test_thickness_tolerances`).
- ANSI A208.1: average thickness of particleboard within .200 mm; from memory.
- ASTM A6, legs over 1 to 2 in: 3/64 in; EN 10056-2, legs up to 50 mm: 1 mm, up to 100: 2 mm;
  all from memory.
- Root sum square: JCGM 100:2008, 5.1.2, equation 10; from memory.
"""

import math
from dataclasses import replace

import pytest

from casewright.job import Job
from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.sets.room_set import build_set
from parametric.shapes.routing import Routing
from parametric.stock.construction import Construction
from parametric.stock.tolerances import CutTolerances, Tolerance
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.outside.built_demo import CENTRE, DEMOS, KEEPER, SHIP

PLYWOOD_IN = {"23/32": (0.688, 0.750), "3/4": (0.719, 0.781)}


def stacks(made: Construction, routing: Routing) -> dict[str, Finding]:
    room_set = build_set(set_sizes(), Hand.RIGHT, made, routing, TRIM_MM)
    found = check_set(room_set, machining(room_set.assembly, routing), routing, TRIM_MM)
    return {finding.code: finding for finding in found if finding.code.startswith("stack-")}


def housed(category: str, slot_in: float) -> Finding:
    """The finding on plywood of a category in a slot that is cut exactly so wide."""
    low, high = (value * INCH for value in PLYWOOD_IN[category])
    plywood = replace(
        CONSTRUCTION.carcass,
        key=category,
        thickness_mm=(low + high) / 2,
        thickness_tolerance=Tolerance(plus_minus_mm=(high - low) / 2, source="PS 1-19"),
    )
    made = replace(
        CONSTRUCTION,
        carcass=plywood,
        housing_clearance_mm=slot_in * INCH - plywood.thickness_mm,
    )
    exact = CutTolerances(groove=Tolerance(plus_minus_mm=0.0, source="a perfect router"))
    return stacks(made, replace(ROUTING, tolerances=exact))["stack-housing"]


@pytest.mark.parametrize(
    ("category", "slot_in", "severity"),
    [
        ("23/32", 0.749, Severity.FAIL),
        ("23/32", 0.751, Severity.OK),
        ("3/4", 0.751, Severity.FAIL),
        ("3/4", 0.780, Severity.FAIL),
        ("3/4", 0.782, Severity.OK),
    ],
)
def test_a_slot_must_take_the_thickest_plywood_of_its_category(
    category: str, slot_in: float, severity: Severity
) -> None:
    """A slot for "23/32" must take .750 in and one for "3/4" .781 in."""
    found = housed(category, slot_in)
    assert found.severity is severity
    assert found.measured == pytest.approx((slot_in - PLYWOOD_IN[category][1]) * INCH)
    assert "PS 1-19" in found.source


@pytest.mark.parametrize(
    ("board_mm", "groove_mm", "clearance_mm", "severity"),
    [
        # EN 312: .3 and a router's .1 are .4 at worst, and the root of .09 + .01 is .316.
        (0.3, 0.1, 0.45, Severity.OK),
        (0.3, 0.1, 0.40, Severity.WARN),
        (0.3, 0.1, 0.31, Severity.FAIL),
        # A208.1: .2 and .1 are .3, and .224.
        (0.2, 0.1, 1 / 64 * INCH, Severity.OK),
        (0.2, 0.1, 0.25, Severity.WARN),
        (0.2, 0.1, 0.22, Severity.FAIL),
    ],
)
def test_particleboard_in_a_groove(
    board_mm: float, groove_mm: float, clearance_mm: float, severity: Severity
) -> None:
    board = replace(
        CONSTRUCTION.carcass,
        thickness_tolerance=Tolerance(plus_minus_mm=board_mm, source="the standard"),
    )
    made = replace(CONSTRUCTION, carcass=board, housing_clearance_mm=clearance_mm)
    cut = CutTolerances(groove=Tolerance(plus_minus_mm=groove_mm, source="the router"))
    found = stacks(made, replace(ROUTING, tolerances=cut))["stack-housing"]
    assert found.severity is severity
    assert clearance_mm - found.measured == pytest.approx(math.sqrt(board_mm**2 + groove_mm**2))


@pytest.mark.parametrize(
    ("name", "rail_mm", "leg_mm"),
    [(CENTRE, 0.2, 3 / 64 * INCH), (SHIP, 0.3, 2.0), (KEEPER, 0.3, 1.0)],
)
def test_the_demo_libraries_say_what_the_standards_say(
    jobs: dict[str, Job], name: str, rail_mm: float, leg_mm: float
) -> None:
    made_of = jobs[name].construction
    assert made_of.rail.thickness_tolerance is not None
    assert made_of.rail.thickness_tolerance.plus_minus_mm == pytest.approx(rail_mm)
    assert made_of.angle.leg_tolerance is not None
    assert made_of.angle.leg_tolerance.plus_minus_mm == pytest.approx(leg_mm)


def test_the_inch_plywood_varies_as_its_category(jobs: dict[str, Job]) -> None:
    bearer = jobs[CENTRE].construction.bearer
    assert bearer.thickness_tolerance is not None
    off_mm = bearer.thickness_tolerance.plus_minus_mm
    low, high = (value * INCH for value in PLYWOOD_IN["3/4"])
    # The standard rounds 23/32 and 25/32 in to thousandths.
    assert bearer.thickness_mm - off_mm == pytest.approx(low, abs=0.0005 * INCH)
    assert bearer.thickness_mm + off_mm == pytest.approx(high, abs=0.0005 * INCH)


@pytest.mark.parametrize("name", DEMOS)
def test_no_clearance_of_a_demo_job_closes_at_worst(jobs: dict[str, Job], name: str) -> None:
    job = jobs[name]
    for sizes in job.sets:
        for hand in Hand:
            trim_mm = job.machine.even_trim_mm
            room_set = build_set(sizes, hand, job.construction, job.routing, trim_mm)
            worked = machining(room_set.assembly, job.routing)
            out = job.fitting.setting_out
            found = check_set(room_set, worked, job.routing, trim_mm, out)
            stacked = [finding for finding in found if finding.code.startswith("stack-")]
            assert len(stacked) >= 2
            assert {finding.severity for finding in stacked} == {Severity.OK}
