"""Every paper that a build leaves, as PDFium reads its pages."""

import io

import pypdfium2
import pytest

from casewright.entries.entry import Form
from casewright.entries.registry import ENTRIES
from export.papers.pdf import pdf_bytes
from export.papers.typesetting import Source
from tests.casewright.build_fixtures import DEMOS, outcome_of
from tests.pdf_pages import assert_texts_apart, text_of

LABELS = "labels"  # cards without a foot


def papers(demo: str, *, labels: bool = False) -> dict[str, bytes]:
    files = {str(path): content for path, content in outcome_of(demo).files.items()}
    wanted = (path for path in files if path.endswith(".pdf") and (labels or LABELS not in path))
    return {path: files[path] for path in wanted}


def test_a_text_on_another_one_would_be_seen() -> None:
    marks = "#place(dx: 20mm)[first] #place(dx: 22mm, dy: 1mm)[second]"
    (page,) = pypdfium2.PdfDocument(pdf_bytes(Source(main=marks, files=(), revision="")))
    with pytest.raises(AssertionError, match="first"):
        assert_texts_apart(page)


@pytest.mark.parametrize("demo", DEMOS)
def test_no_text_lies_on_another_or_off_any_page(demo: str) -> None:
    for path, content in papers(demo, labels=True).items():
        for page in pypdfium2.PdfDocument(io.BytesIO(content)):
            assert assert_texts_apart(page) > 2, path


@pytest.mark.parametrize("demo", DEMOS)
def test_no_page_has_only_what_ran_over(demo: str) -> None:
    rooms = outcome_of(demo).rooms
    for path, content in papers(demo).items():
        document = pypdfium2.PdfDocument(io.BytesIO(content))
        if path in ("site/sign-off.pdf", "site/measuring.pdf"):
            assert len(document) == rooms, path
        for page in document:
            assert not text_of(page).startswith("Caution"), path


@pytest.mark.parametrize("demo", DEMOS)
def test_every_page_is_counted_and_tells_its_revision(demo: str) -> None:
    for path, content in papers(demo).items():
        pages = list(pypdfium2.PdfDocument(io.BytesIO(content)))
        for number, page in enumerate(pages, start=1):
            text = text_of(page)
            assert f"page {number} of {len(pages)}" in text and ", revision " in text, path


def test_every_paper_of_the_registry_is_looked_at() -> None:
    starts = {e.path.partition("*")[0] for e in ENTRIES if e.form is Form.PAPER}
    starts = {start for start in starts if LABELS not in start}
    left = [path for demo in DEMOS for path in papers(demo)]
    assert {start for start in starts if not any(p.startswith(start) for p in left)} == set()
