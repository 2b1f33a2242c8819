"""Benches of the avalanche centre against the 2010 ADA Standards for Accessible Design, 903.

Read in the standard's text: 903.3 seats at least 42 in long, 20 to 24 in deep; 903.5 top of the
seat 17 to 19 in (430 to 485 mm) above the floor. The cushion of 4 in is stated in the job file.
"""

from pathlib import Path

import pytest
import trimesh

from casewright.job import Job
from parametric.units.bench import BenchSizes
from tests.outside.built_demo import CENTRE, CONFIGS, SHIP, BuiltDemo

INCH = 25.4
NOISE = 1e-9  # sizes are at the limits themselves; binary numbers may miss them by this, in inches
CUSHION_IN = 4.0


def benches(job: Job) -> list[BenchSizes]:
    return [unit.sizes for sizes in job.sets for unit in sizes.units() if unit.family == "bench"]


def test_the_job_file_states_the_cushion() -> None:
    assert "a 4 in cushion" in Path(CONFIGS / f"{CENTRE}.yaml").read_text(encoding="utf-8")


def test_seat_height(jobs: dict[str, Job]) -> None:
    job = jobs[CENTRE]
    for sizes in job.sets:
        deck_top = (sizes.base_height_mm + job.construction.deck.thickness_mm) / INCH
        assert 17 <= deck_top + CUSHION_IN <= 19


def test_seat_length(jobs: dict[str, Job]) -> None:
    assert len(benches(jobs[CENTRE])) == 3
    for bench in benches(jobs[CENTRE]):
        assert bench.deck_depth_mm / INCH >= 42 - NOISE


def test_seat_depth(jobs: dict[str, Job]) -> None:
    for bench in benches(jobs[CENTRE]):
        assert 20 - NOISE <= bench.deck_width_mm / INCH <= 24 + NOISE


def test_the_ship_borrows_the_same_limits_in_millimetres(jobs: dict[str, Job]) -> None:
    # The standard's own millimetres: 430 to 485, 1065, 510 to 610.
    job = jobs[SHIP]
    for sizes in job.sets:
        assert 430 <= sizes.base_height_mm + job.construction.deck.thickness_mm + 100 <= 485
    for bench in benches(job):
        assert bench.deck_depth_mm >= 1065
        assert 510 <= bench.deck_width_mm <= 610


def test_the_built_deck_lies_at_the_height_that_was_asked(keeper: BuiltDemo) -> None:
    """The seat's top as an independent reader of the GLB file sees it, metres above the floor."""
    (row,) = [row for row in keeper.table("cutlist") if row["description"] == "bench deck"]
    (file,) = keeper.files("view")
    scene = trimesh.load_scene(keeper.folder / file["path"])
    tops = []
    for node in scene.graph.nodes_geometry:
        pose, name = scene.graph[node]
        if str(node).split("_")[0] == row["part"]:
            corners = trimesh.transform_points(scene.geometry[name].vertices, pose)
            tops.append(float(corners[:, 1].max()))
    (sizes,) = keeper.job.sets
    deck_top = sizes.base_height_mm + keeper.job.construction.deck.thickness_mm
    assert max(tops) == pytest.approx(deck_top / 1000, abs=1e-6)
