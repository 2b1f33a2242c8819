"""Papers of a job whose names are as short, or as long, as names may be."""

import io
from dataclasses import replace

import pypdfium2
import pytest

from casewright.intake.read_job import read_job
from casewright.pipeline import Outcome, build
from parametric.stock.paper import Paper
from tests.casewright.intake_folder import KEEPER
from tests.casewright.renamed_job import of_many_words, of_one_letter, renamed
from tests.pdf_pages import assert_texts_apart, text_of

NAMINGS = (of_one_letter, of_many_words)


@pytest.fixture(scope="module", params=NAMINGS, ids=lambda naming: naming.__name__)
def outcome(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    folder = renamed(tmp_path_factory.mktemp("renamed"), KEEPER, request.param)
    job = read_job(folder.path(f"{KEEPER}.yaml"))
    return build(replace(job, paper=Paper.LETTER))


def test_no_text_lies_on_another_or_off_the_page(outcome: Outcome) -> None:
    papers = [path for path in outcome.files if path.suffix == ".pdf"]
    assert len(papers) > 12
    for path in papers:
        for page in pypdfium2.PdfDocument(io.BytesIO(outcome.files[path])):
            assert assert_texts_apart(page) > 2, path


def test_cautions_stand_with_what_they_are_of(outcome: Outcome) -> None:
    """On letter paper, which is lower than A4."""
    papers = [path for path in outcome.files if path.match("s*/[!p]*.pdf")]
    assert len(papers) > 12
    for path in papers:
        for page in pypdfium2.PdfDocument(io.BytesIO(outcome.files[path])):
            assert not text_of(page).startswith("Caution"), path


def test_names_of_files_fit_every_disk(outcome: Outcome) -> None:
    """255 bytes is the longest name of ext4, APFS and NTFS; from memory."""
    for path in outcome.files:
        assert all(len(part.encode()) <= 255 for part in path.parts), path
