"""Texts that steer a display are shown, in every kind of file, and a program gets them back."""

import io
import json
import sys
import unicodedata
from xml.etree import ElementTree

import pypdfium2
import pytest
from hypothesis import example, given

from export.json_text import json_text
from export.markup_text import in_markup
from export.papers.blocks import Page, Paragraph
from export.papers.page_format import page_format
from export.papers.pdf import pdf_bytes
from export.papers.typesetting import document
from export.svg.elements import svg_document, text_element
from export.visible_text import STEERS, restored, spelled, visible
from parametric.stock.paper import Paper
from tests.hostile_texts import HOSTILE

# Unicode 15, Unicode Character Database, UnicodeData.txt: the categories of control characters,
# line and paragraph separators and surrogates, and the bidirectional classes of explicit marks.
OBEYED = {"Cc", "Zl", "Zp", "Cs"}
DIRECTION = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


def is_obeyed(character: str) -> bool:
    kinds = {unicodedata.category(character), unicodedata.bidirectional(character)}
    return not kinds.isdisjoint(OBEYED | DIRECTION)


def test_every_control_and_direction_character_is_shown() -> None:
    every = map(chr, range(sys.maxunicode + 1))
    assert [c for c in every if is_obeyed(c) and visible(c) == c] == []


def test_zero_width_characters_are_shown() -> None:
    # Unicode Character Database, PropList and DerivedCoreProperties: Default_Ignorable_Code_Point.
    for code in (0xAD, 0x34F, 0x200B, 0x200C, 0x200D, 0x200E, 0x2060, 0x3164, 0xFE0F, 0xFEFF):
        assert visible(chr(code)) == f"\\u{code:04x}"
    assert visible("\U000e0001") == "\\U000e0001"


def test_texts_that_steer_nothing_stay_as_they_are() -> None:
    for text in ("Skarvholm, é, 日本, שלום, 19 1/4\" x 3'", "C:\\users\\new", "[rev a]"):
        assert visible(text) == spelled(text) == text


def test_escapes_that_people_wrote_stay_unless_a_program_would_undo_them() -> None:
    assert visible("\\u00e9") == restored("\\u00e9") == "\\u00e9"
    assert spelled("\\u00e9") == "\\u005cu00e9"


@given(HOSTILE)
@example("\\u202e")
@example("\\\u202e")
@example("\\u005cu202e")
def test_nothing_steers_and_nothing_is_lost(text: str) -> None:
    assert STEERS.search(visible(text) + spelled(text)) is None
    assert restored(spelled(text)) == text
    if "\\" not in text:
        assert restored(visible(text)) == text


@given(HOSTILE)
def test_json_shows_what_steers_and_reads_back(text: str) -> None:
    written = json_text({"name": text, text: [1.5]}, indent=2)
    assert STEERS.search(written.replace("\n", "")) is None
    assert json.loads(written) == {"name": _joined(text), _joined(text): [1.5]}


def test_json_has_no_numbers_that_are_none() -> None:
    with pytest.raises(ValueError, match="JSON compliant"):
        json_text(float("nan"))


@given(HOSTILE)
def test_markup_is_well_formed_and_holds_the_text(text: str) -> None:
    svg = svg_document((0, 0, 9, 9), text, [text_element(text, 0, 0, 1)])
    root = ElementTree.fromstring(svg)  # XML 1.0: refuses control characters
    assert [element.text or "" for element in root] == [visible(text), visible(text)]
    assert "<" not in in_markup(text)


def test_paper_shows_a_direction_character() -> None:
    page = Page(blocks=(Paragraph("room =1\x1b+1"),))
    source = document(page_format(Paper.A4), "Light \u202e house [rev a]", [page])
    pdf = pypdfium2.PdfDocument(io.BytesIO(pdf_bytes(source)))
    text = pdf[0].get_textpage().get_text_range()
    assert "Light \\u202e house [rev a]" in text
    assert "room =1\\u001b+1" in text
    assert "\u202e" not in text


def _joined(text: str) -> str:
    """Two halves of a pair that stand beside each other are one character in JSON."""
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "surrogatepass")
