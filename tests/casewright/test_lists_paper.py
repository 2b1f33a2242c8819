"""The shop's lists on paper hold what the tables hold."""

import csv
import io
from dataclasses import replace
from math import fsum

import pypdfium2
import pytest

from casewright.intake.read_job import read_job
from casewright.progress import Progress
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from casewright.stages.site.kit_stage import kits_of
from export.estimate.purchase import OVER_EACH_EDGE_MM
from export.papers.pdf import pdf_bytes
from export.shop.lists import banding_lines, lists_source
from export.tables.cutlist_table import cutlist_csv
from parametric.kit.set_kit import whole_shop_hardware
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.casewright.build_fixtures import CONFIGS

JOB = CONFIGS / "survey-ship.yaml"


@pytest.fixture(scope="module")
def sets() -> SetsOfJob:
    return model_sets(read_job(JOB), Progress())


def text(sets: SetsOfJob, units: Units, paper: Paper) -> str:
    hardware = whole_shop_hardware(kits_of(read_job(JOB)))
    pdf = pypdfium2.PdfDocument(
        pdf_bytes(lists_source("job", sets.cut_list, hardware, units, paper))
    )
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("paper", Paper)
def test_every_part_and_bar_stands_on_paper(sets: SetsOfJob, units: Units, paper: Paper) -> None:
    told = text(sets, units, paper)
    for row in csv.DictReader(io.StringIO(cutlist_csv(sets.cut_list, units))):
        assert row["part"] in told and row["finished_size"] in told and row["cut_size"] in told
    for bar in sets.cut_list.bars:
        assert bar.number in told


@pytest.mark.parametrize("paper", Paper)
def test_a_row_stands_on_one_page(sets: SetsOfJob, paper: Paper) -> None:
    """With names that take several lines: the last word of each as often as its first."""
    long = " ".join(["begun", *["of a long name"] * 12, "ended"])
    parts = tuple(replace(part, description=long) for part in sets.cut_list.parts) * 2
    hardware = whole_shop_hardware(kits_of(read_job(JOB)))
    listed = replace(sets.cut_list, parts=parts)
    pdf = pypdfium2.PdfDocument(pdf_bytes(lists_source("job", listed, hardware, Units.MM, paper)))
    counts = []
    for page in pdf:
        words = page.get_textpage().get_text_range().split()
        counts.append(words.count("begun"))
        assert words.count("ended") == counts[-1]
    assert sum(counts) == len(parts) and sum(map(bool, counts)) > 1


def test_tape_is_the_banded_edges_and_what_is_trimmed(sets: SetsOfJob) -> None:
    """Added up from the outlines' bounding boxes in the cut list's table."""
    wanted = []
    for row in csv.DictReader(io.StringIO(cutlist_csv(sets.cut_list, Units.MM))):
        for band in filter(None, row["bands"].split("; ")):
            along = band.startswith(("edge 1:", "edge 3:"))
            side = float(row["finished_length_mm" if along else "finished_width_mm"])
            wanted.append(int(row["quantity"]) * (side + OVER_EACH_EDGE_MM))
    lines = list(banding_lines(sets.cut_list.parts))
    assert lines and fsum(line.tape_mm for line in lines) == pytest.approx(fsum(wanted))
