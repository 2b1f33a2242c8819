"""A picture on many pages is in the file once, and looks the same on each, as PDFium draws it."""

import re

import numpy as np
import pypdfium2

from casewright.stages.store.measuring_stage import MEANINGS
from export.papers.blocks import Page, Paragraph, Picture
from export.papers.page_format import page_format
from export.papers.pdf import OFTEN, pdf_bytes
from export.papers.typesetting import document
from export.store.measuring import measuring_svg
from parametric.geometry.hand import Hand
from parametric.stock.paper import Paper
from tests.pdf_pages import text_of

PICTURE = Picture(svg=measuring_svg(Hand.LEFT, tuple(MEANINGS)), width_mm=140.0)


def paper(pages: int, more: str = "") -> bytes:
    """Pages that all show the picture."""
    blocks = (PICTURE, Paragraph(more))
    listed = [Page(blocks=blocks) for _ in range(pages)]
    return pdf_bytes(document(page_format(Paper.A4), "job", listed))


def without_foot(page: pypdfium2.PdfPage) -> str:
    return re.sub("revision .*", "", text_of(page))


def test_more_pages_with_it_do_not_hold_it_again() -> None:
    inline = (len(paper(OFTEN)) - len(paper(OFTEN // 2))) / (OFTEN - OFTEN // 2)
    once = (len(paper(4 * OFTEN)) - len(paper(2 * OFTEN))) / (2 * OFTEN)
    assert once < inline / 4


def test_it_looks_the_same_and_its_words_are_read() -> None:
    few, many = pypdfium2.PdfDocument(paper(1)), pypdfium2.PdfDocument(paper(OFTEN + 1))
    assert len(many) == OFTEN + 1
    one, other = (np.asarray(each[0].render(scale=2).to_numpy(), int) for each in (few, many))
    foot = round(2 * 18.0 * 72 / 25.4)  # where the number of pages stands
    assert np.abs(one - other)[:-foot].max() <= 8  # of 255
    for page in many:
        assert without_foot(page) == without_foot(few[0])
        assert "head wall, from the room" in text_of(page)


def test_words_of_a_person_that_look_like_the_source_stay_words() -> None:
    said = 'view("picture-1.svg", '
    (*_, last) = pypdfium2.PdfDocument(paper(OFTEN + 1, said))
    assert said.strip() in text_of(last)


def test_the_same_pages_give_the_same_bytes() -> None:
    assert paper(OFTEN + 2) == paper(OFTEN + 2)
