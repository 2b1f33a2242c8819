"""What texts are wide by their letters, against where PDFium finds them on the page."""

from math import fsum

import pypdfium2
import pytest

from export.papers.cards import CAPITAL_OF_SIZE, Look, Words, card_document, surely_fitting
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
    assert tuple(map(surely_fitting, card)) == card
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


def test_words_get_letters_that_surely_fit_on_the_same_line() -> None:
    wide = SIZE_MM * fsum(letter_widths("regular")[letter] for letter in "Room 101")
    short = words("Room 101", Look.PLAIN, 5.0, 1.03 * wide)
    assert surely_fitting(short) == short
    given = words("Room 101", Look.PLAIN, 5.0, 0.5 * wide)
    lower = surely_fitting(given)
    assert lower is not None
    share = lower.capital_mm / given.capital_mm
    assert 0.48 < share < 0.5
    assert lower.y_mm + lower.capital_mm == pytest.approx(given.y_mm + given.capital_mm)


def test_what_may_have_to_end_early_is_measured() -> None:
    assert surely_fitting(words("Room 101", Look.PLAIN, 0.0, 1.0)) is None
    assert surely_fitting(words("größer", Look.PLAIN, 0.0)) is None
    assert surely_fitting(words("turn over", Look.WHITE_ON_BLACK, 0.0, 1.0)) is None
