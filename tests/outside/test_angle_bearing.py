"""How a steel angle gives way on its panels, against closed forms of beams on springs.

Roark's Formulas for Stress and Strain, table 8.1 (from memory): a beam of span L on two supports
sinks under a force at a by a2 b2 / 3 E I L; under one at its end, d beyond a support, by
d2 (L + d) / 3 E I. Supports that give way by s each newton add s (share)2.
"""

from dataclasses import replace
from math import log

import pytest

from parametric.findings.angle_bearing import AngleBearing, angle_bearing
from parametric.geometry.hand import Hand
from parametric.sets.room_set import build_set
from parametric.shapes.board import Board
from parametric.strength.steel_angle import STEEL_N_MM2, second_moment_mm4
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes


@pytest.fixture(scope="module", params=list(Hand))
def bearing(request: pytest.FixtureRequest) -> AngleBearing:
    assembly = build_set(set_sizes(), request.param, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    found = angle_bearing(assembly, assembly.angles[0])
    assert found is not None
    return found


def stiffness(bearing: AngleBearing) -> float:
    return STEEL_N_MM2 * second_moment_mm4(bearing.angle.section)


def pressed(bearing: AngleBearing, panel: Board) -> float:
    """A strip t wide at its top that widens at 45 degrees to both sides, h high, by integration of
    dz / E b (t + 2 z) in steps.
    """
    height = bearing.angle.box.low.z - panel.box.low.z
    toe, thick = bearing.angle.section.thickness_mm, panel.box.size(bearing.angle.along)
    steps = 200_000
    middles = (height * (n + 0.5) / steps for n in range(steps))
    return sum(height / steps / (2500.0 * thick * (toe + 2 * z)) for z in middles)


def test_a_notch_gives_way_as_a_strip_that_widens(bearing: AngleBearing) -> None:
    panel = bearing.panels[0]
    assert bearing.gives_mm_n(bearing.middle_mm(panel)) == pytest.approx(
        pressed(bearing, panel), rel=1e-4
    )


def test_between_its_panels_it_is_a_beam_on_springs(bearing: AngleBearing) -> None:
    one, other = bearing.panels
    start, end = bearing.middle_mm(one), bearing.middle_mm(other)
    span = abs(end - start)
    near, far = span / 4, 3 * span / 4
    at = start + (end - start) / 4
    springs = pressed(bearing, one) * 0.75**2 + pressed(bearing, other) * 0.25**2
    bent = (near * far) ** 2 / (3 * stiffness(bearing) * span)
    assert bearing.gives_mm_n(at) == pytest.approx(springs + bent, rel=1e-4)
    assert bearing.share(one, at) == pytest.approx(0.75)
    assert bearing.share(other, at) == pytest.approx(0.25)


def test_beyond_its_panels_it_is_a_lever(bearing: AngleBearing) -> None:
    one, other = bearing.panels
    start, end = bearing.middle_mm(one), bearing.middle_mm(other)
    span, over = abs(end - start), 100.0
    at = start - over * (1 if end > start else -1)
    lever = over / span
    springs = pressed(bearing, one) * (1 + lever) ** 2 + pressed(bearing, other) * lever**2
    bent = over**2 * (span + over) / (3 * stiffness(bearing))
    assert bearing.gives_mm_n(at) == pytest.approx(springs + bent, rel=1e-4)
    assert bearing.share(other, at) == pytest.approx(-lever)


def test_a_thicker_toe_is_pressed_in_less(bearing: AngleBearing) -> None:
    """The logarithm in closed form, at twice the steel."""
    section = bearing.angle.section
    thick = replace(section, thickness_mm=2 * section.thickness_mm)
    twice = replace(bearing, angle=replace(bearing.angle, section=thick))
    panel = bearing.panels[0]
    at = bearing.middle_mm(panel)
    height = bearing.angle.box.low.z - panel.box.low.z
    expected = log(1 + height / section.thickness_mm) / log(1 + 2 * height / section.thickness_mm)
    assert twice.gives_mm_n(at) / bearing.gives_mm_n(at) == pytest.approx(expected)
