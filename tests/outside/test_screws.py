"""The screws of the hardware libraries against published dimensions.

Sources, second-hand where said:
- NDS 2018 appendix L, table L3 (dimensions per ASME B18.6.1), through a public clause-by-clause
  reading of NDS 2018.
- NDS 2018 12.1.5.2 and 12.1.5.3 (lead holes), 12.1.5.6 (penetration), through the same reading and
  the AWC commentary.
- Flat heads, largest diameter with a sharp edge, ASME B18.6.1: two fastener dealers' tables agree.
- ASME B94.11M: fractional drills are 64ths of an inch.
"""

import math

import pytest
from ruamel.yaml import YAML

from casewright.job import Job
from parametric.hardware import Screw
from tests.outside.built_demo import CENTRE, CONFIGS, KEEPER, SHIP, screws

INCH = 25.4
PRINTED = 0.0005  # inches: the tables print three decimals

# NDS 2018 table L3: number -> major, root and (standard) head diameter, inches.
TABLE_L3 = {
    6: (0.138, 0.113, 0.262),
    8: (0.164, 0.131, 0.312),
    10: (0.190, 0.152, 0.363),
    12: (0.216, 0.171, 0.414),
    14: (0.242, 0.196, 0.480),
}
# ASME B18.6.1, flat head, largest sharp and smallest diameter, inches (dealers' tables).
FLAT_HEAD = {8: (0.332, 0.292), 10: (0.385, 0.340)}
# (head - major) / 2 / tan 41 degrees: head of 82 degrees (ASME B18.6.1, from memory), by hand.
CONE_DEPTH = {8: 0.0966, 10: 0.1122}
# NDS 12.1.5.2, withdrawal, G above .60: 0.90 x root diameter, inches, by hand.
WITHDRAWAL_PILOT = {8: 0.1179, 10: 0.1368}
PARTICLEBOARD_G = 0.60  # NDS 12.1.5.2: above this the rule for dense wood holds


def inch_screws(jobs: dict[str, Job]) -> list[Screw]:
    return list(screws(jobs[CENTRE]).values())


def number(screw: Screw) -> int:
    """The gauge that the screw is called by."""
    return int(screw.description.split("No. ")[1].split()[0])


def test_the_table_follows_the_gauge_rule() -> None:
    # ASME B18.6.1 (from memory): D = .060 + .013 N; table L3, read apart from it, fits exactly.
    for gauge, (major, _, _) in TABLE_L3.items():
        assert major == pytest.approx(0.060 + 0.013 * gauge, abs=1e-9)


@pytest.mark.parametrize(
    ("library", "names"), [("hardware-inch", [CENTRE]), ("hardware-metric", [SHIP, KEEPER])]
)
def test_every_screw_of_a_library_is_looked_at(
    jobs: dict[str, Job], library: str, names: list[str]
) -> None:
    written = YAML(typ="safe").load((CONFIGS / f"{library}.yaml").read_text(encoding="utf-8"))
    for name in names:
        assert set(screws(jobs[name])) == set(written["screws"])


def test_inch_screws_are_those_of_table_l3(jobs: dict[str, Job]) -> None:
    for screw in inch_screws(jobs):
        major, root, head = TABLE_L3[number(screw)]
        assert screw.major_diameter_mm / INCH == pytest.approx(major, abs=PRINTED / 10)
        assert screw.root_diameter_mm / INCH == pytest.approx(root, abs=PRINTED / 10)
        # The countersink is for the largest head of the lot, never for less than the standard one.
        assert screw.head_diameter_mm / INCH >= head


def test_inch_countersinks_take_the_largest_sharp_head(jobs: dict[str, Job]) -> None:
    for screw in inch_screws(jobs):
        largest, smallest = FLAT_HEAD[number(screw)]
        assert screw.head_diameter_mm / INCH == pytest.approx(largest, abs=PRINTED / 10)
        assert smallest < screw.head_diameter_mm / INCH
        depth = screw.countersink_depth_mm / INCH
        assert depth == pytest.approx(CONE_DEPTH[number(screw)], abs=0.00005)


def test_countersinks_leave_board_below_the_head(jobs: dict[str, Job]) -> None:
    # Common practice, no source: the cone never goes through; half the board stays for the shank.
    for job in jobs.values():
        thinnest = min(
            job.construction.cleat.thickness_mm, job.construction.wall_panel.thickness_mm
        )
        for screw in screws(job).values():
            assert screw.countersink_depth_mm <= thinnest / 2


def test_inch_pilots_are_the_nearest_drill_below_the_rule_of_nds(jobs: dict[str, Job]) -> None:
    # NDS does not cover particleboard; at 45 lb/ft3 it is denser than G .60, so the rule for dense
    # wood is borrowed.
    raw = jobs[CENTRE].construction.rail
    assert raw.density_kg_m3 / 1000 > PARTICLEBOARD_G
    for screw in inch_screws(jobs):
        pilot = screw.pilot_diameter_mm / INCH
        limit = WITHDRAWAL_PILOT[number(screw)]
        assert (pilot * 64) == pytest.approx(round(pilot * 64), abs=1e-9)  # ASME B94.11M
        assert limit - 1 / 64 < pilot <= limit


def test_a_worked_pilot() -> None:
    # NDS 12.1.5.2, worked by hand: No. 8 into red oak (G .67): .1179, so 7/64 = .1094 in.
    assert math.floor(0.90 * TABLE_L3[8][1] * 64) == 7


def test_metric_pilots_are_within_the_root(jobs: dict[str, Job]) -> None:
    # NDS 2018 12.1.5.3 (lateral load), G above .60: the hole for the thread is no wider than the
    # root. The stricter 0.90 x root of 12.1.5.2 (withdrawal) is not kept by these screws: what they
    # hold is pressed down by weight. Roots themselves: common practice, no source.
    for screw in screws(jobs[SHIP]).values():
        assert 0.90 * screw.root_diameter_mm < screw.pilot_diameter_mm <= screw.root_diameter_mm
        tenths = screw.pilot_diameter_mm * 10
        assert tenths == pytest.approx(round(tenths), abs=1e-9)  # drills in tenths of a millimetre


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
def test_shanks_pass_their_holes_and_heads_do_not(jobs: dict[str, Job], name: str) -> None:
    # NDS 2018 12.1.5.3, G above .60: the hole for the shank is as wide as the shank, so at least
    # the major diameter; common practice, no source: and less than 1 mm wider.
    for screw in screws(jobs[name]).values():
        play = screw.clearance_diameter_mm - screw.major_diameter_mm
        assert 0 <= play < 1.0
        assert screw.clearance_diameter_mm < screw.head_diameter_mm


@pytest.mark.parametrize(("name", "lining_mm"), [(CENTRE, 0.625 * INCH), (SHIP, 12.5)])
def test_wall_screws_reach_as_deep_as_nds_asks(
    jobs: dict[str, Job], name: str, lining_mm: float
) -> None:
    # NDS 2018 12.1.5.6: at least 6 D, tip included, in the main member. Linings of 5/8 in and
    # 12.5 mm: common practice, no source.
    made_of = jobs[name].construction
    screw = made_of.screw_wall
    reach = screw.length_mm - made_of.rail.thickness_mm - lining_mm
    assert reach >= 6 * screw.major_diameter_mm
