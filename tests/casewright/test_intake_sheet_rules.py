"""What a router file says of edges, offcuts and small parts, and what holds where it is silent."""

from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from casewright.job import EdgeTrim, OffcutSize, SmallParts
from tests.casewright.intake_folder import SHIP, JobFolder, place

ROUTER = "router-metric.yaml"
OFFCUT = "offcut:\n  length: 600\n  width: 200\n"


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    return JobFolder(tmp_path)


def test_the_demo_says_what_is_the_default(folder: JobFolder) -> None:
    machine = read_job(folder.path(f"{SHIP}.yaml")).machine
    assert machine.offcut == OffcutSize()
    assert machine.small_parts == SmallParts()
    assert machine.edge_trim == EdgeTrim()
    assert machine.edges_mm == (10.0, 10.0, 10.0, 10.0)


def test_other_edges_and_a_rim(folder: JobFolder) -> None:
    rim = "  rim_side: 10 in\n  rim: 40\n  area_cm2: 250.5"
    folder.replace(ROUTER, "  area_cm2: 500", rim)
    folder.replace(ROUTER, OFFCUT, "edge_trim:\n  left: 1/2 in\n  top: 0\noffcut: {width: 90}\n")
    machine = read_job(folder.path(f"{SHIP}.yaml")).machine
    assert machine.edges_mm == (12.7, 10.0, 10.0, 0.0)
    assert machine.offcut == OffcutSize(length_mm=600.0, width_mm=90.0)
    small = SmallParts(area_cm2=250.5, aspect=10.0, rim_side_mm=254.0, rim_mm=40.0)
    assert machine.small_parts == small


@pytest.mark.parametrize(
    ("old", "new", "key", "found"),
    [
        ("  area_cm2: 500", "  rim: 40", "small_parts.rim", "no rim_side beside it"),
        ("  area_cm2: 500", "  rim_side: 40", "small_parts.rim_side", "no rim beside it"),
        ("  area_cm2: 500", "  area_cm2: -1", "small_parts.area_cm2", "-1"),
        ("  aspect: 10", "  aspect: 0.5", "small_parts.aspect", "0.5"),
        ("  width: 200", "  width: 1", "offcut.width", "1"),
        (OFFCUT, "edge_trim: {front: 3}\n", "edge_trim.front", "an unknown key"),
    ],
)
def test_what_cannot_be(folder: JobFolder, old: str, new: str, key: str, found: str) -> None:
    line = folder.replace(ROUTER, old, new)
    fault = folder.fault(SHIP)
    assert place(fault) == (ROUTER, line, key)
    assert fault.found == found
