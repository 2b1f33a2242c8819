"""A job whose edge bander mills off more than its bands and gaps: what is cut, what stands.

The router cuts parts larger by what is milled off; model files show them milled and banded. Read
from the written files alone, with ezdxf and the CAD kernel's STEP reader.
"""

import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import cadquery as cq
import pytest

from casewright.intake.read_job import read_job
from casewright.output.folder import write_folder
from casewright.pipeline import Outcome, build
from casewright.stages.nest.nest_settings import NestSettings
from nesting.question.settings import Effort
from parametric.findings.finding import Severity
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.dxf_to_solid import best_difference, manifest_of, solid_from_dxf
from tests.casewright.step_names import solids_by_name
from tests.casewright.test_round_trip import cut_list, models
from tests.row import row_of

# By hand from the job: the band is 1 mm, the gap beside the table 2 mm. Two edges, each cut 1.9 mm
# beyond its finished place, would run into each other by 1.8 mm.
PRE_MILL_MM, BAND_MM = 2.9, 1.0
MOST_MM3 = 0.1

Part = tuple[dict[str, str], cq.Solid, list[cq.Shape]]


ENDS, LONG_EDGES = {"edge 2", "edge 4"}, {"edge 1", "edge 3"}


@pytest.fixture(scope="module")
def milled() -> Outcome:
    job = read_job(CONFIGS / "keepers-room.yaml")
    routing = replace(job.routing, pre_mill_mm=PRE_MILL_MM)
    return build(replace(job, routing=routing), settings=NestSettings(effort=Effort.QUICK))


@pytest.fixture(scope="module")
def folder(milled: Outcome, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out: Path = tmp_path_factory.mktemp("milled") / "out"
    write_folder(out, milled.files)
    return out


@pytest.fixture(scope="module")
def solids(folder: Path) -> dict[str, list[cq.Shape]]:
    (model,) = models(folder)
    return solids_by_name(model)


@pytest.fixture(scope="module")
def parts(folder: Path, solids: dict[str, list[cq.Shape]]) -> list[Part]:
    """Each line of the cut list, its part as the DXF has it, and its solids where they stand."""
    manifest = manifest_of(folder)
    return [
        (
            row,
            solid_from_dxf(folder, manifest, row["part"], float(row["thickness_mm"])),
            solids[row["part"]],
        )
        for row in cut_list(folder)
    ]


def banded(row: dict[str, str]) -> set[str]:
    return {each.split(":")[0] for each in row["bands"].split("; ") if each}


def sizes(row: dict[str, str], of: str) -> tuple[float, float]:
    return float(row[f"{of}_length_mm"]), float(row[f"{of}_width_mm"])


def milled_off(row: dict[str, str], cut: cq.Solid) -> cq.Shape:
    """The part of the DXF after the edge bander has milled the edges that the cut list bands."""
    edges, (length, width) = banded(row), sizes(row, "cut")
    low = [PRE_MILL_MM if edge in edges else 0.0 for edge in ("edge 4", "edge 1")]
    high = [
        size - (PRE_MILL_MM if edge in edges else 0.0)
        for size, edge in ((length, "edge 2"), (width, "edge 3"))
    ]
    corner = cq.Vector(low[0], low[1], -50.0)
    keep = cq.Solid.makeBox(high[0] - low[0], high[1] - low[1], 100.0, corner)
    return cut.intersect(keep)


def test_every_dxf_is_its_solid_once_it_is_milled(parts: list[Part]) -> None:
    compared = 0
    for row, cut, standing in parts:
        if "deck" not in row["description"]:  # their round corners are milled along the arc
            for solid in standing:
                off = best_difference(milled_off(row, cut), solid, MOST_MM3)
                assert off < MOST_MM3, row["part"]
            compared += bool(banded(row))
    assert compared >= 5


def test_round_corners_are_cut_larger_by_what_is_milled_off(
    milled: Outcome, parts: list[Part]
) -> None:
    """By hand: about one middle, the arc cut has the finished radius less 1 mm of band plus 2.9."""
    job = read_job(CONFIGS / "keepers-room.yaml")
    bench = row_of(job.sets[0]).bench
    assert bench is not None
    (row, cut, standing), *_ = (part for part in parts if part[0]["description"] == "bench deck")
    finished = bench.corner_radius_mm
    thickness = float(row["thickness_mm"])

    def corner_mm2(radius: float) -> float:
        return (1 - math.pi / 4) * radius**2

    length, width = sizes(row, "cut")
    core = [
        size - PRE_MILL_MM * len(banded(row) & across)
        for across, size in ((ENDS, length), (LONG_EDGES, width))
    ]
    off_mm2 = length * width - core[0] * core[1]
    off_mm2 -= corner_mm2(finished - BAND_MM + PRE_MILL_MM) - corner_mm2(finished - BAND_MM)
    more = cut.Volume() - standing[0].Volume()
    assert more == pytest.approx(off_mm2 * thickness, abs=0.5)


def test_cut_sizes_are_finished_sizes_less_bands_and_what_is_milled(parts: list[Part]) -> None:
    """By hand: each banded edge is cut 1.9 mm larger than it ends up."""
    for row, _, standing in parts:
        edges = banded(row)
        for across, cut_mm, finished_mm in zip(
            (ENDS, LONG_EDGES), sizes(row, "cut"), sizes(row, "finished"), strict=True
        ):
            count = len(edges & across)
            assert cut_mm - finished_mm == pytest.approx(1.9 * count, abs=0.011), row["part"]
            core_mm = finished_mm - BAND_MM * count
            box = standing[0].BoundingBox()
            found = min(abs(side - core_mm) for side in (box.xlen, box.ylen, box.zlen))
            assert found < 0.011, row["part"]


def test_nothing_that_is_delivered_overlaps(
    milled: Outcome, solids: dict[str, list[cq.Shape]]
) -> None:
    """The finding says so, and the solids of the STEP file bear it out."""
    found = [finding for finding in milled.findings if finding.code == "overlap"]
    assert [(f.severity, f.measured) for f in found] == [(Severity.OK, 0.0)]
    listed = [solid for same in solids.values() for solid in same]
    assert len(listed) > 40
    boxes = [solid.BoundingBox(tolerance=1e-6) for solid in listed]
    shared = 0.0
    for (a, p), (b, q) in combinations(zip(listed, boxes, strict=True), 2):
        if all(
            min(getattr(p, f"{axis}max"), getattr(q, f"{axis}max"))
            - max(getattr(p, f"{axis}min"), getattr(q, f"{axis}min"))
            > 1e-3
            for axis in "xyz"
        ):
            shared += sum(common.Volume() for common in a.intersect(b).Solids())
    assert shared < 1.0


def test_milling_more_than_a_band_puts_back_is_told(milled: Outcome) -> None:
    """By hand: 2.9 mm off, 1.0 mm on; named by material and band, and no reason to keep files."""
    found = [finding for finding in milled.findings if finding.code == "pre-mill"]
    assert found
    for finding in found:
        assert (finding.severity, finding.measured, finding.limit) == (Severity.WARN, 2.9, 1.0)
        assert "ash-band on " in finding.where
    assert milled.cut_files_written
