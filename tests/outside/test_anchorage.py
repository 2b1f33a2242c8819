"""Tension in the screws of a rigid body, against statics by hand (moments about an edge; any
textbook of statics) and against forces that were drawn first and then asked for.
"""

import math
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric.geometry.space import Direction, Point
from parametric.strength.anchorage import Contact, Load, greatest_load_n, tensions_n


def greatest_tension_n(
    loads: Sequence[Load], screws: Sequence[Contact], pushes: Sequence[Contact]
) -> float:
    """What the screw under the highest tension bears; infinite if nothing holds the body."""
    found = tensions_n(loads, screws, pushes)
    return math.inf if found is None else max(found, default=0.0)


WALL = [Point(x, 0.0, z) for x in (0.0, 1000.0) for z in (0.0, 400.0)]
PUSHES = [Contact(at, Direction.Y_PLUS) for at in WALL]
FLOOR = [Contact(Point(x, y, 0.0), Direction.Z_PLUS) for x in (0.0, 1000.0) for y in (0.0, 500.0)]


def screws(*xs: float, z: float) -> list[Contact]:
    return [Contact(Point(x, 0.0, z), Direction.Y_MINUS) for x in xs]


def out(force_n: float, x: float, z: float, y: float = 500.0) -> Load:
    return Load(force_n, Point(x, y, z), Direction.Y_PLUS)


def test_a_pull_in_the_middle_is_shared_by_two():
    found = greatest_tension_n([out(1000.0, 500.0, 200.0)], screws(250.0, 750.0, z=200.0), PUSHES)
    assert found == pytest.approx(500.0)


def test_a_pull_above_the_screws_levers_on_the_lower_edge():
    """P h = T z: 1000 x 400 / 250 on one screw in line, with the wall's lower edge as fulcrum."""
    found = greatest_tension_n([out(1000.0, 500.0, 400.0)], screws(500.0, z=250.0), PUSHES)
    assert found == pytest.approx(1600.0)


def test_a_pull_beyond_the_screws_levers_on_the_far_end():
    """P a about the wall's far end, x = 1000 for a pull at x = 0; two screws at 300 and 500 share
    by their way to it: T = M r / (sum of r2), 1e6 x 700 / (700 2 + 500 2).
    """
    found = greatest_tension_n([out(1000.0, 0.0, 200.0)], screws(300.0, 500.0, z=200.0), PUSHES)
    assert found == pytest.approx(1e6 * 700 / (700**2 + 500**2), rel=1e-3)


@pytest.mark.parametrize("heights", [(100.0, 300.0), (60.0, 150.0, 240.0, 330.0)])
def test_a_bracket_that_turns_about_its_lower_edge(heights):
    """The elastic method for bolts of a bracket (Shigley, Mechanical Engineering Design, bolted
    joints under eccentric load; Blodgett, Design of Welded Structures; from memory): each in
    proportion to its way from the lower edge, T = M y / (sum of y2).
    """
    held = [each for z in heights for each in screws(500.0, z=z)]
    found = greatest_tension_n([out(1000.0, 500.0, 400.0)], held, PUSHES)
    assert found == pytest.approx(400e3 * max(heights) / sum(z**2 for z in heights), rel=1e-3)


def test_weight_on_the_floor_takes_part_of_a_load_beyond_it():
    """1000 N down, 100 mm in front of the base's edge; 600 N of weight 250 mm behind it; the rest,
    100,000 - 150,000 < 0, is nothing; with 300 N it is 25,000 over 250 mm of height.
    """
    load = Load(1000.0, Point(500.0, 600.0, 400.0), Direction.Z_MINUS)
    bodies = [Load(w, Point(500.0, 250.0, 200.0), Direction.Z_MINUS) for w in (600.0, 300.0)]
    # About the front edge the wall pushes at its lower rim, as high as the edge itself.
    heavy, light = (
        greatest_tension_n([load, body], screws(500.0, z=250.0), [*PUSHES, *FLOOR])
        for body in bodies
    )
    assert heavy == pytest.approx(0.0, abs=0.1)  # what pushes gives way a little
    assert light == pytest.approx((1000 * 100 - 300 * 250) / 250, rel=1e-3)


def test_a_load_beyond_the_base_grows_until_moments_balance():
    """500 N, 250 mm inside the front edge, against a load 100 mm in front of it: 1250 N; a load
    over the base never tips it; three feet tip over the edge between two of them.
    """
    body = [Load(500.0, Point(500.0, 250.0, 200.0), Direction.Z_MINUS)]
    beyond = Load(1.0, Point(500.0, 600.0, 400.0), Direction.Z_MINUS)
    over = Load(1.0, Point(500.0, 400.0, 400.0), Direction.Z_MINUS)
    assert greatest_load_n(beyond, body, FLOOR) == pytest.approx(500 * 250 / 100)
    assert greatest_load_n(over, body, FLOOR) == math.inf
    corner = Load(1.0, Point(0.0, 0.0, 400.0), Direction.Z_MINUS)
    three = [foot for foot in FLOOR if foot.at[:2] != (0.0, 0.0)]
    inside = Load(500.0, Point(800.0, 400.0, 0.0), Direction.Z_MINUS)
    # The edge from (1000, 0) to (0, 500): x + 2 y = 1000; 600 beyond it and 1000 before it.
    assert greatest_load_n(corner, [inside], three) == pytest.approx(500 * 600 / 1000)


def test_what_nothing_holds_is_not_held():
    assert greatest_tension_n([out(1.0, 500.0, 100.0)], [], PUSHES) == math.inf
    assert greatest_tension_n([out(1.0, 500.0, 100.0)], [], []) == math.inf
    sideways = Load(1.0, Point(500.0, 0.0, 100.0), Direction.X_PLUS)
    assert greatest_tension_n([sideways], screws(500.0, z=100.0), PUSHES) == math.inf


@given(
    st.lists(st.floats(0, 500), min_size=3, max_size=3),
    st.lists(st.floats(0, 500), min_size=4, max_size=4),
)
def test_no_more_work_is_stored_than_by_forces_that_are_in_balance(tensions, pushed):
    """Forces are drawn, their opposites are the load: Castigliano's are of least work, so that no
    screw bears more than all drawn ones squared and added.
    """
    held = screws(100.0, 500.0, 800.0, z=250.0)
    loads = [
        Load(force, each.at, each.way.opposite)
        for force, each in zip((*tensions, *pushed), (*held, *PUSHES), strict=True)
    ]
    work = sum(each**2 for each in tensions) + 1e-4 * sum(each**2 for each in pushed)
    assert greatest_tension_n(loads, held, PUSHES) <= math.sqrt(work) * 1.001 + 0.5
