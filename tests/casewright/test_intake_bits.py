"""What a router file says of bits, times and hold-down, and what holds where it is silent."""

from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from export.routing.machine_rates import Bit, BitRole, Held, HoldDown, Table, Times
from tests.casewright.intake_folder import SHIP, JobFolder

ROUTER = "router-metric.yaml"
DRILL = "  drill 2.2 mm: {diameter: 2.2, roles: [bore], feed: 1500, plunge: 1500}"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def without(folder: JobFolder, first: str) -> None:
    """Drop all of the router file from a line on."""
    path = folder.path(ROUTER)
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index(first)], encoding="utf-8")


def test_the_demo_says_its_bits(folder: JobFolder) -> None:
    machine = read_job(folder.path(f"{SHIP}.yaml")).machine
    assert machine.bits[0] == Bit(
        name="router bit",
        diameter_mm=10.0,
        roles=(BitRole.OUTLINE, BitRole.OPENING, BitRole.GROOVE),
        feed_mm=6000.0,
        plunge_mm=2000.0,
        pass_depth_mm=19.0,
    )
    drills = [bit.diameter_mm for bit in machine.bits if bit.roles == (BitRole.BORE,)]
    assert drills == [2.2, 2.7, 3.7, 4.5, 5.5, 6.5, 6.6, 15.0]
    assert (machine.times, machine.hold_down) == (Times(), HoldDown())


def test_a_router_file_of_before_works_unchanged(folder: JobFolder) -> None:
    without(folder, "\n# The bits in its rack")
    machine = read_job(folder.path(f"{SHIP}.yaml")).machine
    assert (machine.bits, machine.times, machine.hold_down) == ((), Times(), HoldDown())


def test_feeds_and_diameters_are_lengths_of_any_unit(folder: JobFolder) -> None:
    new = (
        "  drill: {diameter: 1/8 in, roles: [bore], feed: 60 in, plunge: 50.5, pass_depth: 1/4 in}"
    )
    folder.replace(ROUTER, DRILL, new)
    folder.replace(ROUTER, "table: vacuum, small_parts: skin", "table: screws, small_parts: tabs")
    machine = read_job(folder.path(f"{SHIP}.yaml")).machine
    drill = machine.bits[1]
    assert (drill.diameter_mm, drill.feed_mm) == (3.175, 1524.0)
    assert (drill.plunge_mm, drill.pass_depth_mm) == (50.5, 6.35)
    assert machine.hold_down == HoldDown(table=Table.SCREWS, small_parts=Held.TABS, skin_mm=0.5)


@pytest.mark.parametrize(
    ("old", "new", "key", "found", "allowed"),
    [
        (DRILL, "  a: {roles: [bore], feed: 9, plunge: 9}", "bits.a.diameter", "nothing", ""),
        (DRILL, DRILL.replace("feed: 1500", "feed: 0"), "bits.drill 2.2 mm.feed", "0", "10 mm"),
        (DRILL, DRILL.replace("[bore]", "[]"), "bits.drill 2.2 mm.roles", "a list", ""),
        (DRILL, DRILL.replace("[bore]", "[saw]"), "bits.drill 2.2 mm.roles.0", "'saw'", "'bore'"),
        (DRILL, DRILL.replace("r: 2.2", "r: 16"), "bits.drill 2.2 mm.diameter", "16 mm", "largest"),
        ("    diameter: 10", "    diameter: 12", "bits.router bit.diameter", "12 mm", "(10 mm)"),
        ("  roles: [outline, o", "  roles: [o", "bits", "no bit with the role outline", "at least"),
        ("lift_s: 1.5", "lift_s: -1", "times.lift_s", "-1", "0"),
        ("small_parts: skin,", "small_parts: glue,", "hold_down.small_parts", "'glue'", "'tabs'"),
        ("skin: 0.5", "skin: 0", "hold_down.skin", "0", "from 0.1 mm"),
    ],
)
def test_what_cannot_be(
    folder: JobFolder, old: str, new: str, key: str, found: str, allowed: str
) -> None:
    line = folder.replace(ROUTER, old, new)
    fault = folder.faults(SHIP)[0]
    assert (Path(fault.file).name, fault.key_path) == (ROUTER, key)
    assert fault.line == line or key == "bits"
    assert fault.found == found and allowed in fault.allowed
