"""What texts are wide by their letters, against where PDFium finds them on the page."""

from math import fsum

import pypdfium2
import pytest

from export.papers.cards import CAPITAL_OF_SIZE, Look, Words, card_document, surely_fits
from export.papers.pdf import letter_widths, pdf_bytes

MM_OF_POINT = 25.4 / 72
SIZE_MM = 5.0
WIDE_MM, APART_MM = 1800.0, 10.0
LETTERS = [chr(code) for code in range(33, 127)]


def words(text: str, look: Look, y_mm: float, width_mm: float = WIDE_MM) -> Words:
    return Words(
        text=text,
        x_mm=0.0,
        y_mm=y_mm,
        width_mm=width_mm,
        capital_mm=SIZE_MM * CAPITAL_OF_SIZE,
        look=look,
    )


@pytest.mark.parametrize(("look", "weight"), [(Look.PLAIN, "regular"), (Look.BOLD, "bold")])
def test_no_text_is_wider_than_its_letters_however_they_follow_each_other(
    look: Look, weight: str
) -> None:
    """Each letter before and after each other one, as it is set, kerned and joined."""
    texts = ["".join(letter + other for other in LETTERS) for letter in LETTERS]
    card = tuple(words(text, look, APART_MM * (at + 1)) for at, text in enumerate(texts))
    assert all(map(surely_fits, card))
    page_mm = (WIDE_MM, APART_MM * (len(texts) + 2))
    source = card_document("widths", page_mm, [(0.0, 0.0)], [card])
    document = pypdfium2.PdfDocument(pdf_bytes(source))
    (page,) = document
    read = page.get_textpage()
    reach: dict[int, float] = {}
    for at in range(read.count_chars()):
        _, y0, x1, y1 = read.get_charbox(at)
        row = int((page.get_height() - (y0 + y1) / 2) * MM_OF_POINT / APART_MM + 0.5)
        reach[row] = max(reach.get(row, 0.0), x1 * MM_OF_POINT)
    widths = letter_widths(weight)
    for row, text in enumerate(texts, start=1):
        said = SIZE_MM * fsum(widths[letter] for letter in text)
        # Far less than the twentieth that must stay free.
        assert 0.9 * said < reach[row] < 1.01 * said, text


def test_only_what_is_surely_short_needs_no_measuring() -> None:
    wide = SIZE_MM * fsum(letter_widths("regular")[letter] for letter in "Room 101")
    assert surely_fits(words("Room 101", Look.PLAIN, 0.0, 1.06 * wide))
    assert not surely_fits(words("Room 101", Look.PLAIN, 0.0, 1.04 * wide))
    assert not surely_fits(words("größer", Look.PLAIN, 0.0))
