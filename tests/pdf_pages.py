"""Pages of papers as PDFium reads them: their words, and where these stand."""

import numpy as np
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
    if not boxes:
        return 0
    x0, y0, x1, y1 = np.array(boxes).T
    wide = x1 - x0
    across = np.minimum(x1[:, None], x1) - np.maximum(x0[:, None], x0)
    upwards = np.minimum(y1[:, None], y1) - np.maximum(y0[:, None], y0)
    kerned = np.minimum(KERNED_POINTS, KERNED_SHARE * np.minimum(wide[:, None], wide))
    meet = (across > np.maximum(TOUCH_POINTS, kerned)) & (upwards > TOUCH_POINTS)
    for one, other in zip(*np.nonzero(np.triu(meet, 1)), strict=True):
        raise AssertionError((boxes[one], boxes[other], text_of(page)[:80]))
    return len(boxes)
