"""What a job says of its labels: read as it is written, or refused at its line."""

from pathlib import Path

import pytest

from casewright.intake.read_job import read_job
from export.labels.stock import LEAST_HEIGHT_MM, LEAST_WIDTH_MM, LabelSheet, LabelStock, LabelStocks
from tests.casewright.intake_folder import CENTRE, KEEPER, JobFolder, place

FILE, LIBRARY = f"{KEEPER}.yaml", "labels-metric.yaml"
NAMED = """\
  - hardware-metric.yaml
  - labels-metric.yaml
labels: {parts: a4-8, boxes: roll-100x60}
"""
OWN = """
label_stocks:
  shelf:
    description: labels of the last job
    width: 80
    height: 40
    sheet:
      width: 200
      height: 140
      columns: 2
      rows: 3
      left: 10
      top: 5
      pitch_across: 90
"""


@pytest.fixture
def folder(tmp_path: Path) -> JobFolder:
    made = JobFolder(tmp_path)
    made.replace(FILE, "  - hardware-metric.yaml\n", NAMED)
    return made


def test_a_job_that_says_nothing_has_the_usual_labels(tmp_path: Path) -> None:
    assert read_job(JobFolder(tmp_path).path(FILE)).labels == LabelStocks()


def test_stocks_are_read_as_they_are_written(folder: JobFolder) -> None:
    """By hand: a pitch that is left out is the label's size, a rim 2 mm, no sheet is a roll."""
    folder.replace(FILE, "boxes: roll-100x60}\n", f"bars: shelf, boxes: roll-100x60}}\n{OWN}")
    labels = read_job(folder.path(FILE)).labels
    assert labels.parts is not None and labels.parts.key == "a4-8"
    assert labels.bars == LabelStock(
        key="shelf",
        description="labels of the last job",
        width_mm=80.0,
        height_mm=40.0,
        rim_mm=2.0,
        sheet=LabelSheet(
            width_mm=200.0,
            height_mm=140.0,
            columns=2,
            rows=3,
            left_mm=10.0,
            top_mm=5.0,
            pitch_across_mm=90.0,
            pitch_down_mm=40.0,
        ),
    )
    assert list(labels.bars.corners()) == [(x, y) for y in (5, 45, 85) for x in (10, 100)]
    assert labels.boxes is not None and labels.boxes.sheet is None
    assert labels.boxes.paper_mm == (100.0, 60.0)


def test_a_stock_that_nobody_has_is_told_with_the_nearest(folder: JobFolder) -> None:
    line = folder.replace(FILE, "parts: a4-8", "parts: a4-9")
    fault = folder.fault(KEEPER)
    assert place(fault) == (FILE, line, "labels.parts")
    assert fault.found == "no label stock named 'a4-9'"
    assert "a4-8" in fault.allowed


@pytest.mark.parametrize(
    ("old", "new", "key", "found", "allowed"),
    [
        (
            "height: 37",
            "height: 36.5",
            "height",
            "36.5",
            "at least 37 mm: what stands on a label, and twice the rim of 4.5 mm",
        ),
        ("rim: 4.5", "rim: 6.1", "width", "70", "at least 70.2 mm"),
        ("columns: 3", "columns: 4", "sheet.width", "210", "at least 280 mm, where its labels end"),
        ("top: 0.5}", "top: 1.5}", "sheet.height", "297", "at least 297.5 mm"),
        (
            "top: 0.5}",
            "top: 0.5, pitch_across: 69}",
            "sheet.pitch_across",
            "69",
            "at least the label's width (70 mm)",
        ),
        ("rows: 8", "rows: 0", "sheet.rows", "0", "greater than or equal to 1"),
        ("width: 70", "width: 40", "width", "40", "a length from 58 mm to 300 mm"),
    ],
)
def test_what_goes_with_nothing_is_refused_in_its_line(
    folder: JobFolder, old: str, new: str, key: str, found: str, allowed: str
) -> None:
    folder.replace(LIBRARY, old, new)
    faults = [each for each in folder.faults(KEEPER) if each.key_path.endswith(f"a4-24.{key}")]
    (fault,) = faults
    assert Path(fault.file).name == LIBRARY
    assert fault.found == found and allowed in fault.allowed


def test_least_sizes_are_told_in_the_units_of_their_file(tmp_path: Path) -> None:
    folder = JobFolder(tmp_path)
    line = folder.replace("labels-inch.yaml", "    width: 3\n", "    width: 2 1/4 in\n")
    folder.replace(f"{CENTRE}.yaml", "libraries:\n", "libraries:\n  - labels-inch.yaml\n")
    fault = folder.fault(CENTRE)
    assert place(fault) == ("labels-inch.yaml", line, "label_stocks.roll-3x2.width")
    assert '"' in fault.allowed


def test_the_least_label_is_one_that_is_sold() -> None:
    """70 x 37 mm, less the 4.5 mm that a printer leaves white: common practice, no source."""
    assert LEAST_WIDTH_MM <= 70 - 2 * 4.5 and LEAST_HEIGHT_MM <= 37 - 2 * 4.5
