"""The plate model against the theory of plates and of beams.

Coefficients: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., from memory;
Navier's series is summed here. All plates have a stiffness of one and Poisson's ratio 0.3.
"""

import math

import numpy as np
import pytest
from scipy.special import j1

from parametric.strength.plate import MESH_MM, POISSON, Answer, Grip, Pad, Plate, Support

STIFF = 10.0
POINT_MM = 1.0  # a mean over so little is the value itself
TINY_MM = 2.0


def at(x: float, y: float, grip: Grip = Grip.BOTH, stiffness: float = STIFF) -> Support:
    return Support(float(x), float(y), grip, stiffness)


def all_round(side: float, step: float = 25.0) -> tuple[Support, ...]:
    along = np.arange(0.0, side + step / 2, step)
    edges = [(t, e) for t in along for e in (0.0, side)]
    return tuple(at(*place) for place in dict.fromkeys([*edges, *((y, x) for x, y in edges)]))


def alone(plate: Plate, pad: Pad, mean_mm: float = POINT_MM) -> Answer:
    (found,) = plate.under_pads([[pad]], mean_mm)
    return found


def line(x: float, width: float, grip: Grip = Grip.BOTH, stiffness: float = STIFF) -> list[Support]:
    return [at(x, width * (n + 0.5) / 4, grip, stiffness) for n in range(4)]


def navier(side: float, pad: float, mean: float) -> float:
    """Mean moment over a small square in the middle of a simply supported one under one newton on a
    round pad there: Navier's double series, section 29, with the transform of a disc.
    """
    total = 0.0
    for m in range(1, 200, 2):
        for n in range(1, 200, 2):
            wave = math.pi * math.hypot(m, n) / side
            load = 4 / side**2 * 2 * j1(wave * pad / 2) / (wave * pad / 2)
            shape = load / (math.pi**2 * ((m / side) ** 2 + (n / side) ** 2) ** 2)
            curve = (m / side) ** 2 + POISSON * (n / side) ** 2
            means = np.sinc(m * mean / 2 / side) * np.sinc(n * mean / 2 / side)
            total += shape * curve * means
    return total


def test_a_square_on_four_sides_under_an_even_load():
    """Table 8: 0.00406 q a4 / D and 0.0479 q a2 in the middle."""
    found = Plate(1000.0, 1000.0, all_round(1000.0)).under_spread(POINT_MM)
    assert found.sag == pytest.approx(0.00406e12, rel=0.005)
    assert found.moment == pytest.approx(0.0479e6, rel=0.005)
    assert found.sag_at == pytest.approx((500.0, 500.0), abs=20.0)


def test_a_square_on_four_sides_under_a_force_in_its_middle():
    """Table 23: 0.01160 P a2 / D."""
    found = alone(Plate(1000.0, 1000.0, all_round(1000.0)), Pad(500.0, 500.0, TINY_MM))
    assert found.sag == pytest.approx(0.01160e6, rel=0.01)


@pytest.mark.parametrize("side", [400.0, 700.0, 1000.0])
def test_a_round_pad_in_the_middle_of_a_square_on_four_sides(side):
    plate = Plate(side, side, all_round(side))
    found = alone(plate, Pad(side / 2, side / 2, 200.0), 38.0)
    assert found.moment == pytest.approx(navier(side, 200.0, 38.0), rel=0.02)


def test_a_clamped_square_under_an_even_load():
    """Table 35: 0.00126 q a4 / D in the middle."""
    clamped = [*all_round(1000.0), *(at(*place) for place in inner_ring(1000.0, 2.0))]
    found = Plate(1000.0, 1000.0, clamped).under_spread(POINT_MM)
    assert found.sag == pytest.approx(0.00126e12, rel=0.02)


def inner_ring(side: float, inset: float) -> list[tuple[float, float]]:
    along = np.arange(25.0, side - 12.0, 25.0)
    edges = [(t, e) for t in along for e in (inset, side - inset)]
    return [*edges, *((y, x) for x, y in edges)]


def test_a_load_on_a_free_corner():
    """Pure twist, section 11: a plate held at three corners under a force P at the fourth sinks
    there by P a b / 2 D (1 - nu), and its moment is P / 2 everywhere.
    """
    corners = [at(0.0, 0.0), at(600.0, 0.0), at(0.0, 400.0)]
    inset = TINY_MM
    found = alone(Plate(600.0, 400.0, corners), Pad(600.0 - inset, 400.0 - inset, TINY_MM), 200.0)
    assert found.sag == pytest.approx(math.prod(found.sag_at) / (2 * (1 - POISSON)), rel=0.02)
    assert found.sag_at == pytest.approx((600.0, 400.0), abs=10.0)
    assert found.moment == pytest.approx(0.5, rel=0.02)
    assert sum(found.forces) == pytest.approx(1.0)
    assert sorted(found.forces) == pytest.approx([-1.0, 1.0, 1.0], abs=0.02)


