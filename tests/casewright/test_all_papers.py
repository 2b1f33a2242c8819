"""Every paper that a build leaves, as PDFium reads its pages."""

import io

import pypdfium2
import pytest

from casewright.entries.entry import Form
from casewright.entries.registry import ENTRIES
from tests.casewright.build_fixtures import outcome_of
from tests.pdf_pages import assert_texts_apart, text_of

LABELS = "labels"  # cards without a foot: tests of their own look at them
DEMOS = ("keepers-room", "survey-ship")


def papers(demo: str) -> dict[str, bytes]:
    files = {str(path): content for path, content in outcome_of(demo).files.items()}
    return {path: files[path] for path in files if path.endswith(".pdf") and LABELS not in path}


@pytest.mark.parametrize("demo", DEMOS)
def test_no_text_lies_on_another_or_off_any_page(demo: str) -> None:
    for path, content in papers(demo).items():
        for page in pypdfium2.PdfDocument(io.BytesIO(content)):
            assert assert_texts_apart(page) > 3, path


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
