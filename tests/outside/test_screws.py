"""The screws of the hardware libraries against published dimensions.

Sources:
- NDS 2018 (National Design Specification for Wood Construction), appendix L, table L3, p. 182,
  dimensions per ASME B18.6.1; second-hand, from notes on NDS 2018 that reproduce the table.
- NDS 2018 12.1.5.2 and 12.1.5.3 (lead holes); second-hand, civilengineeringx.com/bdac/Wood-Screws
  and the AWC commentary (studylib.net/doc/12742619).
- NDS 2018 12.1.5.6 (penetration); second-hand, from the same notes as table L3.
- ASME B18.6.1, flat heads, largest diameter with a sharp edge; second-hand, two tables agree:
  ary.com/Info/WoodScrewSizes.html and altak.cn, product table 463.
- Fractional drills are 64ths of an inch: ASME B94.11M, from memory.
"""

import math
from collections.abc import Iterable

import pytest
from ruamel.yaml import YAML

from casewright.job import Job
from parametric.stock.hardware import Head, MadeFor, Screw
from tests.outside.built_demo import CENTRE, CONFIGS, KEEPER, SHIP, screws

INCH = 25.4
PRINTED = 0.0005  # inches: the tables print three decimals

# NDS 2018 table L3: number -> major, root and (standard) head diameter, inches; second-hand.
TABLE_L3 = {6: (0.138, 0.113, 0.262), 8: (0.164, 0.131, 0.312), 10: (0.190, 0.152, 0.363)}
# ASME B18.6.1, flat head, largest sharp diameter, inches; second-hand, see above.
FLAT_HEAD = {6: 0.279, 8: 0.332, 10: 0.385}
# (head - major) / 2 / tan 41 degrees: head of 82 degrees (ASME B18.6.1, from memory), by hand.
CONE_DEPTH = {6: 0.0811, 8: 0.0966, 10: 0.1122}
# Metric countersunk heads: 90 degrees (from memory), so as deep as half of what the head is wider.
METRIC_CONE_DEPTH_MM = {4.0: 2.0, 5.0: 2.5, 6.0: 3.0}
# NDS 2018 12.1.5.2, withdrawal, G above .60: 0.90 x root diameter, inches, by hand.
WITHDRAWAL_PILOT = {6: 0.1017, 8: 0.1179, 10: 0.1368}
DENSE_G = 0.60  # NDS 2018 12.1.5.2: above this the rule for dense wood holds


def inch_screws(jobs: dict[str, Job]) -> list[Screw]:
    return list(screws(jobs[CENTRE]).values())


def number(screw: Screw) -> int:
    """The gauge that the screw is called by."""
    return int(screw.description.split("No. ")[1].split()[0])


