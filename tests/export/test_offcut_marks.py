"""Offcuts on a sheet map: their size stands in their middle, along their longer side (by hand)."""

import re

import pypdfium2
import pytest

from export.papers.blocks import Page, Picture
from export.papers.drawn import on_page
from export.papers.page_format import page_format
from export.papers.pdf import pdf_bytes
from export.papers.typesetting import document
from export.svg.sheet_marks import hatched_offcuts
from parametric.geometry.outline import Bounds
from parametric.stock.lengths import Units
from parametric.stock.paper import Paper
from tests.pdf_pages import text_boxes, text_of

CAPITAL_MM = 20.0


@pytest.mark.parametrize(
    ("box", "words", "place", "turn"),
    [
        # Level: the baseline lies half a letter, 10 mm, under the middle; y counts down in SVG.
        (Bounds(100, 50, 1100, 350), "offcut 1000 mm x 300 mm", (600, -190), None),
        # Upright, read from the right: half a letter to the right of the middle.
        (Bounds(100, 50, 400, 1050), "offcut 300 mm x 1000 mm", (260, -550), "-90"),
    ],
)
def test_the_size_of_an_offcut_stands_in_its_middle(
    box: Bounds, words: str, place: tuple[float, float], turn: str | None
) -> None:
    svg = "".join(hatched_offcuts([box], Units.MM, CAPITAL_MM, 1.0))
    text = re.search(r'<text x="([-\d.]+)" y="([-\d.]+)"[^>]*>([^<]*)</text>', svg)
    assert text is not None
    assert text[3] == words
    assert (float(text[1]), float(text[2])) == place
    turned = re.search(r"rotate\(([-\d.]+) ", svg)
    assert (turned and turned[1]) == turn


@pytest.mark.parametrize("letter", ["w", "W", "m", "M", "i", "8"])
def test_the_longest_label_ends_within_its_offcut(letter: str) -> None:
    """Names have 60 letters, and the number of an offcut comes after; PDFium measures them."""
    size = (2000.0, 1000.0)
    label = f"{letter * 60}-12-A"
    body = hatched_offcuts([Bounds(0, 0, *size)], Units.MM, CAPITAL_MM * 2, 1.0, [label])
    wide_mm = 150.0
    picture = Picture(svg=on_page((0, 0, *size), "Offcut", body), width_mm=wide_mm)
    source = document(page_format(Paper.A4), "Job", [Page(blocks=(picture,))])
    (page,) = pypdfium2.PdfDocument(pdf_bytes(source))
    told = [box for box in text_boxes(page) if box[1] > page.get_height() / 2]  # not the foot
    assert letter * 3 in text_of(page)
    edge = (page.get_width() - wide_mm / 25.4 * 72) / 2  # pictures stand in the middle
    assert edge <= min(box[0] for box in told)
    assert max(box[2] for box in told) <= page.get_width() - edge
