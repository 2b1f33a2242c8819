"""How high a step's picture may be: what stands around it takes its height from it."""

import pytest

from export.papers.blocks import Cautions, Page
from export.papers.page_format import page_format
from export.papers.typesetting import document
from export.site.content import StepSheet
from export.site.page_room import LEAST_MM, MOST_MM, picture_height_mm
from parametric.stock.paper import Paper

ROWS = (("1", "P001", "side"),) * 7
FULL = StepSheet(
    title="Place the bed",
    people=2,
    pictures=(),
    work=(),
    parts=ROWS,
    fasteners=(),
    marks=ROWS,
    tools=(),
    checks=(),
    cautions=(),
)


def height(*cautions: str, paper: Paper = Paper.A4) -> float:
    return picture_height_mm(FULL, cautions, paper)


def words(letters: int) -> str:
    return ("x " * letters)[:letters]


def test_each_line_of_the_cautions_takes_as_much_from_the_picture() -> None:
    """A line of the box holds 98 characters, at the sizes that the papers are set in."""
    none, one = height(), height(words(98))
    line = none - one
    assert LEAST_MM < one < none < MOST_MM
    assert line > 4.0, "a line of text is higher than its capitals"
    assert height("x") == one
    assert height(words(99)) == pytest.approx(none - 2 * line)
    assert height("x", "x", words(99)) == pytest.approx(none - 4 * line)


def test_a_word_that_is_broken_may_take_twice_its_letters() -> None:
    """Of w there are half as many on a line: 60 take two lines of 98, as the other letters do."""
    assert height("w" * 60) == height(words(99))
    assert height("w" * 24) == height("x")


def test_letter_paper_is_so_much_lower() -> None:
    """ISO 216: 297 mm; ASME Y14.1 A: 11 in, 279.4 mm."""
    assert height() - height(paper=Paper.LETTER) == pytest.approx(297.0 - 279.4)


def test_a_picture_is_never_too_low_to_read_nor_higher_than_it_need_be() -> None:
    assert height(*["x"] * 40) == LEAST_MM
    empty = StepSheet(
        title="t",
        people=1,
        pictures=(),
        work=(),
        parts=(),
        fasteners=(),
        marks=(),
        tools=(),
        checks=(),
        cautions=(),
    )
    assert picture_height_mm(empty, (), Paper.A4) == MOST_MM


def test_every_caution_ends_as_a_sentence() -> None:
    page = Page(blocks=(Cautions(("Wear gloves", "Stop.", "Ask: who?")),))
    made = document(page_format(Paper.A4), "job", [page]).main
    assert '"Wear gloves."' in made and '"Stop."' in made and '"Ask: who?"' in made