@pytest.mark.parametrize(
    ("library", "names"), [("hardware-inch", [CENTRE]), ("hardware-metric", [KEEPER])]
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


def flat(listed: Iterable[Screw]) -> list[Screw]:
    """Those that want a cone; there are some of both."""
    found = [screw for screw in listed if screw.head is Head.FLAT]
    assert found
    return found


def test_inch_countersinks_take_the_largest_sharp_head(jobs: dict[str, Job]) -> None:
    for screw in flat(inch_screws(jobs)):
        largest = FLAT_HEAD[number(screw)]
        assert screw.head_diameter_mm / INCH == pytest.approx(largest, abs=PRINTED / 10)
        depth = screw.countersink_depth_mm / INCH
        assert depth == pytest.approx(CONE_DEPTH[number(screw)], abs=0.00005)


def test_metric_countersinks_are_as_deep_as_worked_by_hand(jobs: dict[str, Job]) -> None:
    for screw in flat((*screws(jobs[SHIP]).values(), *screws(jobs[KEEPER]).values())):
        depth_mm = METRIC_CONE_DEPTH_MM[screw.major_diameter_mm]
        assert screw.countersink_depth_mm == pytest.approx(depth_mm, abs=1e-9)


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
    assert raw.density_kg_m3 / 1000 > DENSE_G
    for screw in inch_screws(jobs):
        pilot = screw.pilot_diameter_mm / INCH
        limit = WITHDRAWAL_PILOT[number(screw)]
        assert (pilot * 64) == pytest.approx(round(pilot * 64), abs=1e-9)  # ASME B94.11M
        assert limit - 1 / 64 < pilot <= limit


def test_metric_pilots_are_the_nearest_drill_below_the_rule_of_nds(jobs: dict[str, Job]) -> None:
    # NDS covers neither board screws nor particleboard. At 650 kg/m3 the board is denser than
    # G .60, and these screws too are pulled out of it (cleats carry decks), so the rule for
    # withdrawal, 12.1.5.2, is borrowed. Roots themselves: common practice, no source.
    assert jobs[KEEPER].construction.rail.density_kg_m3 / 1000 > DENSE_G
    for screw in screws(jobs[KEEPER]).values():
        tenths = screw.pilot_diameter_mm * 10
        limit = 0.90 * screw.root_diameter_mm * 10
        # Drills in tenths of a millimetre: common practice, no source.
        assert tenths == pytest.approx(round(tenths), abs=1e-9)
        assert limit - 1 < tenths <= limit


def test_inch_clearance_holes_are_the_next_drill_above_the_screw(jobs: dict[str, Job]) -> None:
    # NDS 2018 12.1.5.3, second-hand: as wide as the shank; the next 64th of an inch (ASME B94.11M).
    for screw in inch_screws(jobs):
        drill = math.ceil(TABLE_L3[number(screw)][0] * 64)
        assert screw.clearance_diameter_mm / INCH * 64 == pytest.approx(drill)


@pytest.mark.parametrize("name", [CENTRE, SHIP, KEEPER])
def test_shanks_pass_their_holes_and_heads_do_not(jobs: dict[str, Job], name: str) -> None:
    # NDS 2018 12.1.5.3, G above .60: the hole for the shank is as wide as the shank, so at least
    # the major diameter; common practice, no source: and less than 1 mm wider.
    for screw in screws(jobs[name]).values():
        play = screw.clearance_diameter_mm - screw.major_diameter_mm
        assert 0 <= play < 1.0
        assert screw.clearance_diameter_mm < screw.head_diameter_mm


@pytest.mark.parametrize(("name", "lining_mm"), [(CENTRE, 0.625 * INCH), (KEEPER, 12.5)])
def test_wall_screws_reach_as_deep_as_nds_asks(
    jobs: dict[str, Job], name: str, lining_mm: float
) -> None:
    # NDS 2018 12.1.5.6: at least 6 D, tip included, in the main member. Linings of 5/8 in and
    # 12.5 mm: common practice, no source.
    made_of = jobs[name].construction
    screw = made_of.screw_wall
    reach = screw.length_mm - made_of.rail.thickness_mm - lining_mm
    assert reach >= 6 * screw.major_diameter_mm


def test_machine_screws_of_the_ship_are_m6_and_find_enough_thread(jobs: dict[str, Job]) -> None:
    """ISO 261 and 724, coarse pitch of M6: 1 mm, the root 1.22687 pitches below; a tap drill of
    diameter less pitch; ISO 273, medium clearance: 6.6. All from memory. One and a half diameters
    of thread in steel: common practice, no source.
    """
    ship = jobs[SHIP]
    metal = [each for each in screws(ship).values() if each.made_for is MadeFor.METAL]
    assert len(metal) == 2
    (pad,) = ship.walls.every.fixings
    for screw in metal:
        assert screw.root_diameter_mm == pytest.approx(6 - 1.22687, abs=0.005)
        assert (screw.pilot_diameter_mm, screw.clearance_diameter_mm) == (5.0, 6.6)
        assert screw.key in pad.screws
    assert pad.hole_mm == 5.0
    assert pad.embedment_mm >= 1.5 * 6
