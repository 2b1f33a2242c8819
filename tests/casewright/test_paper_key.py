"""The job file's key `paper`."""

from pathlib import Path

import pytest

from casewright.errors import CasewrightError
from casewright.intake.read_job import read_job
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper, paper_for

CONFIGS = Path(__file__).parents[2] / "configs"


def job_with(line: str, folder: Path) -> Path:
    for each in CONFIGS.iterdir():
        if each.is_file():
            (folder / each.name).write_bytes(each.read_bytes())
    job = folder / "keepers-room.yaml"
    job.write_text(job.read_text() + line)
    return job


def test_a_job_may_name_its_paper(tmp_path: Path) -> None:
    job = read_job(job_with("\npaper: a4\n", tmp_path))
    assert job.paper is Paper.A4
    assert paper_for(Units.INCH, job.paper) is Paper.A4


def test_without_it_paper_goes_by_the_units(tmp_path: Path) -> None:
    assert read_job(job_with("", tmp_path)).paper is None
    assert paper_for(Units.INCH) is Paper.LETTER
    assert paper_for(Units.MM) is Paper.A4


def test_other_papers_are_refused(tmp_path: Path) -> None:
    with pytest.raises(CasewrightError, match="paper"):
        read_job(job_with("\npaper: a3\n", tmp_path))
