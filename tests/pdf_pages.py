"""Pages of papers as PDFium reads them: their words, and where these stand."""

from itertools import combinations

import pypdfium2

Box = tuple[float, float, float, float]
TOUCH_POINTS = 0.5
"""Boxes of texts that overlap by less only touch; points of 1/72 inch."""

KERNED_POINTS, KERNED_SHARE = 1.0, 0.25
"""Letters of one word are pulled together by so much at most, of the narrower one's width."""


def text_of(page: pypdfium2.PdfPage) -> str:
    """Return the words of a page in one line."""
    return " ".join(page.get_textpage().get_text_range().split())


def text_boxes(page: pypdfium2.PdfPage) -> list[Box]:
    """Return the boxes of its texts, in points."""
    text = page.get_textpage()
    return [text.get_rect(index) for index in range(text.count_rects())]


def assert_texts_apart(page: pypdfium2.PdfPage) -> int:
    """No text lies on another one or off the page; return how many there are."""
    width, height = page.get_size()
    boxes = text_boxes(page)
    for box in boxes:
        assert box[0] >= 0 and box[1] >= 0 and box[2] <= width and box[3] <= height, box
    for a, b in combinations(boxes, 2):
        across = min(a[2], b[2]) - max(a[0], b[0])
        upwards = min(a[3], b[3]) - max(a[1], b[1])
        kerned = min(KERNED_POINTS, KERNED_SHARE * min(a[2] - a[0], b[2] - b[0]))
        touch = across <= max(TOUCH_POINTS, kerned) or upwards <= TOUCH_POINTS
        assert touch, (a, b, text_of(page)[:80])
    return len(boxes)