@pytest.mark.parametrize("over", [100.0, 200.0])
def test_a_narrow_plate_is_a_beam(over):
    """A strip of 40 mm over two supports 600 apart: P a over the support, less in the mean over
    40 mm, and P a2 (L + a) / 3 EI under the load; EI is that of the strip, free to bend the other
    way at its edges.
    """
    width, span = 40.0, 600.0
    plate = Plate(
        span + 300.0, width, [*line(100.0, width), *line(100.0 + span, width)], mesh_mm=25.0
    )
    tip = Pad(100.0 + span + over, width / 2, TINY_MM)
    found = alone(plate, tip, width)
    stiffness = (1 - POISSON**2) * width  # EI where the plate's D is one
    # The mean is greatest where it ends as low on both sides: the beam's slopes are 1 and a / L.
    mean = over - width * over / span / (1 + over / span) / 2
    assert found.moment * width == pytest.approx(mean, rel=0.02)
    sag_of_tip = over**2 * (span + over) / 3 / stiffness
    beyond = 300.0 - 100.0 - over
    slope = over * (2 * span + 3 * over) / 6 / stiffness
    # The plate's supports hold it from bending the other way there, which stiffens it a little.
    assert found.sag == pytest.approx(sag_of_tip + beyond * slope, rel=0.04)


def test_a_long_plate_that_bends_far_does_not_tip():
    """A strip over 1900 mm with a screw below its middle, which it leaves behind: 5 q L4 / 384 EI
    of a beam, far more than one newton would let it sink before it counts as tipping.
    """
    width, span = 200.0, 1900.0
    ends = [*line(50.0, width), *line(50.0 + span, width)]
    screw = at(50.0 + span / 2, width / 2, Grip.PULLS)
    found = Plate(span + 100.0, width, [*ends, screw]).under_spread(POINT_MM)
    assert not found.tips
    beam = 5 * span**4 / 384 / (1 - POISSON**2)
    assert found.sag == pytest.approx(beam, rel=0.03)
    assert found.forces[-1] == 0.0


def test_the_shelf_rule_of_the_woodwork_standards():
    """Architectural Woodwork Standards, 1st ed. 2009, section 10, 1.2.21: L/144 under 50 lbf/ft2:
    30 in of a 3/4 in board of 326,300 psi sag 0.319 in (beam formula, as a strip 40 mm wide).
    """
    inch, psi = 25.4, 4.4482216152605 / 25.4**2
    span, width = 30 * inch, 40.0
    ends = [*line(0.0, width), *line(span, width)]
    found = Plate(span, width, ends, mesh_mm=25.0).under_spread(POINT_MM)
    stiffness = 326_300 * psi * (0.75 * inch) ** 3 / 12 / (1 - POISSON**2)
    pressure = 50 * 4.4482216152605 / 304.8**2
    assert found.sag * pressure / stiffness / inch == pytest.approx(0.319, rel=0.01)


def corner_of_a_box(mesh_mm: float) -> Answer:
    """A deck of 600 x 1000 over two panels that meet at 100, 100; a pad in its corner."""
    panels = [at(100.0, y, Grip.BOTH, 0.002) for y in np.arange(110.0, 1000.0, 40.0)]
    panels += [at(x, 100.0, Grip.BOTH, 0.002) for x in np.arange(110.0, 600.0, 40.0)]
    return alone(Plate(600.0, 1000.0, panels, mesh_mm), Pad(100.0, 100.0, 200.0), 38.0)


def test_half_the_mesh_changes_little():
    """No source: the answer at the usual mesh and at half of it, where it bends most sharply."""
    usual, half = corner_of_a_box(MESH_MM), corner_of_a_box(MESH_MM / 2)
    assert usual.moment == pytest.approx(half.moment, rel=0.03)
    assert usual.sag == pytest.approx(half.sag, rel=0.02)


def test_what_only_pushes_lets_go():
    """Statics: with P at a beyond one support and L to the other, the far one holds with P a / L;
    where it can only push, the plate tips.
    """
    width, far, near = 300.0, line(50.0, 300.0), line(450.0, 300.0, Grip.PUSHES)
    pad = Pad(550.0, 150.0, TINY_MM)
    held = alone(Plate(600.0, width, [*far, *near]), pad)
    assert sum(held.forces[:4]) == pytest.approx(-100 / 400, rel=1e-3)
    assert sum(held.forces[4:]) == pytest.approx(500 / 400, rel=1e-3)
    loose = line(50.0, width, Grip.PUSHES)
    assert alone(Plate(600.0, width, [*loose, *near]), pad).tips
    screwed = [*loose, at(60.0, 150.0, Grip.PULLS, 0.001)]
    pulled = alone(Plate(600.0, width, [*screwed, *near]), pad)
    assert pulled.forces[:4] == (0.0, 0.0, 0.0, 0.0), "where it rises, it does not push"
    assert pulled.forces[4] == pytest.approx(-100 / 390, rel=1e-3)
    assert not alone(Plate(600.0, width, [*loose, *near]), Pad(250.0, 150.0, TINY_MM)).tips


def test_two_pads_do_what_they_do_together():
    plate = Plate(1000.0, 1000.0, all_round(1000.0, 50.0))
    pads = [Pad(300.0, 400.0, 200.0), Pad(700.0, 600.0, 200.0)]
    both, one, other = plate.under_pads([pads, pads[:1], pads[1:]], 38.0)
    for together, first, second in zip(both.forces, one.forces, other.forces, strict=True):
        assert together == pytest.approx(first + second, abs=1e-9)


def test_supports_in_one_line_are_refused():
    with pytest.raises(ValueError, match="not in one line"):
        Plate(600.0, 300.0, line(100.0, 300.0))
